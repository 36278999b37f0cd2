package labels

import (
	"fmt"
	"strings"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// Catalog is what labels are looked up in. A thing that is not there is
// [inventory.NotFound].
type Catalog interface {
	Spool(inventory.Code) (inventory.Spool, error)
	Spools(inventory.Query) ([]inventory.SpoolLine, error)
	// History returns the spool's movements, oldest first.
	History(inventory.Code) ([]inventory.Movement, error)
	Lot(id int64) (inventory.Lot, error)
	Wire(id int64) (inventory.Wire, error)
	Place(inventory.Code) (inventory.Place, error)
	Feeder(inventory.Code) (inventory.Feeder, error)
	Person(inventory.Code) (inventory.Person, error)
	Job(inventory.Code) (inventory.Job, error)
	// ProceduresWith returns the revisions with the ids, in their order.
	ProceduresWith(ids []int64) ([]inventory.Procedure, error)
}

// KindsOf lists the kinds of label that there are for what a code of the kind
// names, the usual one first.
func KindsOf(k inventory.CodeKind) []Kind {
	switch k {
	case inventory.SpoolCode:
		return []Kind{KindSpool, KindHub, KindHold, KindSlip}
	case inventory.PlaceCode:
		return []Kind{KindPlace}
	case inventory.FeederCode:
		return []Kind{KindFeeder}
	case inventory.JobCode:
		return []Kind{KindJob}
	case inventory.PersonCode:
		return []Kind{KindBadge}
	}
	return nil
}

// ParseKind reads the kind of a label for what a code of kind k names; empty is
// the usual one. The error is a [*FieldError].
func ParseKind(k inventory.CodeKind, text string) (Kind, error) {
	return parseKind(KindsOf(k), k.String(), text)
}

func parseKind(kinds []Kind, thing, text string) (Kind, error) {
	if text == "" && len(kinds) > 0 {
		return kinds[0], nil
	}
	var names []string
	for _, kind := range kinds {
		if string(kind) == text {
			return kind, nil
		}
		names = append(names, string(kind))
	}
	return "", &FieldError{"kind", fmt.Sprintf("a %s has no label of the kind %q: it has %s", thing, text, strings.Join(names, ", "))}
}

// LotKinds lists the kinds of label that there are for a lot: those of each of
// its spools, and the lot's own.
func LotKinds() []Kind { return []Kind{KindSpool, KindHub, KindLot} }

// ParseLotKind reads the kind of the labels of a lot; empty is the usual one.
// The error is a [*FieldError].
func ParseLotKind(text string) (Kind, error) { return parseKind(LotKinds(), "lot", text) }

// Of returns the label of a kind of what the code names. A hold tag of a spool
// that is not on hold, and a slip of one that was never issued, are
// [inventory.Refused].
func (s Shop) Of(cat Catalog, kind Kind, code inventory.Code) (Label, error) {
	switch code.Kind() {
	case inventory.PlaceCode:
		p, err := cat.Place(code)
		return s.Place(p), err
	case inventory.FeederCode:
		f, err := cat.Feeder(code)
		return s.Feeder(f), err
	case inventory.PersonCode:
		p, err := cat.Person(code)
		return s.Badge(p), err
	case inventory.JobCode:
		j, err := cat.Job(code)
		if err != nil {
			return Label{}, err
		}
		ps, err := cat.ProceduresWith(j.Procedures)
		return s.Job(j, ps...), err
	}
	spool, err := cat.Spool(code)
	if err != nil {
		return Label{}, err
	}
	lot, err := cat.Lot(spool.LotID)
	if err != nil {
		return Label{}, err
	}
	wire, err := cat.Wire(lot.WireID)
	if err != nil {
		return Label{}, err
	}
	return s.ofSpool(cat, kind, spool, lot, wire)
}

func (s Shop) ofSpool(cat Catalog, kind Kind, spool inventory.Spool, lot inventory.Lot, wire inventory.Wire) (Label, error) {
	l, err := s.Spool(spool, lot, wire)
	if err != nil {
		return Label{}, err
	}
	switch kind {
	case KindHub:
		return l.HubLabel()
	case KindHold:
		return s.hold(cat, l, spool, lot)
	case KindSlip:
		return s.slip(cat, l, spool)
	}
	return l.Label()
}

// hold is the tag of a spool that is on hold, or whose lot is.
func (s Shop) hold(cat Catalog, l Spool, spool inventory.Spool, lot inventory.Lot) (Label, error) {
	if spool.Held == "" {
		if lot.Status == "accepted" {
			return Label{}, inventory.Refusedf("not-on-hold", "neither spool %s nor its lot is on hold: put it on hold first, then print the tag", spool.Code)
		}
		return l.Hold("lot "+lot.Number+" is "+string(lot.Status)+": "+lot.Reason, "")
	}
	history, err := cat.History(spool.Code)
	if err != nil {
		return Label{}, err
	}
	since := ""
	for _, m := range history {
		if m.Type == inventory.Held {
			since = s.stamp(m.EffectiveAt)
		}
	}
	return l.Hold(spool.Held, since)
}

// OfLot returns the labels of a kind for each spool of the lot that is not
// scrapped; or, for [KindLot], the one label of the lot.
func (s Shop) OfLot(cat Catalog, kind Kind, id int64) ([]Label, error) {
	lot, err := cat.Lot(id)
	if err != nil {
		return nil, err
	}
	wire, err := cat.Wire(lot.WireID)
	if err != nil {
		return nil, err
	}
	spools, err := spoolsOf(cat, lot)
	if err != nil {
		return nil, err
	}
	if kind == KindLot {
		var net unit.Grams
		for _, spool := range spools {
			net += spool.Net
		}
		l, err := s.Lot(lot, wire, len(spools), net)
		return []Label{l}, err
	}
	out := make([]Label, 0, len(spools))
	for _, spool := range spools {
		l, err := s.ofSpool(cat, kind, spool, lot, wire)
		if err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}

// mostLines is how many spools are read at a time.
const mostLines = 200

// spoolsOf returns the spools of a lot that are not scrapped. One receipt has at
// most 500 packages, so that this reads three pages of them at most.
func spoolsOf(cat Catalog, lot inventory.Lot) ([]inventory.Spool, error) {
	var out []inventory.Spool
	for after := 0; ; after += mostLines {
		lines, err := cat.Spools(inventory.Query{Lot: lot.ID, Limit: mostLines, After: after})
		if err != nil {
			return nil, err
		}
		for _, line := range lines {
			if !line.Scrapped {
				out = append(out, line.Spool)
			}
		}
		if len(lines) < mostLines {
			break
		}
	}
	if len(out) == 0 {
		return nil, inventory.NotFoundf("no-such-label", "lot %s has no spool that needs a label", lot.Number)
	}
	return out, nil
}

// slip is the slip of the spool's last issue, with the numbers that the counter
// showed.
func (s Shop) slip(cat Catalog, l Spool, spool inventory.Spool) (Label, error) {
	history, err := cat.History(spool.Code)
	if err != nil {
		return Label{}, err
	}
	issue, net := lastIssue(history)
	if issue == nil {
		return Label{}, inventory.Refusedf("never-issued", "spool %s was never issued: there is no slip of it", spool.Code)
	}
	slip := Slip{Spool: l, Net: net, Package: "sealed: the clock has not started", Verdict: issue.Verdict, Checked: issue.Checked}
	job, err := cat.Job(issue.Job)
	if err != nil {
		return Label{}, err
	}
	taker, err := cat.Person(issue.Holder)
	if err != nil {
		return Label{}, err
	}
	by, err := cat.Person(issue.Person)
	if err != nil {
		return Label{}, err
	}
	if spool.Opened() {
		slip.Package = "open since " + s.stamp(spool.OpenedAt)
	}
	slip.Job, slip.Taker = job.Number, taker.Name
	slip.Entered = s.stamp(issue.EnteredAt) + " by " + by.Name
	if issue.Waiver != "" {
		slip.Waivers = strings.Split(issue.Waiver, "\n")
	}
	return slip.Label()
}

// lastIssue returns the last issue in the history, and the wire that was on the
// spool then; nil if there was none.
func lastIssue(history []inventory.Movement) (issue *inventory.Movement, net unit.Grams) {
	var left unit.Grams
	for i, m := range history {
		if m.Net != nil {
			left = *m.Net
		}
		if m.Type == inventory.Issued {
			issue, net = &history[i], left
		}
	}
	return issue, net
}
