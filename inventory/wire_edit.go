package inventory

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// WireEntry is a wire as somebody enters or edits it. Of an edited one, ID and
// Version are those that were looked at.
type WireEntry struct {
	Person     Code
	RequestKey string
	Wire       Wire
}

// EnterWire enters a new wire and keeps who did so. A field that makes no
// sense is [Invalid], all of them at once; a classification that cannot be
// read names the character at fault.
func (l *Ledger) EnterWire(ctx context.Context, e WireEntry) (Wire, error) {
	e.Wire.ID, e.Wire.Version = 0, 0
	return l.changeWire(ctx, wireDeed{person: e.Person, key: e.RequestKey, wish: wish(e.Wire), deed: WireEntered}, e.decide)
}

// ChangeWire writes a wire as it is now. The error is [Conflict] if it was
// changed since e.Wire.Version was looked at. What the engineer settled is
// unsettled where box or sheet say something else now, and what was confirmed
// on a box is to be confirmed again.
func (l *Ledger) ChangeWire(ctx context.Context, e WireEntry) (Wire, error) {
	if e.Wire.Version < 1 {
		return Wire{}, Invalidf("version", "say which version of the wire you looked at")
	}
	return l.changeWire(ctx, wireDeed{person: e.Person, key: e.RequestKey, wish: wish(e.Wire), deed: WireEdited, wire: e.Wire.ID, seen: e.Wire.Version}, e.decide)
}

func (e WireEntry) decide(tx Tx, by Person, before Wire, _ time.Time) (Wire, []string, error) {
	if !by.Role.MayEnterWires() {
		return before, nil, Forbiddenf("may-not-enter-wires", "%s is a %s: the welding engineer, the owner or the buyer enters wires", by.Name, by.Role)
	}
	after, err := e.Wire.ready()
	if err != nil {
		return before, nil, err
	}
	after.ID = before.ID
	if err := after.isNew(tx, before); err != nil {
		return before, nil, err
	}
	if err := mayTell(by, before, after); err != nil {
		return before, nil, err
	}
	after.Supplied = append(after.Supplied, before.standing(after)...)
	if err := after.shopNarrows(); err != nil {
		return before, nil, err
	}
	return after, differences(before, after), nil
}

// isNew checks that no other wire is the same in maker, name, size,
// classification and package as one that is entered, or edited into another:
// [Conflict] if there is one.
func (w Wire) isNew(r Reader, before Wire) error {
	if before.ID != 0 && slices.Equal(identities(before), identities(w)) && folded(before.Package) == folded(w.Package) {
		return nil
	}
	there, err := wiresThere(r)
	if err != nil {
		return err
	}
	if id, found := there.other(w); found {
		return Conflictf("already-there", "%s in this size, classification and package is there already, as wire %d: edit that one", w.TradeName, id)
	}
	return nil
}

// ready returns the wire as it is kept: classifications and facts in their one
// spelling, without what the program itself has put among the shop's facts.
func (w Wire) ready() (Wire, error) {
	faults := w.tidy()
	faults = append(faults, w.faults()...)
	var classes []string
	for _, typed := range w.Classifications {
		typed = strings.TrimSpace(typed)
		d, err := filler.Decode(typed)
		switch {
		case err != nil:
			faults = append(faults, FieldFault{"classifications", err.Error()})
		case slices.Contains(classes, d.String()):
			faults = append(faults, FieldFault{"classifications", d.String() + " stands twice"})
		default:
			classes = append(classes, d.String())
		}
	}
	w.Classifications = classes
	facts, err := canonical(without(w.Supplied, Decided))
	if e, ok := errors.AsType[*Error](err); ok {
		faults = append(faults, e.Fields...)
	}
	w.Supplied = facts
	if len(faults) > 0 {
		return w, &Error{Kind: Invalid, Code: "invalid-" + faults[0].Field, Detail: faults[0].Detail, Fields: faults}
	}
	return w, nil
}

// mostWireText is how long a name or mark of a wire may be, in characters.
const mostWireText = 120

// tidy trims what was typed and says what of it cannot be shown.
func (w *Wire) tidy() (faults []FieldFault) {
	for _, f := range [...]struct {
		name string
		text *string
	}{{"maker", &w.Maker}, {"trade_name", &w.TradeName}, {"marked", &w.Marked}, {"package", &w.Package}} {
		text, err := tidy(f.name, *f.text, mostWireText)
		if e, ok := errors.AsType[*Error](err); ok {
			faults = append(faults, e.Fields...)
			continue
		}
		*f.text = text
	}
	return faults
}

// faults is what is wrong with the wire's own fields.
func (w Wire) faults() (out []FieldFault) {
	fault := func(wrong bool, field, detail string) {
		if wrong {
			out = append(out, FieldFault{field, detail})
		}
	}
	fault(strings.TrimSpace(w.TradeName) == "", "trade_name", "give the name on the box")
	fault(len(w.Classifications) == 0, "classifications", "give at least one classification from the box, such as E71T-1C")
	fault(len(w.Classifications) > 8, "classifications", "a box bears no more than eight classifications")
	fault(w.Diameter <= 0, "diameter", "give the diameter with its unit, such as .045 in or 1.2 mm")
	fault(w.Net <= 0, "net", "give the net weight of a full package with its unit, such as 15 kg")
	fault(w.Tare < 0, "tare", "a weight is not below zero")
	fault(w.Minimum < 0, "minimum", "a weight is not below zero")
	return out
}

// mayTell checks that what the shop itself says of the wire is changed by the
// engineer or the owner alone: it outranks box and sheet.
func mayTell(by Person, before, after Wire) error {
	if by.Role.MayRelease() {
		return nil
	}
	own := func(w Wire) filler.Facts {
		return without(w.Supplied, func(f filler.Fact) bool { return f.Provenance != filler.Shop || Decided(f) })
	}
	if !slices.Equal(own(before), own(after)) {
		return Forbiddenf("may-not-tell", "%s is a %s: only the welding engineer or the owner changes what the shop itself says of a wire", by.Name, by.Role)
	}
	return nil
}

// How the source of a fact begins that the program has put among the shop's.
const (
	settledBy   = "settled by "
	confirmedOn = "confirmed on the box of lot "
)

// Decided reports whether f is a settlement or a confirmation: the program
// keeps it, and no form writes it.
func Decided(f filler.Fact) bool {
	return f.Provenance == filler.Shop && (strings.HasPrefix(f.Source, settledBy) || strings.HasPrefix(f.Source, confirmedOn))
}

// standing returns the settlements and confirmations of w that still hold once
// it has become after: box and sheet must say of the fact what they said.
func (w Wire) standing(after Wire) filler.Facts {
	return without(w.Supplied, func(f filler.Fact) bool {
		if !Decided(f) || !slices.Equal(w.Classifications, after.Classifications) {
			return true
		}
		was, is := sheetOn(w, f.Name), sheetOn(after, f.Name)
		return !slices.Equal(was, is)
	})
}

// sheetOn is what the data sheet says of one fact.
func sheetOn(w Wire, name string) filler.Facts {
	return without(w.holding().Named(name), func(f filler.Fact) bool { return f.Provenance != filler.DataSheet })
}

// shopNarrows checks that what the shop says, settlements apart, neither
// contradicts box and sheet nor settles their disagreement on the quiet.
func (w Wire) shopNarrows() error {
	conflicts, err := w.Conflicts()
	if err != nil {
		return err
	}
	silent := w
	silent.Supplied = without(w.Supplied, func(f filler.Fact) bool { return f.Provenance == filler.Shop && !Decided(f) })
	behind, err := silent.Conflicts()
	if err != nil {
		return err
	}
	for _, c := range append(conflicts, behind...) {
		if !slices.ContainsFunc(w.Supplied.Named(c.Fact), func(f filler.Fact) bool { return f.Provenance == filler.Shop && !Decided(f) }) {
			continue
		}
		if slices.ContainsFunc(behind, func(b fit.Conflict) bool { return b.Fact == c.Fact }) {
			return Invalidf("shop_"+c.Fact, "box and sheet disagree on %s. %s Leave this empty, save, and let the welding engineer settle it with a reason", spaced(c.Fact), c.Says)
		}
		return Invalidf("shop_"+c.Fact, "the shop may narrow what box and sheet say, not contradict it. %s", c.Says)
	}
	return nil
}

// spaced writes a fact's name as words.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
