// Package labels says what a label reads and how it is drawn.
//
// A [Label] says what is printed, largest first, and what may be left off; the
// kinds of label, such as [Spool], [Slip] and what [Shop] finds in the ledger,
// make one. It is laid out for a [Size] and one printer resolution into a
// sheet: a list of texts, filled bars, frames, hatching and symbols, every
// corner of which lies on a whole printer dot. The painters (PDF, PNG, SVG)
// know no more than that, so that all draw the same label. [Press] draws.
//
// Black on white only. What must be read at arm's length is largest: polarity,
// gas and pass limit, then classification and diameter, then lot and dates,
// then the code. A text shrinks until it fits; at its smallest it wraps; after
// that what may go is left off in a declared order, and the label says so.
// What may not be left off is refused with a [*FieldError] that says which
// stock would do.
//
// Code 128 is ISO/IEC 15417 with a quiet zone of 10X, QR is ISO/IEC 18004 with
// a quiet zone of 4 modules, Data Matrix is ISO/IEC 16022 with one of 2
// (print_rule rows of testdata/barcodes.csv and, for the first two zones,
// memory of those standards). The module of a symbol is a whole number of
// printer dots.
package labels
