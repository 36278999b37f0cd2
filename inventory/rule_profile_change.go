package inventory

import (
	"context"
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// ProfileChange is one line of a rule profile's history. It is never changed
// once kept.
type ProfileChange struct {
	Profile    string
	Version    int // of the profile, as the change leaves it
	Person     Code
	PersonName string // filled in when it is read
	At         time.Time
	RequestKey string
	Request    string // SHA-256 of what was asked for, as of [Movement]
	Deed       ProfileDeed
	What       []string // one change a line
}

// ProfileDeed is what was done to a rule profile.
type ProfileDeed string

// The deeds.
const (
	ProfileCopied    ProfileDeed = "copied"
	ProfileEdited    ProfileDeed = "edited"
	LimitSet         ProfileDeed = "limit set"
	LimitConfirmed   ProfileDeed = "confirmed"
	longestName                  = 60 // characters
	mostWaiverDays               = int(LongestWaiver / (24 * time.Hour))
	mostProfileLines             = 200
)

// ProfileEntry is what every change of a rule profile has in common.
type ProfileEntry struct {
	Profile    string // the shop's own; of a copy, what it is copied from
	Seen       int    // the version that was looked at; zero takes whichever there is
	Person     Code
	RequestKey string
}

// CopyProfile makes a profile of the shop's own from any other. Only the
// welding engineer or the owner changes profiles: the error is [Forbidden]
// otherwise.
func (l *Ledger) CopyProfile(ctx context.Context, e ProfileEntry, name string) (RuleProfile, error) {
	name, err := profileName(name)
	if err != nil {
		return RuleProfile{}, err
	}
	return l.changeProfile(ctx, e, ProfileCopied, wish("profile", e.Profile, ProfileCopied, name), func(tx Tx, _ Person, from RuleProfile, _ time.Time) (RuleProfile, []string, error) {
		id, err := tx.NextProfile()
		if err != nil {
			return from, nil, err
		}
		p := RuleProfile{Profile: from.Copy(id, name), WaiverDays: from.WaiverDays}
		if from.Shop() {
			p.Base = from.Base // the original is the program's, however often it is copied
		}
		return p, []string{"copied from " + from.Title()}, l.nameFree(tx, p)
	})
}

// EditProfile gives a profile of the shop another name, or another longest
// waiver in days; 0 is the program's own.
func (l *Ledger) EditProfile(ctx context.Context, e ProfileEntry, name string, waiverDays int) (RuleProfile, error) {
	name, err := profileName(name)
	if err != nil {
		return RuleProfile{}, err
	}
	if waiverDays < 0 || waiverDays > mostWaiverDays {
		return RuleProfile{}, Invalidf("waiver_days", "a waiver lasts 1 to %d days", mostWaiverDays)
	}
	return l.changeProfile(ctx, e, ProfileEdited, wish("profile", e.Profile, ProfileEdited, name, waiverDays), func(tx Tx, _ Person, p RuleProfile, _ time.Time) (RuleProfile, []string, error) {
		var what []string
		if p.Name != name {
			what = append(what, fmt.Sprintf("name: %s, before %s", name, p.Name))
		}
		before := p.LongestWaiver()
		p.Name, p.WaiverDays = name, waiverDays
		if after := p.LongestWaiver(); after != before {
			what = append(what, fmt.Sprintf("longest waiver: %s, before %s", days(after), days(before)))
		}
		return p, what, l.nameFree(tx, p)
	})
}

func profileName(name string) (string, error) {
	name, err := tidy("name", name, longestName)
	if err == nil && name == "" {
		err = Invalidf("name", "give the profile a name of the shop's own")
	}
	return name, err
}

// nameFree checks that no other profile has p's name.
func (l *Ledger) nameFree(r ProfileReader, p RuleProfile) error {
	own, err := r.RuleProfiles()
	if err != nil {
		return err
	}
	taken := slices.ContainsFunc(own, func(o RuleProfile) bool { return o.ID != p.ID && o.Name == p.Name }) ||
		slices.ContainsFunc(l.profiles, func(o fit.Profile) bool { return o.Name == p.Name })
	if taken {
		return Conflictf("profile-name-taken", "there is a rule profile %q already: choose another name", p.Name)
	}
	return nil
}

// LimitChange sets one line of a profile of the shop's own.
type LimitChange struct {
	ProfileEntry
	Line      int         // from 0; the number of lines adds one
	Rule      fit.Rule    // of a new line
	Parameter string      // of a new line
	Value     string      // with its unit
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
	if limit.Value != c.Value || limit.Source == "" {
		if limit.Provenance != filler.Shop && limit.Source != "" {
			limit.Note = "before: " + limit.Source
		}
		limit.Provenance, limit.Source = filler.Shop, fmt.Sprintf("shop's own limit, %s on %s", by.Name, at.Format(time.DateOnly))
		limit.ConfirmedBy, limit.ConfirmedOn = "", ""
	}
	limit.Value, limit.Condition, limit.Action = c.Value, c.Condition, c.Action
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
		if o.Rule == l.Rule && o.Parameter == l.Parameter && o.Value == l.Value && o.Condition == l.Condition && o.Action == l.Action && l.ConfirmedBy == "" {
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

// decideProfile returns the profile as it shall be, and what changes; nothing
// changes if what is empty.
type decideProfile func(tx Tx, by Person, before RuleProfile, at time.Time) (after RuleProfile, what []string, err error)

// changeProfile is the one way in which profiles change: in one transaction it
// looks the request key up, reads the profile, holds it against the version
// that was seen, decides, and keeps who changed what.
func (l *Ledger) changeProfile(ctx context.Context, e ProfileEntry, deed ProfileDeed, wish string, decide decideProfile) (RuleProfile, error) {
	if err := (Entry{Spool: "W", Person: e.Person, RequestKey: e.RequestKey}).check(); err != nil {
		return RuleProfile{}, err
	}
	now := l.at()
	var after RuleProfile
	err := l.store.Write(ctx, func(tx Tx) error {
		done, err := tx.ProfileRequested(e.RequestKey)
		if err == nil {
			if done.Request != wish {
				return Conflictf("request-key-used", "request key %q was used already, for something else: use a new one", e.RequestKey)
			}
			after, err = tx.RuleProfile(done.Profile)
			return err
		}
		if KindOf(err) != NotFound {
			return err
		}
		by, before, err := l.changeable(tx, e, deed)
		if err != nil {
			return err
		}
		var what []string
		if after, what, err = decide(tx, by, before, now); err != nil || len(what) == 0 {
			return err
		}
		after.Version++
		return tx.WriteProfile(after, ProfileChange{Profile: after.ID, Version: after.Version, Person: by.Code, At: now, RequestKey: e.RequestKey, Request: wish, Deed: deed, What: what})
	})
	return after, err
}

// changeable returns who changes a profile and the profile, if they may.
func (l *Ledger) changeable(tx Tx, e ProfileEntry, deed ProfileDeed) (Person, RuleProfile, error) {
	by, err := tx.Person(e.Person)
	if err != nil {
		return by, RuleProfile{}, err
	}
	if !by.Role.MayRelease() {
		return by, RuleProfile{}, Forbiddenf("may-not-set-rules", "%s is a %s: the welding engineer or the owner sets rule profiles", by.Name, by.Role)
	}
	p, err := l.profile(tx, e.Profile)
	switch {
	case err != nil:
		return by, p, err
	case deed == ProfileCopied:
		return by, p, nil
	case !p.Shop():
		return by, p, Refusedf("profile-of-program", "%s came with the program and nobody changes it: copy it", p.Name)
	case e.Seen != 0 && e.Seen != p.Version:
		return by, p, Conflictf("profile-changed", "%s was changed after you opened it: look at it again, then make your change", p.Name)
	}
	return by, p, nil
}
