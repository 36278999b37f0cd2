// Package labels says what a label reads and how it is drawn.
//
// A label is laid out once, for one printer resolution, into a sheet: a list
// of texts, filled bars, frames and symbols, every corner of which lies on a
// whole printer dot. The painters (PDF, PNG) know texts and filled bars and
// nothing else, so that both draw the same label.
//
// Black on white only. What must be read at arm's length is largest: polarity,
// gas and pass limit, then classification and diameter, then lot and dates,
// then the code. A text shrinks until it fits; at its smallest it wraps; after
// that optional lines are left off in a declared order, and the label says
// which. What may not be left off is refused with a [*FieldError].
//
// Code 128 is ISO/IEC 15417 with a quiet zone of 10X, QR is ISO/IEC 18004 with
// a quiet zone of 4 modules (print_rule rows of testdata/barcodes.csv and, for
// the two zones, memory of those standards). The module of a symbol is a whole
// number of printer dots.
package labels
