package fit

import (
	"fmt"
	"math/big"
	"strings"

	"wirehold/inventory/unit"
)

// hydrogen is diffusible hydrogen in mL/100 g of deposited metal, rounded up.
type hydrogen int

// parseHydrogen reads "8 mL/100 g deposited" or "3.5 mL/100 g". AWS and ISO
// marks differ (H4, H5), so numbers are compared, never marks.
func parseHydrogen(text string) (hydrogen, error) {
	bad := &unit.ParseError{Text: text, Want: `hydrogen: give it as "8 mL/100 g"`}
	number, rest, _ := strings.Cut(text, " ")
	r, ok := new(big.Rat).SetString(number)
	if !ok || len(number) > 6 || r.Sign() <= 0 || !strings.HasPrefix(strings.ToLower(rest), "ml/100 g") && !strings.HasPrefix(strings.ToLower(rest), "ml/100g") {
		return 0, bad
	}
	up := new(big.Int).Add(r.Num(), new(big.Int).Sub(r.Denom(), big.NewInt(1)))
	return hydrogen(up.Quo(up, r.Denom()).Int64()), nil
}

func (h hydrogen) String() string { return fmt.Sprintf("%d mL/100 g", int(h)) }

func hydrogenQuantity() quantity[hydrogen] {
	return quantity[hydrogen]{parseHydrogen, func(have, want hydrogen) bool { return have <= want }, "diffusible hydrogen", "The limit is %s."}
}

// checkHydrogen: the wire's diffusible hydrogen must be the procedure's limit
// or less, and the profile's (parameter "hydrogen_max").
func (c *comparison) checkHydrogen() Finding {
	q := hydrogenQuantity()
	facts := c.named("diffusible_hydrogen_max")
	found := Finding{Outcome: NotDemanded}
	if c.demand.Hydrogen > 0 {
		want := hydrogen(c.demand.Hydrogen)
		found = q.check(facts, c.procedure(want.String()), want)
	}
	for _, l := range c.limits(RuleHydrogen, "hydrogen_max") {
		if want, err := parseHydrogen(l.Value); err == nil {
			found = worst(found, l.soften(q.check(facts, l.claim(want.String()), want)))
		} else {
			found = worst(found, l.unreadable(q.claim(facts)))
		}
	}
	if found.Outcome == NotDemanded {
		return c.open(q.claim(facts), topic("hydrogen"))
	}
	return found
}

// soften makes of a finding against the profile's limit what the limit allows:
// a stop becomes a caution where the limit only cautions.
func (l *Limit) soften(f Finding) Finding {
	switch {
	case f.Outcome == Stops && l.pastIt() == Caution:
		f.Outcome = Caution
	case f.Outcome == Passed && !l.confirmed():
		f.Outcome = Caution
	default:
		return f
	}
	return f.and(l.reserve())
}

// unreadable is the stop where the shop has put a limit in its profile that
// means nothing.
func (l *Limit) unreadable(offered Claim) Finding {
	return stop(l.claim(l.Value), offered, "The rule profile's %s is %q, which cannot be read: ask the engineer.", l.Parameter, l.Value)
}
