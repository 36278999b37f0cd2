package inventory

import (
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Query asks for one page of a list. Lists are never without a limit.
type Query struct {
	Text      string // what every line must contain, in any of its words; empty is all
	State     string // of spools: a [SpoolState]; of lots: a status; empty is any
	Wire      int64  // of lots and spools: of this wire; zero is any
	Lot       int64  // of spools: of this lot; zero is any
	Job       Code   // of spools: out on this job; empty is any
	Procedure int64  // of jobs: welded to this revision; zero is any
	Limit     int    // lines on a page, 1 to 200; zero is 50
	After     int    // lines to leave out

	// Meaning is what was understood of Text, of wires, spools and lots: the
	// wire is then of a sort and size named, or has the words as they were
	// typed. Nil takes Text as words.
	Meaning *Meaning
}

const usualLines, mostLines = 50, 200

// Lines returns the limit that holds for q.
func (q Query) Lines() int {
	switch {
	case q.Limit <= 0:
		return usualLines
	case q.Limit > mostLines:
		return mostLines
	}
	return q.Limit
}

// CheckSpools returns [Invalid] where q asks for spools in a state that there
// is not.
func (q Query) CheckSpools() error {
	switch SpoolState(q.State) {
	case "", StateScrapped, StateHeld, StateIssued, StateOpen, StateSealed:
		return nil
	}
	return Invalidf("state", "a spool is sealed, open, issued, on hold or scrapped, not %q", clip(q.State))
}

// CheckLots returns [Invalid] where q asks for lots in a state that there is
// not.
func (q Query) CheckLots() error {
	switch fit.LotStatus(q.State) {
	case "", fit.LotAccepted, fit.LotOnHold, fit.LotRejected:
		return nil
	}
	return Invalidf("state", "a lot is accepted, on hold or rejected, not %q", clip(q.State))
}

// SpoolLine is a spool with the names that a list shows.
type SpoolLine struct {
	Spool
	LotNumber  string
	LotTested  string // what the lot's own exposure test found; see [LotPapers]
	WireID     int64
	TradeName  string
	Class      string // its wire's classifications, joined
	Diameter   unit.Length
	PlaceName  string
	JobNumber  string // empty in the store
	ProfileID  string // of the job; empty in the store
	HolderName string // empty in the store
	Disputed   bool   // box and sheet of its wire disagree: none is issued
}

// WireLine is a wire with what is in stock of it.
type WireLine struct {
	Wire
	Spools int        // not scrapped
	Usable unit.Grams // in the store, neither held nor of a lot on hold; none while box and sheet disagree
	Out    unit.Grams // issued

	Disagree []fit.Conflict // on what box and sheet disagree
	Waits    unit.Grams     // what would be usable if they agreed; zero if they do
}

// LotLine is a lot with its wire and how much of it is left.
type LotLine struct {
	Lot
	TradeName string
	Class     string
	Spools    int // not scrapped
	Net       unit.Grams
}

// JobLine is a job with its procedure and what is out on it.
type JobLine struct {
	Job
	ProcedureName string // of each procedure, in order: "WPS-11 rev C, WPS-13 rev A"
	Out           int    // spools out on it
}

// ProcedureLine is a revision with how many open jobs are welded to it.
type ProcedureLine struct {
	Procedure
	Jobs int
}

// The states of a procedure's revision that a [Query] may ask for.
const (
	ProcedureGood    = "good"
	ProcedureRetired = "retired"
)

// CheckProcedures returns [Invalid] where q asks for revisions in a state that
// there is not.
func (q Query) CheckProcedures() error {
	switch q.State {
	case "", ProcedureGood, ProcedureRetired:
		return nil
	}
	return Invalidf("state", "a revision is good or retired, not %q", clip(q.State))
}

// Setup is what a store needs before the first spool can go out.
type Setup struct{ Person, Place, Wire, Procedure, Job, Spool bool }

// Done reports whether everything is there.
func (s Setup) Done() bool { return s == Setup{true, true, true, true, true, true} }

// StockLine is what is usable in stock of one wire that has a minimum.
type StockLine struct {
	WireID    int64
	TradeName string
	Class     string // its classifications, joined
	Diameter  unit.Length
	Minimum   unit.Grams
	Usable    unit.Grams // none while box and sheet disagree
	Waits     unit.Grams // what would be usable if they agreed; zero if they do
}
