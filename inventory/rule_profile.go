package inventory

import (
	"context"
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/fit"
)

// RuleProfile is a rule profile as jobs name it: one that came with the
// program, which nobody changes, or the shop's own copy of one.
type RuleProfile struct {
	fit.Profile
	WaiverDays int // the longest waiver in days, 1 to 30; 0 is [LongestWaiver]
	Version    int // of the shop's own, from 1; 0 came with the program
}

// Shop reports whether p is the shop's own.
func (p RuleProfile) Shop() bool { return p.Version > 0 }

// LongestWaiver returns how long a waiver may last under p.
func (p RuleProfile) LongestWaiver() time.Duration {
	if p.WaiverDays > 0 {
		return min(LongestWaiver, time.Duration(p.WaiverDays)*24*time.Hour)
	}
	return LongestWaiver
}

// Title names p with its version.
func (p RuleProfile) Title() string {
	if p.Shop() {
		return fmt.Sprintf("%s, version %d", p.Name, p.Version)
	}
	return p.Name
}

// forCheck returns p as the fit check takes it: named with its version.
func (p RuleProfile) forCheck() fit.Profile {
	p.Profile.Name = p.Title()
	return p.Profile
}

// ProfileReader looks up the shop's own rule profiles.
type ProfileReader interface {
	// RuleProfile returns the shop's own profile as it is now; [NotFound] if
	// there is none.
	RuleProfile(id string) (RuleProfile, error)
	// RuleProfiles returns the shop's own profiles by name.
	RuleProfiles() ([]RuleProfile, error)
	// ProfileChanges returns up to limit changes of a profile, the latest first.
	ProfileChanges(id string, limit int) ([]ProfileChange, error)
	// ProfileLog returns up to limit changes of all profiles after seq, in order.
	ProfileLog(after int64, limit int) ([]ProfileChange, error)
}

// ProfileTx changes the shop's own rule profiles.
type ProfileTx interface {
	// ProfileRequested returns the change made by the request key; [NotFound]
	// if it is new.
	ProfileRequested(key string) (ProfileChange, error)
	// ProfileHead returns the link of the last change; the zero link if there is
	// none.
	ProfileHead() (Link, error)
	// NextProfile returns the id of the next profile.
	NextProfile() (id string, err error)
	// WriteProfile keeps the profile at p.Version, which is one more than it
	// has, with its limits and the change that made it so. [Conflict] if it has
	// another version, or its name is another profile's.
	WriteProfile(p RuleProfile, c ProfileChange) error
}

// profile returns the rule profile of the id, as it is in the transaction.
func (l *Ledger) profile(r ProfileReader, id string) (RuleProfile, error) {
	if i := slices.IndexFunc(l.profiles, func(p fit.Profile) bool { return p.ID == id }); i >= 0 {
		return RuleProfile{Profile: l.profiles[i]}, nil
	}
	return r.RuleProfile(id)
}

// profileOr returns the profile as the fit check takes it; the general one if
// there is none of the id.
func (l *Ledger) profileOr(r ProfileReader, id string) (fit.Profile, error) {
	p, err := l.profile(r, id)
	if KindOf(err) == NotFound {
		p, err = l.profile(r, GeneralProfile)
	}
	return p.forCheck(), err
}

// Profile returns one rule profile; [NotFound] if there is none of the id.
func (l *Ledger) Profile(ctx context.Context, id string) (RuleProfile, error) {
	p, err := l.profile(l.store.Read(ctx), id)
	p.Limits = slices.Clone(p.Limits)
	return p, err
}

// Profiles returns the rule profiles that a job may name: those that came with
// the program, then the shop's own by name.
func (l *Ledger) Profiles(ctx context.Context) ([]RuleProfile, error) {
	own, err := l.store.Read(ctx).RuleProfiles()
	if err != nil {
		return nil, err
	}
	var out []RuleProfile
	for _, p := range l.profiles {
		p.Limits = slices.Clone(p.Limits)
		out = append(out, RuleProfile{Profile: p})
	}
	return append(out, own...), nil
}

// ProfileDifferences returns how a profile of the shop differs from the one
// that it was copied from; nil for one that came with the program.
func (l *Ledger) ProfileDifferences(p RuleProfile) []fit.Difference {
	original, ok := l.original(p)
	if !ok {
		return nil
	}
	return p.Differences(original)
}

// original returns the profile of the program that p was copied from; false
// if p is one, or the program has it no more.
func (l *Ledger) original(p RuleProfile) (fit.Profile, bool) {
	i := slices.IndexFunc(l.profiles, func(o fit.Profile) bool { return o.ID == p.Base })
	if !p.Shop() || i < 0 {
		return fit.Profile{}, false
	}
	return l.profiles[i], true
}
