package inventory

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/filler"
)

// WireChange is one line of a wire's history.
type WireChange struct {
	ID     int64
	WireID int64
	Deed   WireDeed
	Change
}

// WireDeed is what was done to a wire.
type WireDeed string

// The deeds.
const (
	WireEntered   WireDeed = "entered"
	WireEdited    WireDeed = "edited"
	WireSettled   WireDeed = "settled"
	WireConfirmed WireDeed = "confirmed"
	SheetAttached WireDeed = "sheet attached"

	ProductLinked   WireDeed = "product linked"
	ProductUnlinked WireDeed = "product unlinked"
)

// WireReader looks up what is kept of wires besides themselves.
type WireReader interface {
	// WireChanges returns up to limit changes of a wire, the latest first.
	WireChanges(wire int64, limit int) ([]WireChange, error)
	// Sheets returns the data sheets attached to a wire, the latest first,
	// without their content.
	Sheets(wire int64) ([]Sheet, error)
	// Sheet returns an attached sheet with its content.
	Sheet(id int64) (Sheet, []byte, error)
}

// WireTx changes wires.
type WireTx interface {
	// WireRequested returns the change made by the request key; [NotFound] if
	// it is new.
	WireRequested(key string) (WireChange, error)
	// UpdateWire writes the wire with its facts at w.Version, which is one more
	// than it has; [Conflict] if it has another.
	UpdateWire(w Wire) error
	AddWireChange(WireChange) error
	AddSheet(Sheet, []byte) (id int64, err error)
}

// MayEnterWires reports whether a person in this role may enter and edit
// wires.
func (r Role) MayEnterWires() bool { return r == Engineer || r == Owner || r == Buyer }

// wireDeed is one change of a wire under way.
type wireDeed struct {
	person Code
	key    string // the same for each repetition of one request
	wish   string // the digest of what is asked for
	deed   WireDeed
	wire   int64 // zero where it is entered
	seen   int   // the version that was looked at; zero takes whichever there is
}

// decideWire returns the wire as it shall be, and what changes; nothing
// changes if what is empty. It reads through tx and writes nothing but what
// hangs on the wire.
type decideWire func(tx Tx, by Person, before Wire, at time.Time) (after Wire, what []string, err error)

// changeWire is the one way in which a wire changes after it was entered: in
// one transaction it looks the request key up, reads the wire, holds it against
// the version that was seen, decides, and keeps who changed what.
func (l *Ledger) changeWire(ctx context.Context, d wireDeed, decide decideWire) (Wire, error) {
	if err := (Entry{Spool: "W", Person: d.person, RequestKey: d.key}).check(); err != nil {
		return Wire{}, err
	}
	now := l.at()
	var after Wire
	err := l.store.Write(ctx, func(tx Tx) error {
		done, err := tx.WireRequested(d.key)
		if err == nil {
			after, err = d.again(tx, done)
			return err
		}
		if KindOf(err) != NotFound {
			return err
		}
		by, err := badge(tx, d.person)
		if err != nil {
			return err
		}
		before, err := d.before(tx)
		if err != nil {
			return err
		}
		after, err = d.write(tx, by, before, now, decide)
		return err
	})
	return after, err
}

// again returns the wire of a request that was sent twice.
func (d wireDeed) again(tx Tx, done WireChange) (Wire, error) {
	if d.deed != done.Deed || d.wish != done.Request {
		return Wire{}, Conflictf("request-key-used", "request key %q was used already, for something else (wire %d was %s): look at the wire, and use a new key", done.RequestKey, done.WireID, done.Deed)
	}
	return tx.Wire(done.WireID)
}

// before reads the wire, if there is one yet, at the version that was seen.
func (d wireDeed) before(tx Tx) (Wire, error) {
	if d.deed == WireEntered {
		return Wire{}, nil
	}
	w, err := tx.Wire(d.wire)
	if err != nil || d.seen == 0 || d.seen == w.Version {
		return w, err
	}
	last, err := tx.WireChanges(w.ID, 1)
	if err != nil {
		return w, err
	}
	who := "somebody"
	if len(last) > 0 {
		who = last[0].PersonName + " at " + last[0].At.Format("2006-01-02 15:04 UTC")
	}
	return w, Conflictf("wire-changed", "%s was changed by %s, after you opened it: look at it again, then make your change", w.TradeName, who)
}

// write decides, and keeps the wire and the line of its history.
func (d wireDeed) write(tx Tx, by Person, before Wire, at time.Time, decide decideWire) (Wire, error) {
	after, what, err := decide(tx, by, before, at)
	if err != nil || len(what) == 0 {
		return before, err
	}
	after.Version = before.Version + 1
	if before.ID == 0 {
		if after.ID, err = tx.AddWire(after); err != nil {
			return after, err
		}
	} else if err := tx.UpdateWire(after); err != nil {
		return after, err
	}
	return after, tx.AddWireChange(WireChange{WireID: after.ID, Deed: d.deed,
		Change: Change{Version: after.Version, Person: by.Code, At: at, RequestKey: d.key, Request: d.wish, What: what}})
}

// differences says what changes from before to after, a line each.
func differences(before, after Wire) (out []string) {
	for _, f := range []struct{ label, before, after string }{
		{"maker", before.Maker, after.Maker},
		{"trade name", before.TradeName, after.TradeName},
		{"classifications", strings.Join(before.Classifications, ", "), strings.Join(after.Classifications, ", ")},
		{"diameter", before.Diameter.String(), after.Diameter.String()},
		{"marked", before.Marked, after.Marked},
		{"package", before.Package, after.Package},
		{"net weight", before.Net.String(), after.Net.String()},
		{"empty spool", before.Tare.String(), after.Tare.String()},
		{"shop's minimum", before.Minimum.String(), after.Minimum.String()},
	} {
		if f.before != f.after {
			out = append(out, fmt.Sprintf("%s: %s, before %s", f.label, orNothing(f.after), orNothing(f.before)))
		}
	}
	for _, f := range wireFacts() {
		for _, p := range [...]filler.Provenance{filler.DataSheet, filler.Shop} {
			was, is := told(f, before, p), told(f, after, p)
			if was != is {
				out = append(out, fmt.Sprintf("%s by %s: %s, before %s", strings.ToLower(f.Label), p, orNothing(is), orNothing(was)))
			}
		}
	}
	return out
}

// told is what the sheet or the shop says of one fact, with its source.
func told(f SheetFact, w Wire, p filler.Provenance) string {
	var out []string
	for _, fact := range w.Supplied.Named(f.Name) {
		if fact.Provenance == p {
			out = append(out, f.Text(filler.Facts{fact})+" ("+fact.Source+")")
		}
	}
	return strings.Join(out, "; ")
}

func orNothing(text string) string {
	if text == "" || text == "0 kg" || text == "0 mm" {
		return "nothing"
	}
	return text
}

// without returns the facts that leave does not choose.
func without(facts filler.Facts, leave func(filler.Fact) bool) filler.Facts {
	return slices.DeleteFunc(slices.Clone(facts), leave)
}
