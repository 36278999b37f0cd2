package fit

import (
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/filler"
)

// Copy returns a profile of its own with p's limits, for the shop to tighten.
func (p Profile) Copy(id, name string) Profile {
	return Profile{ID: id, Name: name, Base: p.ID, Limits: slices.Clone(p.Limits)}
}

// Tighten returns p with line n replaced by l, or with l added where n is the
// number of lines. The error says why l cannot be read, or what would be looser
// than it is: that wants [Profile.Loosen]. p is not changed.
func (p Profile) Tighten(n int, l Limit) (Profile, error) {
	q, err := p.with(n, l)
	if err != nil {
		return p, err
	}
	if looser := q.LooserThan(p); len(looser) > 0 {
		return p, fmt.Errorf("%s That is looser: it wants the welding engineer and a reason", looser[0].Says)
	}
	return q, nil
}

// Loosen returns p with line n replaced by l, on the authority of the welding
// engineer, whose name, date (YYYY-MM-DD) and reason stay with the limit and
// are said wherever it counts.
func (p Profile) Loosen(n int, l Limit, by, on, why string) (Profile, error) {
	if err := named(by, on); err != nil {
		return p, err
	}
	if why == "" {
		return p, fmt.Errorf("a limit is not loosened without a reason")
	}
	l.LoosenedBy, l.LoosenedOn, l.LoosenedWhy = by, on, why
	return p.with(n, l)
}

// Confirm returns p with line n confirmed: somebody in the shop has looked the
// limit up and stands for it, by name and date (YYYY-MM-DD). Only a limit from
// memory or practice wants that.
func (p Profile) Confirm(n int, by, on string) (Profile, error) {
	if n < 0 || n >= len(p.Limits) {
		return p, fmt.Errorf("profile %s has no line %d", p.ID, n)
	}
	l := p.Limits[n]
	if err := named(by, on); err != nil {
		return p, err
	}
	if l.Parameter == waiverLine || l.Provenance != filler.Memory && l.Provenance != filler.Practice {
		return p, fmt.Errorf("%s %s is %s: there is nothing to confirm", l.Rule, l.Parameter, l.Provenance)
	}
	l.ConfirmedBy, l.ConfirmedOn = by, on
	return p.with(n, l)
}

func (p Profile) with(n int, l Limit) (Profile, error) {
	if n < 0 || n > len(p.Limits) {
		return p, fmt.Errorf("profile %s has no line %d", p.ID, n)
	}
	if err := l.Validate(); err != nil {
		return p, err
	}
	q := p
	q.Limits = slices.Clone(p.Limits)
	if n == len(q.Limits) {
		q.Limits = append(q.Limits, l)
	}
	q.Limits[n] = l
	return q, nil
}

// named reports why a person and a date do not stand for a limit.
func named(by, on string) error {
	if by == "" {
		return fmt.Errorf("nobody is named")
	}
	if _, err := time.Parse(time.DateOnly, on); err != nil {
		return fmt.Errorf("%q is no date: give it as 2026-03-02", on)
	}
	return nil
}
