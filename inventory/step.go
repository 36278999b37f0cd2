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
	if m.To != "" && !next.Scrapped {
		next.Place = m.To
	}
	if next, err = weigh(next, m); err != nil {
		return s, err
	}
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
		return Invalidf("effective_at", "%s is in the future", m.EffectiveAt.Format(time.DateTime))
	case m.EffectiveAt.Before(s.MovedAt):
		return Invalidf("effective_at", "%s is before the last movement of spool %s (%s)",
			m.EffectiveAt.Format(time.DateTime), s.Code, s.MovedAt.Format(time.DateTime))
	case s.Version == 0 && m.Type != Received:
		return NotFoundf("no-such-spool", "spool %s was never received", m.Spool)
	case s.Scrapped && m.Type != Corrected:
		return Refusedf("spool-scrapped", "spool %s is scrapped", s.Code)
	}
	return nil
}

func apply(s Spool, m Movement) (Spool, error) {
	switch m.Type {
	case Received:
		return received(s, m)
	case Opened:
		if s.Opened() {
			return s, Conflictf("spool-open", "spool %s is open already, since %s", s.Code, s.OpenedAt.Format(time.DateTime))
		}
		s.OpenedAt = m.EffectiveAt
	case Issued:
		return issued(s, m)
	case Returned:
		if !s.Out() {
			return s, Conflictf("spool-in-store", "spool %s is not out: there is nothing to return", s.Code)
		}
		if m.To == "" {
			return s, Invalidf("place", "say where spool %s is put away", s.Code)
		}
		s.Job, s.Holder, s.OutSince = "", "", time.Time{}
	case Weighed:
		if m.Net == nil {
			return s, Invalidf("gross", "give the weight on the scale")
		}
	case Moved:
		if m.To == "" {
			return s, Invalidf("place", "say where spool %s goes", s.Code)
		}
		if s.Out() {
			return s, Conflictf("spool-out", "spool %s is out: return it first", s.Code)
		}
	case Held, Released:
		return held(s, m)
	case Scrapped:
		if m.Reason == "" {
			return s, Invalidf("reason", "say why spool %s is scrapped", s.Code)
		}
		s.Scrapped, s.Place, s.Job, s.Holder, s.OutSince = true, "", "", "", time.Time{}
	case Corrected:
		return corrected(s, m)
	default:
		return s, Invalidf("type", "there is no movement %q", m.Type)
	}
	return s, nil
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
	s.Code, s.LotID, s.Full = m.Spool, m.LotID, *m.Net
	return s, nil
}

func issued(s Spool, m Movement) (Spool, error) {
	switch {
	case s.Held != "":
		return s, Refusedf("spool-on-hold", "spool %s is on hold: %s", s.Code, s.Held)
	case s.Out():
		return s, Conflictf("spool-out", "spool %s is already out: %s has it since %s",
			s.Code, s.Holder, s.OutSince.Format("2006-01-02 15:04 UTC"))
	case m.Job == "":
		return s, Invalidf("job", "say which job spool %s is for", s.Code)
	case m.Holder == "":
		return s, Invalidf("holder", "say who takes spool %s", s.Code)
	}
	s.Job, s.Holder, s.OutSince = m.Job, m.Holder, m.EffectiveAt
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
	case m.Net == nil && m.Tare == nil && m.OpenedAt == nil && m.To == "":
		return s, Invalidf("corrects", "a correction sets at least one of weight, place or opening time")
	case m.OpenedAt != nil && m.OpenedAt.After(m.EffectiveAt):
		return s, Invalidf("opened_at", "%s is in the future", m.OpenedAt.Format(time.DateTime))
	}
	if m.OpenedAt != nil {
		s.OpenedAt = *m.OpenedAt
	}
	if s.Scrapped && m.To != "" {
		s.Scrapped = false // it was scrapped by mistake and stands on a shelf
	}
	return s, nil
}

// weigh takes over the weights that m brings. A full package is the most that
// a spool can weigh.
func weigh(s Spool, m Movement) (Spool, error) {
	if m.Tare != nil {
		s.Tare = *m.Tare
	}
	if m.Net == nil {
		return s, nil
	}
	switch {
	case *m.Net < 0:
		return s, Invalidf("gross", "lighter than the empty spool, which weighs %s: check that it is spool %s on the scale", s.Tare, s.Code)
	case *m.Net > s.Full:
		return s, Invalidf("gross", "heavier than the full package, which weighs %s: check that it is spool %s on the scale", s.Full+s.Tare, s.Code)
	}
	s.Net = *m.Net
	return s, nil
}

// net returns what is left on a spool that weighs gross.
func (s Spool) net(gross unit.Grams) *unit.Grams {
	n := gross - s.Tare
	return &n
}
