package inventory

import (
	"cmp"
	"slices"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// JobUse is the wire of one spool that went into one job, as the ledger says of
// the times that the spool was out for it and came back, or was scrapped there.
type JobUse struct {
	Job      Code
	Spool    Code
	WireID   int64
	Used     unit.Grams // lighter by this than it went out
	Laid     bool       // it was lighter, or on a feeder, or nobody weighed it before it was scrapped
	Scrapped unit.Grams // wire on it when it was scrapped while out; nobody weighed it
}

// JobWire is one wire of the spools that went out for a job.
type JobWire struct {
	WireID   int64
	Spool    Code       // one of those that were laid; empty if none was
	Used     unit.Grams // by weight, of what came back
	Out      fit.Away   // still out
	Scrapped fit.Away
}

// JobUseReader looks up what went into a job.
type JobUseReader interface {
	// JobWires returns the wires of the spools that are out or were used for a
	// job, but for one spool, in order of their ids.
	JobWires(job, but Code) ([]JobWire, error)
	// WiresOf returns the wires with the ids, with all that data sheet and shop
	// say of them, in order of their ids.
	WiresOf(ids []int64) ([]Wire, error)
	// LotWires returns the wire of each of the lots, by the lot's id.
	LotWires(lots []int64) (map[int64]int64, error)
	// JobUses returns what the spools with a code after the one given and up to
	// the last were used for, by code and job.
	JobUses(after, last Code) ([]JobUse, error)
}

// JobUseTx keeps what went into jobs.
type JobUseTx interface {
	// AddJobUse adds to what is kept of a spool's use for a job; the wire is
	// that of its lot.
	AddJobUse(JobUse) error
	// KeepJobUses writes all that the spool was used for, in place of what was
	// kept of it.
	KeepJobUses(spool Code, uses []JobUse) error
}

// outing is one time that a spool was out.
type outing struct {
	job            Code
	weighed, ended int64      // the movements whose weights it went out and came back with
	from, to       unit.Grams // wire on it then
	loaded         bool
	scrapped       bool // and nobody weighed it
}

func (o outing) used() unit.Grams { return max(0, o.from-o.to) }

// outings are all the times that one spool was out, read from its movements in
// order. A correction of the weight that it went out or came back with sets
// that weight right.
type outings struct {
	open    outing
	closed  []outing
	weighed int64           // the last movement with a weight
	root    map[int64]int64 // what a correction sets right in the end
}

// add takes in a movement and the spool before and after it.
func (o *outings) add(before Spool, m Movement, after Spool) {
	switch {
	case m.Type == Corrected:
		o.correct(m)
		return
	case before.Out() && !after.Out():
		o.open.to, o.open.ended = after.Net, m.Seq
		o.open.scrapped = m.Type == Scrapped && m.Net == nil
		o.closed = append(o.closed, o.open)
		o.open = outing{}
	case m.Type == Loaded:
		o.open.loaded = true
	}
	if m.Net != nil {
		o.weighed = m.Seq
	}
	if m.Type == Issued {
		o.open = outing{job: m.Job, weighed: o.weighed, from: after.Net}
	}
}

func (o *outings) correct(m Movement) {
	right := m.Corrects
	if first, ok := o.root[right]; ok {
		right = first
	}
	if o.root == nil {
		o.root = map[int64]int64{}
	}
	o.root[m.Seq] = right
	if m.Net == nil {
		return
	}
	if o.open.job != "" && o.open.weighed == right {
		o.open.from = *m.Net
	}
	for i := range o.closed {
		c := &o.closed[i]
		if c.weighed == right {
			c.from = *m.Net
		}
		if c.ended == right {
			c.to, c.scrapped = *m.Net, false
		}
	}
}

// uses adds the outings up, one a job, in order of the jobs' codes.
func (o *outings) uses(spool Code, wireID int64) (out []JobUse) {
	for _, c := range o.closed {
		if c.used() == 0 && !c.loaded && !c.scrapped {
			continue
		}
		i, known := slices.BinarySearchFunc(out, c.job, func(u JobUse, job Code) int { return cmp.Compare(u.Job, job) })
		if !known {
			out = slices.Insert(out, i, JobUse{Job: c.job, Spool: spool, WireID: wireID, Laid: true})
		}
		out[i].Used += c.used()
		if c.scrapped {
			out[i].Scrapped += c.to
		}
	}
	return out
}

// keepJobUses brings what is kept of the spool's uses up to date with its
// movements, after those that may have changed them. The usual return of a
// spool that was not touched since it was issued needs no history.
func keepJobUses(tx Tx, before, s Spool, movements []Movement) error {
	corrected := slices.ContainsFunc(movements, func(m Movement) bool { return m.Type == Corrected && m.Net != nil })
	ended := before.Out() && !s.Out()
	switch used := before.Net - s.Net; {
	case !corrected && !ended:
		return nil
	case before.Touched || movements[0].Type != Returned:
	case used > 0:
		return tx.AddJobUse(JobUse{Job: before.Job, Spool: s.Code, Used: used, Laid: true})
	default:
		return nil
	}
	history, err := tx.History(s.Code)
	if err != nil {
		return err
	}
	lot, err := tx.Lot(s.LotID)
	if err != nil {
		return err
	}
	uses := UsesOf(s.Code, lot.WireID, history)
	if len(uses) == 0 && !corrected {
		return nil
	}
	return tx.KeepJobUses(s.Code, uses)
}

// UsesOf returns what a spool of the wire was used for, one a job, in order of
// the jobs' codes, as its movements say from the first on. It is pure.
func UsesOf(spool Code, wireID int64, history []Movement) []JobUse {
	var o outings
	var at Spool
	for _, m := range history {
		next, err := Step(at, m)
		if err != nil {
			continue // verify tells of it
		}
		o.add(at, m, next)
		at = next
	}
	return o.uses(spool, wireID)
}
