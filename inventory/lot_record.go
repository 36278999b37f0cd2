package inventory

import (
	"context"
	"fmt"
	"time"

	"wirehold/inventory/fit"
)

// PapersChange is what somebody reads from a lot's certificate and box, all of
// it: what is left empty is not known.
type PapersChange struct {
	LotID       int64
	Person      Code
	RequestKey  string
	Version     int    // of the lot, as it was looked at
	Certificate string // its number
	Papers      LotPapers
	Note        string // why; needed where something on record is changed or taken away
}

// RecordPapers writes down what certificate and box say of a lot, and keeps who
// did so: a decision of the lot's chain that leaves its status as it is. A
// store attendant, the welding engineer or the owner may. It is a [Conflict] if
// somebody changed the lot since it was looked at.
func (l *Ledger) RecordPapers(ctx context.Context, c PapersChange) (lot Lot, err error) {
	if c, err = c.tidied(); err != nil {
		return Lot{}, err
	}
	d := lotDeed{lot: c.LotID, person: c.Person, key: c.RequestKey, wish: wish("papers", c.LotID, c.Version, c.Certificate, fmt.Sprintf("%q", c.Papers), c.Note)}
	return l.decideLot(ctx, d, func(tx Tx, lot Lot, now time.Time) (*LotDecision, error) {
		if err := may(tx, c.Person, Received); err != nil {
			return nil, err
		}
		if err := c.check(lot, now); err != nil || c.Certificate == lot.Certificate && c.Papers == lot.Papers {
			return nil, err
		}
		return &LotDecision{Status: lot.Status, Reason: lot.Reason, Certificate: c.Certificate, Papers: c.Papers, Note: c.Note}, nil
	})
}

func (c PapersChange) tidied() (PapersChange, error) {
	var err error
	if c.Certificate, err = tidy("certificate", c.Certificate, longestCertificate); err != nil {
		return c, err
	}
	if c.Note, err = tidy("note", c.Note, longestReason); err != nil {
		return c, err
	}
	if c.Version < 1 {
		return c, Invalidf("version", "say which version of the lot you looked at")
	}
	if faults := tidyAll(map[string]*string{"papers_melted_in": &c.Papers.Melted, "papers_made_in": &c.Papers.Made}); len(faults) > 0 {
		return c, faultsError(faults)
	}
	return c, Entry{Spool: "W", Person: c.Person, RequestKey: c.RequestKey}.check()
}

// check says whether the papers can be the lot's.
func (c *PapersChange) check(lot Lot, now time.Time) error {
	if c.Version != lot.Version {
		return Conflictf("lot-changed", "lot %s was changed after you opened it: look at it again, then enter what its papers say", lot.Number)
	}
	faults := c.Papers.faults(c.Certificate, lot.ReceivedAt, now)
	if c.Certificate == "" && lot.Certificate != "" && lot.Status == fit.LotAccepted {
		faults = append(faults, FieldFault{"certificate", "an accepted lot has a certificate: put the lot on hold first, or give the right number"})
	}
	if c.Note == "" && c.corrects(lot) {
		faults = append(faults, FieldFault{"note", "something on record is changed or taken away: say why"})
	}
	return faultsError(faults)
}

// corrects reports whether something on record is changed or taken away.
func (c *PapersChange) corrects(lot Lot) bool {
	for _, d := range append(lot.Papers.differences(c.Papers), differ(Difference{"certificate", lot.Certificate, c.Certificate})...) {
		if d.Before != "" {
			return true
		}
	}
	return false
}

// LotReader looks up what was decided about a lot.
type LotReader interface {
	// LotHistory returns up to limit decisions about the lot, the latest first.
	LotHistory(lot int64, limit int) ([]LotDecision, error)
	// LotsInStock returns every lot of which there is wire in stock or out, and
	// that is not rejected, by id.
	LotsInStock() ([]LotLine, error)
}

// The deeds of a lot's history.
const (
	LotReceived    RecordDeed = "received"
	PapersRecorded RecordDeed = "papers recorded"
)

// LotChanges tells the decisions about a lot, the latest first, as the lines of
// its history: what each changed. lot is the lot as it is now.
func LotChanges(lot Lot, decisions []LotDecision) []RecordChange {
	out := make([]RecordChange, len(decisions))
	for i, d := range decisions {
		var before LotDecision // of the first one nothing
		if i+1 < len(decisions) {
			before = decisions[i+1]
		}
		out[i] = RecordChange{Deed: d.deed(before, lot.Version-i),
			Change: Change{Version: lot.Version - i, Person: d.Person, PersonName: d.PersonName, At: d.DecidedAt, RequestKey: d.RequestKey, What: d.what(before)}}
	}
	return out
}

func (d LotDecision) deed(before LotDecision, version int) RecordDeed {
	switch {
	case version == 1:
		return LotReceived
	case d.Status != before.Status:
		return RecordDeed(d.Status)
	case d.Certificate != before.Certificate || d.Papers != before.Papers:
		return PapersRecorded
	}
	return RecordDeed(d.Status)
}

func (d LotDecision) what(before LotDecision) (out []string) {
	if d.Reason != "" && (d.Status != before.Status || d.Reason != before.Reason) {
		out = append(out, "reason: "+d.Reason)
	}
	out = append(out, toldDifferences(append(differ(Difference{"status", string(before.Status), string(d.Status)}, Difference{"certificate", before.Certificate, d.Certificate}),
		before.Papers.differences(d.Papers)...))...)
	if d.Note != "" {
		out = append(out, "why: "+d.Note)
	}
	return out
}
