package inventory

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// Settlement is the engineer's choice between the sides of one conflict.
type Settlement struct {
	Person     Code
	RequestKey string
	WireID     int64
	Version    int    // of the wire, as it was looked at
	Fact       string // "polarity"
	Side       string // the value that holds, as the conflict writes it: "DCEN"
	Reason     string
}

// SettleWire keeps the choice as a fact of the shop, with who made it and why.
// Only the welding engineer or the owner may. The error is [Conflict] if the
// wire was changed since, or if there is no such disagreement any more.
func (l *Ledger) SettleWire(ctx context.Context, s Settlement) (Wire, error) {
	reason, err := tidy("reason", strings.Join(strings.Fields(s.Reason), " "), longestReason)
	switch {
	case err != nil:
		return Wire{}, err
	case reason == "":
		return Wire{}, Invalidf("reason", "say why: it is kept with the wire")
	case s.Version < 1:
		return Wire{}, Invalidf("version", "say which version of the wire you looked at")
	}
	s.Reason = reason
	return l.changeWire(ctx, wireDeed{person: s.Person, key: s.RequestKey, wish: wish(s.WireID, s.Fact, s.Side, s.Reason), deed: WireSettled, wire: s.WireID, seen: s.Version}, s.decide)
}

func (s Settlement) decide(_ Tx, by Person, before Wire, at time.Time) (Wire, []string, error) {
	if !by.Role.MayRelease() {
		return before, nil, Forbiddenf("may-not-settle", "%s is a %s: the welding engineer settles what box and sheet disagree on", by.Name, by.Role)
	}
	conflicts, err := before.Conflicts()
	if err != nil {
		return before, nil, err
	}
	at0 := slices.IndexFunc(conflicts, func(c fit.Conflict) bool { return c.Fact == s.Fact })
	if at0 < 0 {
		return before, nil, Conflictf("nothing-to-settle", "box and sheet do not disagree on %s any more: look at the wire again", spaced(s.Fact))
	}
	sides := conflicts[at0].Sides
	chosen := slices.IndexFunc(sides, func(x fit.Side) bool { return x.Text() == s.Side })
	if chosen < 0 {
		return before, nil, Invalidf("side", "choose one of the values that are given")
	}
	fact := filler.Fact{Name: s.Fact, Value: sides[chosen].Value, Unit: sides[chosen].Unit, Provenance: filler.Shop,
		Source: fmt.Sprintf("%s%s on %s: %s", settledBy, by.Name, at.Format(time.DateOnly), s.Reason)}
	after := before
	after.Supplied = append(without(before.Supplied, func(f filler.Fact) bool { return f.Name == s.Fact && f.Provenance == filler.Shop }), fact)
	left, err := after.Conflicts()
	if err != nil {
		return before, nil, err
	}
	if slices.ContainsFunc(left, func(c fit.Conflict) bool { return c.Fact == s.Fact }) {
		return before, nil, Invalidf("side", "%s does not settle it: correct box or sheet in the wire's entry", s.Side)
	}
	return after, []string{fmt.Sprintf("%s: %s of %s holds: %s", spaced(s.Fact), s.Side, sides[chosen].Who, s.Reason)}, nil
}

// Settled returns the settlements that stand, in the order in which they were
// made.
func (w Wire) Settled() filler.Facts {
	return without(w.Supplied, func(f filler.Fact) bool { return !Decided(f) || !strings.HasPrefix(f.Source, settledBy) })
}
