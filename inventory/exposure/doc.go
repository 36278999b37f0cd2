// Package exposure reckons how long a spool was open outside dry-kept
// conditions, exact to the second, and when that reaches a limit. It is pure:
// it is handed what happened to the spool, when each place was dry, and the
// instant.
//
// The clock runs from the opening of the sealed package while the spool is not
// in a dry-kept place whose air is inside its limits (AWS D1.8 cl. 6 counts
// from the removal from the protective package, and neither in it nor in a
// closed cabinet: testdata/exposure_rules.csv E006 and E007, from memory). Out
// of the store it runs wherever the spool is. A drying stops it, and takes off
// what the rule says (E008). A package that is found damaged while it is sealed
// leaves the exposure unknown, not zero, until the wire is dried (E009).
//
// Whether a place was dry-kept is taken from the history of the place, not from
// the day of the movement: a cabinet that the shop no longer calls dry-kept
// stops protecting what lies in it from then on, and what it did before stands.
package exposure
