// Package fit compares what a job demands of a wire with what one spool
// offers, rule by rule, and says why in words a welder uses.
//
// It is pure: the same input gives the same verdict. An unknown fact never
// satisfies a demand; a fact from memory that matches is a caution and one
// that does not match stops; common practice is never evidence. The result is
// an aid: local codes, the contract and qualified people decide.
package fit
