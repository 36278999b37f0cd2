// Package unit holds the quantities Wirehold reckons with: weight, length,
// wind, stress, energy and temperature, each a type of its own.
//
// Every type has a Parse function that insists on a unit and a String method
// that Parse reads back to the same value. Quantities whose equality matters
// are whole numbers of a small unit, so that no two spellings of one size
// differ by a rounding. The ratios are exact by definition
// (testdata/units.csv: in, ft, lb, lbf, mile; NIST SP 811 Appendix B).
package unit
