package inventory

import (
	"context"
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/fit"
)

// ProfileChange is one line of a rule profile's history. The changes are a
// ledger of their own, chained like the movements.
type ProfileChange struct {
	Link
	Profile string
	Deed    ProfileDeed
	Change
	Content string // SHA-256 of the profile as the change leaves it
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
		last, err := tx.ProfileHead()
		if err != nil {
			return err
		}
		change := ProfileChange{Link: last.next(), Profile: after.ID, Deed: deed, Content: after.digest(),
			Change: Change{Version: after.Version, Person: by.Code, At: now, RequestKey: e.RequestKey, Request: wish, What: what}}
		change.Hash = change.hash()
		return tx.WriteProfile(after, change)
	})
	return after, err
}

// changeable returns who changes a profile and the profile, if they may.
func (l *Ledger) changeable(tx Tx, e ProfileEntry, deed ProfileDeed) (Person, RuleProfile, error) {
	by, err := badge(tx, e.Person)
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
