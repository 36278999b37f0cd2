package inventory

import (
	"strings"
	"time"

	"wirehold/inventory/unit"
)

// Step returns the spool as movement m leaves it, or the reason m cannot
// happen. It alone knows what may follow what: the counter, the replay and the
// property tests all call it. Step is pure. It does not know jobs or wires:
// whether a spool fits is the fit check's to say.
//
// The error is an [*Error]: [Refused] when the spool forbids the movement,
// [Conflict] when somebody else has it, [Invalid] when m makes no sense.
func Step(s Spool, m Movement) (Spool, error) {
	if err := inOrder(s, m); err != nil {
		return s, err
	}
	next, err := apply(s, m)
	if err != nil {
		return s, err
	}
	if next.Loaded() && m.To != "" && m.To != next.Feeder {
		return s, s.onFeeder()
	}
	if m.To != "" && !next.Scrapped {
		next.Place = m.To
	}
	if next, err = weigh(next, m); err != nil {
		return s, err
	}
	next.Touched = s.Out() && next.Out() && (s.Touched || m.Type == Loaded || m.Net != nil)
	next.Track = traced(s, next, m)
	next.MovedAt = m.EffectiveAt
	next.Version++
	return next, nil
}

// inOrder checks what holds for a movement of any type.
func inOrder(s Spool, m Movement) error {
	switch {
	case m.Person == "":
		return Invalidf("person", "scan a badge: every movement names who made it")
	case m.EffectiveAt.After(m.EnteredAt):
		return Invalidf("effective_at", "%s is in the future", Stamp(m.EffectiveAt))
	case m.EffectiveAt.Year() < firstYear:
		return Invalidf("effective_at", "%s is before anything that can be kept here", Stamp(m.EffectiveAt))
	case m.EffectiveAt.Before(s.MovedAt):
		return Invalidf("effective_at", "%s is before the last movement of spool %s (%s)", Stamp(m.EffectiveAt), s.Code, Stamp(s.MovedAt))
	case s.Version == 0 && m.Type != Received:
		return NotFoundf("no-such-spool", "spool %s was never received", m.Spool)
	case s.Scrapped && m.Type != Corrected:
		return Refusedf("spool-scrapped", "spool %s is scrapped", s.Code)
	}
	return nil
}

// firstYear is the first year that a movement can be of.
const firstYear = 2000

// Stamp writes an instant as messages do, to the minute, with its zone.
func Stamp(t time.Time) string { return t.UTC().Format("2006-01-02 15:04 UTC") }

func apply(s Spool, m Movement) (Spool, error) {
	switch m.Type {
	case Received:
		return received(s, m)
	case Opened:
		if s.Opened() {
			return s, Conflictf("spool-open", "spool %s is open already, since %s", s.Code, Stamp(s.OpenedAt))
		}
		s.OpenedAt = m.EffectiveAt
		return s, nil
	case Issued:
		return issued(s, m)
	case Loaded:
		return loaded(s, m)
	case Unloaded:
		return unloaded(s, m)
	case Returned:
		return returned(s, m)
	case Weighed:
		if m.Net == nil {
			return s, Invalidf("gross", "give the weight on the scale")
		}
		return s, nil
	case Moved:
		return moved(s, m)
	case Held, Released:
		return held(s, m)
	case Dried:
		return dried(s, m)
	case Damaged:
		return damaged(s, m)
	case Scrapped:
		if strings.TrimSpace(m.Reason) == "" {
			return s, Invalidf("reason", "say why spool %s is scrapped", s.Code)
		}
		if s.Loaded() {
			return s, s.onFeeder()
		}
		s.Scrapped, s.Place, s.Job, s.Procedure, s.Holder, s.OutSince = true, "", "", 0, "", time.Time{}
		return s, nil
	case Corrected:
		return corrected(s, m)
	}
	return s, Invalidf("type", "there is no movement %q", m.Type)
}

func received(s Spool, m Movement) (Spool, error) {
	switch {
	case s.Version != 0:
		return s, Conflictf("spool-received", "spool %s was received already", s.Code)
	case m.LotID == 0:
		return s, Invalidf("lot", "say which lot the spool belongs to")
	case m.To == "":
		return s, Invalidf("place", "say where the spool is put")
	case m.Net == nil || *m.Net <= 0:
		return s, Invalidf("net", "give the net weight of the wire")
	case m.Tare == nil || *m.Tare < 0:
		return s, Invalidf("tare", "give the weight of the empty spool")
	}
	s.Code, s.LotID, s.Net, s.Full, s.ReceivedAt = m.Spool, m.LotID, *m.Net, *m.Net, m.EffectiveAt
	return s, nil
}

func issued(s Spool, m Movement) (Spool, error) {
	switch {
	case s.Held != "":
		return s, Refusedf("spool-on-hold", "spool %s is on hold: %s", s.Code, s.Held)
	case s.Out():
		return s, Conflictf("spool-out", "spool %s is already out: %s has it since %s", s.Code, s.Holder, Stamp(s.OutSince))
	case m.Job == "":
		return s, Invalidf("job", "say which job spool %s is for", s.Code)
	case m.Holder == "":
		return s, Invalidf("holder", "say who takes spool %s", s.Code)
	case s.Net == 0 || m.Net != nil && *m.Net == 0:
		return s, Refusedf("spool-empty", "spool %s is empty: scrap it", s.Code)
	}
	s.Job, s.Procedure, s.Holder, s.OutSince = m.Job, m.Procedure, m.Holder, m.EffectiveAt
	return s, nil
}

// returned takes a spool back. One that went out sealed and comes back lighter
// was opened on the way: nobody knows when, so its exposure runs from the
// moment it went out.
func returned(s Spool, m Movement) (Spool, error) {
	switch {
	case !s.Out():
		return s, Conflictf("spool-in-store", "spool %s is not out: there is nothing to return", s.Code)
	case m.To == "":
		return s, Invalidf("place", "say where spool %s is put away", s.Code)
	case s.Loaded():
		return s, s.onFeeder()
	case m.Net != nil && *m.Net < s.Full-scaleStep && !s.Opened():
		s.OpenedAt = s.OutSince
	}
	s.Job, s.Procedure, s.Holder, s.OutSince = "", 0, "", time.Time{}
	return s, nil
}

func moved(s Spool, m Movement) (Spool, error) {
	switch {
	case m.To == "":
		return s, Invalidf("place", "say where spool %s goes", s.Code)
	case s.Out():
		return s, Conflictf("spool-out", "spool %s is out: return it first", s.Code)
	}
	return s, nil
}

func held(s Spool, m Movement) (Spool, error) {
	if strings.TrimSpace(m.Reason) == "" {
		return s, Invalidf("reason", "say why")
	}
	if m.Type == Held {
		if s.Held != "" {
			return s, Conflictf("spool-on-hold", "spool %s is on hold already: %s", s.Code, s.Held)
		}
		s.Held = m.Reason
		return s, nil
	}
	if s.Held == "" {
		return s, Conflictf("spool-not-held", "spool %s is not on hold", s.Code)
	}
	s.Held = ""
	return s, nil
}

func corrected(s Spool, m Movement) (Spool, error) {
	switch {
	case strings.TrimSpace(m.Reason) == "":
		return s, Invalidf("reason", "say what was wrong and how you know")
	case m.Corrects <= 0:
		return s, Invalidf("corrects", "name the movement that is set right")
	case m.Net != nil && *m.Net <= 0 && !s.Opened():
		return s, Invalidf("gross", "a sealed package holds wire")
	case s.Loaded() && m.To != "":
		return s, s.onFeeder()
	case m.Net == nil && m.Tare == nil && m.OpenedAt == nil && m.To == "" && m.Drying == nil && !m.Undone:
		return s, Invalidf("corrects", "a correction sets at least one of weight, place, opening time or drying")
	case m.Drying != nil && m.Undone:
		return s, Invalidf("undone", "a drying that never was has no times")
	}
	if m.Drying != nil {
		if err := m.Drying.sound(); err != nil {
			return s, err
		}
	}
	if m.OpenedAt != nil {
		if err := opening(s, m); err != nil {
			return s, err
		}
		s.OpenedAt = *m.OpenedAt
	}
	if m.Net != nil && !s.Opened() {
		s.Net, s.Full = *m.Net, *m.Net // a sealed package is full: the receipt was wrong
	}
	if s.Scrapped && m.To != "" {
		s.Scrapped = false // it was scrapped by mistake and stands on a shelf
	}
	return s, nil
}

// opening checks a corrected opening time; the zero time is "still sealed".
func opening(s Spool, m Movement) error {
	net := s.Net
	if m.Net != nil {
		net = *m.Net
	}
	switch at := *m.OpenedAt; {
	case at.IsZero() && net < s.Full:
		return Invalidf("opened_at", "spool %s is not sealed: wire is gone from it", s.Code)
	case at.IsZero() && s.Loaded():
		return Invalidf("opened_at", "spool %s is not sealed: it is on a feeder", s.Code)
	case at.IsZero():
		return nil
	case at.After(m.EffectiveAt):
		return Invalidf("opened_at", "%s is in the future", Stamp(at))
	case at.Before(s.ReceivedAt):
		return Invalidf("opened_at", "%s is before spool %s was received (%s)", Stamp(at), s.Code, Stamp(s.ReceivedAt))
	}
	return nil
}

// scaleStep is how much more than the last time a spool may weigh without
// anybody having put wire on it: shop scales read in steps of 10 to 50 g
// (common practice, no source). The lower weight then stands.
const scaleStep unit.Grams = 50

// weigh takes over the weights that m brings. Wire only ever leaves a spool,
// and none leaves a sealed one; a correction may say otherwise of the past.
func weigh(s Spool, m Movement) (Spool, error) {
	if m.Tare != nil {
		s.Tare = *m.Tare
	}
	if m.Net == nil {
		return s, nil
	}
	net := *m.Net
	switch {
	case net < 0:
		return s, Invalidf("gross", "lighter than the empty spool, which weighs %s: check that it is spool %s on the scale", s.Tare, s.Code)
	case net > s.Full+scaleStep:
		return s, Invalidf("gross", "heavier than the full package, which weighs %s: check that it is spool %s on the scale", s.Full+s.Tare, s.Code)
	case net > s.Net+scaleStep && m.Type != Corrected:
		return s, Invalidf("gross", "heavier than the last time (%s): weigh it again, and if the last weight was wrong, correct that entry first", s.Net+s.Tare)
	case net > s.Net && m.Type != Corrected:
		net = s.Net
	}
	if !s.Opened() && net < s.Full-scaleStep {
		return s, Invalidf("gross", "lighter than when it came (%s), and nobody has opened it: open it first, or correct the receipt", s.Full+s.Tare)
	}
	if !s.Opened() {
		net = s.Full
	}
	s.Net = min(net, s.Full)
	return s, nil
}

// net returns what is left on a spool that weighs gross.
func (s Spool) net(gross unit.Grams) *unit.Grams {
	n := gross - s.Tare
	return &n
}
