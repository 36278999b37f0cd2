// Package inventory is what Wirehold knows of a wire store: wires, lots,
// spools, places, feeders, procedures, jobs and people, and what may happen to
// a spool.
//
// Every change to a spool is a [Movement] appended to one ledger. [Step] alone
// decides what may follow what; a spool's row is the sum of its movements,
// kept for speed, and [Ledger.Verify] replays them to prove it. The use cases
// of [Ledger] each run in one transaction: read, decide with pure functions,
// append.
//
// The package knows no HTTP, SQL, JSON, clock or environment: it is handed a
// [Store] and the time.
package inventory
