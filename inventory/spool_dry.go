package inventory

import (
	"context"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

// Dry is a drying, entered when it is over.
type Dry struct {
	Entry     // At is when the spool came out of the oven
	From      time.Time
	Oven      Code
	Heat      unit.Celsius  // that the oven held
	Held      time.Duration // how long it held that
	Place     Code          // where the spool was put then; empty leaves it in the oven
	Material  SpoolMaterial // as whoever dried it saw; may be empty where [Wire.SpoolMaterial] knows it
	Confirmed string        // who says that it may be dried, where the rule leaves it open
}

// Dry enters a drying and sets the exposure back to zero. It is [Refused] with
// the rule and its source where the wire is not to be dried, or not so: on a
// spool of plastic or fibre, too often, too hot, too cool or too short.
func (l *Ledger) Dry(ctx context.Context, d Dry) (Spool, error) {
	var err error
	if d.Confirmed, err = tidy("confirmed", d.Confirmed, longestReason); err != nil {
		return Spool{}, err
	}
	d.From = d.From.UTC().Truncate(time.Second)
	wish := wish(Dried, d.Spool, d.At, d.From, d.Oven, int64(d.Heat), int64(d.Held), d.Place, d.Material, d.Confirmed)
	return l.move(ctx, d.Entry, Dried, wish, func(tx Tx, s Spool, now time.Time) ([]Movement, error) {
		how, says, err := l.drying(tx, s, d, s.Track, now)
		if err != nil {
			return nil, err
		}
		to := d.Place
		if to == "" {
			to = d.Oven
		}
		if err := standsIn(tx, to); err != nil {
			return nil, err
		}
		return []Movement{{Type: Dried, To: to, Drying: &how, Reason: says}}, nil
	})
}

// drying holds d against the rule of the wire and returns it as it is kept,
// with what was said of it. track is the spool's without this drying.
func (l *Ledger) drying(tx Tx, s Spool, d Dry, track exposure.Track, now time.Time) (how Drying, says string, err error) {
	how = Drying{From: d.From, Until: d.when(now), Oven: d.Oven, At: d.Heat, Held: d.Held, Takes: exposure.All}
	if d.Oven == "" {
		return how, "", Invalidf("oven", "say in which oven it was dried")
	}
	if err := how.sound(); err != nil {
		return how, "", err
	}
	if _, err := tx.Place(d.Oven); err != nil {
		return how, "", err
	}
	lot, err := tx.Lot(s.LotID)
	if err != nil {
		return how, "", err
	}
	w, err := tx.Wire(lot.WireID)
	if err != nil {
		return how, "", err
	}
	if says, err = d.bears(w); err != nil {
		return how, "", err
	}
	if d.Confirmed != "" {
		says += "; confirmed: " + d.Confirmed
	}
	rule, err := w.dryingRule()
	if err != nil {
		return how, "", err
	}
	how.Rule = rule.text
	return how, says, rule.check(s, how, track.Clock(nil, now).Dryings, d.Confirmed)
}

// FoundDamaged records that a sealed package is torn or punctured: the exposure
// of the spool is then not known, and meets no limit, until it is dried by the
// rule (AWS D1.8 cl. 6, testdata/exposure_rules.csv E009, from memory).
// [Conflict] if the package is open.
func (l *Ledger) FoundDamaged(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.because(ctx, e, Damaged, reason)
}

// redo checks what a correction says of a drying or a damaged package.
func (l *Ledger) redo(tx Tx, c Correction, s Spool, wrong Movement, now time.Time) (*Drying, error) {
	if c.Dry == nil && !c.Undone {
		return nil, nil
	}
	if err := mayRelease(tx, c.Person); err != nil {
		return nil, err
	}
	switch {
	case c.Undone && wrong.Type != Dried && wrong.Type != Damaged:
		return nil, Invalidf("undone", "movement %d is %s: only a drying or a damaged package is taken back", wrong.Seq, wrong.Type)
	case c.Undone:
		return nil, nil
	case wrong.Type != Dried:
		return nil, Invalidf("corrects", "movement %d is %s, not a drying", wrong.Seq, wrong.Type)
	case c.Dry.At.After(now):
		return nil, Invalidf("until", "%s is in the future", Stamp(c.Dry.At))
	}
	without := s.Track.With(exposure.Event{Kind: exposure.Moot, Corrects: wrong.Seq})
	how, _, err := l.drying(tx, s, *c.Dry, without, now)
	return &how, err
}
