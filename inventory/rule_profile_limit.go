package inventory

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// LimitChange sets one line of a profile of the shop's own.
type LimitChange struct {
	ProfileEntry
	Line      int         // from 0; the number of lines adds one
	Rule      fit.Rule    // of a new line
	Parameter string      // of a new line
	Value     string      // with its unit; the words of a limit of plates follow what it does
	Condition string      // when it holds; empty is always
	Action    fit.Outcome // what going past it does
	Reason    string      // of a limit below the original
}

// SetLimit sets a limit, or adds one. What is set is the shop's own word. A
// limit that lets something pass which the original held back is set by the
// welding engineer alone, with a reason, which goes on every issue slip: it is
// [Forbidden] or [Invalid] otherwise.
func (l *Ledger) SetLimit(ctx context.Context, c LimitChange) (RuleProfile, error) {
	var err error
	for _, field := range []struct {
		name string
		text *string
	}{{"value", &c.Value}, {"condition", &c.Condition}, {"reason", &c.Reason}} {
		if *field.text, err = tidy(field.name, *field.text, longestReason); err != nil {
			return RuleProfile{}, err
		}
	}
	wish := wish("profile", c.Profile, LimitSet, c.Seen, c.Line, c.Rule, c.Parameter, c.Value, c.Condition, c.Action, c.Reason)
	return l.changeProfile(ctx, c.ProfileEntry, LimitSet, wish, func(_ Tx, by Person, p RuleProfile, at time.Time) (RuleProfile, []string, error) {
		limit, err := c.limit(p, by, at)
		if err != nil {
			return p, nil, err
		}
		before := p.Profile
		if p.Profile, err = l.withLimit(p, c, limit, by, at); err != nil {
			return p, nil, err
		}
		var what []string
		for _, d := range p.Profile.Differences(before) {
			what = append(what, d.Says)
		}
		return p, what, nil
	})
}

// limit returns the line as it shall be.
func (c LimitChange) limit(p RuleProfile, by Person, at time.Time) (fit.Limit, error) {
	limit := fit.Limit{Rule: c.Rule, Parameter: c.Parameter}
	switch {
	case c.Line < 0 || c.Line > len(p.Limits) || c.Line >= mostProfileLines:
		return limit, Invalidf("line", "%s has no line %d", p.Name, c.Line)
	case c.Line < len(p.Limits):
		limit = p.Limits[c.Line]
	case c.Parameter == "waiver":
		return limit, Invalidf("parameter", "whether a rule may be waived is a line that is there: change that")
	}
	limit.LoosenedBy, limit.LoosenedOn, limit.LoosenedWhy = "", "", ""
	if words, ok := fit.PlateWords(limit.Parameter, c.Action); ok && (c.Value == "" || c.Value == limit.Value) {
		c.Value = words
	}
	if limit.Value != c.Value || limit.Source == "" {
		if limit.Provenance != filler.Shop && limit.Source != "" {
			limit.Note = "before: " + limit.Source
		}
		limit.Provenance, limit.Source = filler.Shop, fmt.Sprintf("shop's own limit, %s on %s", by.Name, at.Format(time.DateOnly))
		limit.ConfirmedBy, limit.ConfirmedOn = "", ""
	}
	limit.Value, limit.Condition, limit.Action = c.Value, c.Condition, c.Action
	if limit.Parameter == "waiver" && limit.Action == fit.Stops {
		limit.Action = "" // it goes past nothing
	}
	if err := limit.Validate(); err != nil {
		return limit, Invalidf("value", "%v", err)
	}
	return limit, nil
}

// withLimit returns the profile with the limit. One below the original is
// loosened by the welding engineer with a reason, or not at all.
func (l *Ledger) withLimit(p RuleProfile, c LimitChange, limit fit.Limit, by Person, at time.Time) (fit.Profile, error) {
	original, ok := l.original(p)
	if !ok {
		return p.Profile, Refusedf("no-original", "%s was copied from a profile that is not installed: nothing can be compared with it", p.Name)
	}
	q := p.Profile
	q.Limits = slices.Clone(q.Limits)
	if c.Line == len(q.Limits) {
		q.Limits = append(q.Limits, limit)
	}
	if same := asOriginal(original, limit); same != nil {
		limit = *same // what is set back to the original has its source again
	}
	q.Limits[c.Line] = limit
	looser := slices.DeleteFunc(q.LooserThan(original), func(d fit.Difference) bool { return d.Reason != "" })
	switch {
	case len(looser) == 0:
		return q, nil
	case by.Role != Engineer:
		return p.Profile, Forbiddenf("may-not-loosen", "%s That is looser than %s: only the welding engineer sets it, with a reason", looser[0].Says, original.Name)
	case c.Reason == "":
		return p.Profile, Invalidf("reason", "%s That is looser than %s: give the reason, which goes on every issue slip", looser[0].Says, original.Name)
	}
	loosened, err := p.Loosen(c.Line, limit, by.Name, at.Format(time.DateOnly), c.Reason)
	if err != nil {
		return p.Profile, Invalidf("reason", "%v", err)
	}
	if left := slices.DeleteFunc(loosened.LooserThan(original), func(d fit.Difference) bool { return d.Reason != "" }); len(left) > 0 {
		return p.Profile, Refusedf("not-loosened", "%s It cannot be loosened in this way: change the value or what it does, not both", left[0].Says)
	}
	return loosened, nil
}

// asOriginal returns the line of the original that says what the limit says;
// nil if there is none.
func asOriginal(original fit.Profile, l fit.Limit) *fit.Limit {
	for _, o := range original.Limits {
		if o.Rule == l.Rule && o.Parameter == l.Parameter && o.Value == l.Value && o.Condition == l.Condition && cmp.Or(o.Action, fit.Stops) == cmp.Or(l.Action, fit.Stops) && l.ConfirmedBy == "" {
			return &o
		}
	}
	return nil
}

// ConfirmLimit records that somebody in the shop has looked a limit from memory
// or practice up and stands for it: from then on it counts in full.
func (l *Ledger) ConfirmLimit(ctx context.Context, e ProfileEntry, line int) (RuleProfile, error) {
	return l.changeProfile(ctx, e, LimitConfirmed, wish("profile", e.Profile, LimitConfirmed, e.Seen, line), func(_ Tx, by Person, p RuleProfile, at time.Time) (RuleProfile, []string, error) {
		q, err := p.Confirm(line, by.Name, at.Format(time.DateOnly))
		if err != nil {
			return p, nil, Invalidf("line", "%v", err)
		}
		limit := q.Limits[line]
		p.Profile = q
		return p, []string{fmt.Sprintf("%s %s: %s (%s) is confirmed", limit.Rule, limit.Parameter, limit.Value, limit.Source)}, nil
	})
}
