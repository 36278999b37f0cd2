package inventory

import (
	"time"

	"wirehold/inventory/exposure"
)

// traced returns the spool's track with what m does to its exposure. before and
// next are the spool around m.
//
// A spool that is out stands in the open from the moment it is issued, also
// where it came from a dry-kept place, until it is loaded or put away.
func traced(before, next Spool, m Movement) exposure.Track {
	t := before.Track
	put := exposure.Event{Kind: exposure.Put, Seq: m.Seq, At: m.EffectiveAt, Place: string(m.To)}
	switch m.Type {
	case Received, Moved, Loaded:
		return t.With(put)
	case Issued, Unloaded:
		put.Place = ""
		return t.With(put)
	case Opened:
		return t.With(exposure.Event{Kind: exposure.Open, Seq: m.Seq, At: m.EffectiveAt})
	case Returned:
		if !before.Opened() && next.Opened() {
			t = t.With(exposure.Event{Kind: exposure.Open, Seq: m.Seq, At: next.OpenedAt})
		}
		return t.With(put)
	case Dried:
		d := m.Drying
		return t.With(exposure.Event{Kind: exposure.Dry, Seq: m.Seq, At: d.From, Until: d.Until, Takes: d.Takes}).With(put)
	case Damaged:
		return t.With(exposure.Event{Kind: exposure.Damage, Seq: m.Seq, At: m.EffectiveAt})
	case Scrapped:
		return t.With(exposure.Event{Kind: exposure.End, Seq: m.Seq, At: m.EffectiveAt})
	case Corrected:
		return amended(t, next, m)
	}
	return t
}

// amended returns the track with what a correction sets right. A spool that is
// out stands in the open wherever a correction says it was.
func amended(t exposure.Track, next Spool, m Movement) exposure.Track {
	if m.OpenedAt != nil {
		t = t.With(exposure.Event{Kind: exposure.Reopen, Seq: m.Seq, At: *m.OpenedAt})
	}
	if m.To != "" {
		place := string(m.To)
		if next.Out() {
			place = ""
		}
		t = t.With(exposure.Event{Kind: exposure.Replace, Seq: m.Seq, At: m.EffectiveAt, Place: place, Corrects: m.Corrects})
	}
	if m.Undone {
		t = t.With(exposure.Event{Kind: exposure.Moot, Seq: m.Seq, Corrects: m.Corrects})
	}
	if d := m.Drying; d != nil {
		t = t.With(exposure.Event{Kind: exposure.Redry, Seq: m.Seq, At: d.From, Until: d.Until, Takes: d.Takes, Corrects: m.Corrects})
	}
	return t
}

// dried checks a drying. Whether the wire may be dried so is not Step's to say:
// see [Ledger.Dry].
func dried(s Spool, m Movement) (Spool, error) {
	switch d := m.Drying; {
	case d == nil:
		return s, Invalidf("drying", "say how spool %s was dried", s.Code)
	case s.Out():
		return s, Conflictf("spool-out", "spool %s is out: return it first", s.Code)
	case !s.Opened():
		return s, Refusedf("spool-sealed", "spool %s is sealed: wire is not dried in its package, so open it first", s.Code)
	case m.To == "":
		return s, Invalidf("place", "say where spool %s was put after the oven", s.Code)
	case d.From.Before(s.MovedAt):
		return s, Invalidf("from", "%s is before the last movement of spool %s (%s)", Stamp(d.From), s.Code, Stamp(s.MovedAt))
	case !d.Until.Equal(m.EffectiveAt):
		return s, Invalidf("until", "a drying takes effect when it ends")
	default:
		return s, d.sound()
	}
}

// sound checks that the drying makes sense by itself.
func (d *Drying) sound() error {
	switch {
	case d.Oven == "":
		return Invalidf("oven", "say in which oven")
	case !d.Until.After(d.From):
		return Invalidf("until", "a drying ends after it begins")
	case d.At <= 0 || d.At > longestHeat:
		return Invalidf("temperature", "give the temperature that the oven held")
	case d.Held <= 0 || d.Held > d.Until.Sub(d.From):
		return Invalidf("hours", "give how long the oven held that temperature: no longer than the spool was in it")
	case d.Takes != exposure.All && (d.Takes < 0 || d.Takes%time.Second != 0):
		return Invalidf("takes", "a drying takes off whole seconds")
	}
	return nil
}

// damaged marks a package that was found torn or punctured while it was sealed.
func damaged(s Spool, m Movement) (Spool, error) {
	switch {
	case m.Reason == "":
		return s, Invalidf("reason", "say what is wrong with the package of spool %s", s.Code)
	case s.Opened():
		return s, Conflictf("spool-open", "spool %s is open already, since %s: its package protects it no more", s.Code, Stamp(s.OpenedAt))
	}
	return s, nil
}
