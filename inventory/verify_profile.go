package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
)

func (c ProfileChange) about() string { return c.Profile }

func (c ProfileChange) hash() string {
	h := sha256.New()
	number(h, c.Seq)
	number(h, int64(c.Version))
	number(h, c.At.Unix())
	for _, s := range [...]string{c.Profile, string(c.Person), c.RequestKey, c.Request, string(c.Deed), strings.Join(c.What, "\n"), c.Content, c.Prev} {
		text(h, s)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// digest returns the SHA-256 of the profile with every word of its limits.
func (p RuleProfile) digest() string {
	h := sha256.New()
	number(h, int64(p.Version))
	number(h, int64(p.WaiverDays))
	for _, s := range [...]string{p.ID, p.Name, p.Base} {
		text(h, s)
	}
	for _, l := range p.Limits {
		for _, s := range [...]string{string(l.Rule), l.Parameter, l.Value, l.Condition, string(l.Action), string(l.Provenance), l.Source, l.Note,
			l.ConfirmedBy, l.ConfirmedOn, l.LoosenedBy, l.LoosenedOn, l.LoosenedWhy} {
			text(h, s)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// profileReplay is the changes of rule profiles read again from the start.
type profileReplay struct {
	chain
	last map[string]ProfileChange
}

func (r *profileReplay) run(reader Reader) error {
	if err := replayed(&r.chain, reader.ProfileLog, r.add); err != nil {
		return err
	}
	return r.compare(reader)
}

func (r *profileReplay) add(c ProfileChange) {
	if want := r.last[c.Profile].Version + 1; c.Version != want {
		r.fault("profile change %d leaves %s at version %d, want %d", c.Seq, c.Profile, c.Version, want)
	}
	r.last[c.Profile] = c
}

// compare holds the profiles, as the gate reads them, against their last
// changes.
func (r *profileReplay) compare(reader Reader) error {
	profiles, err := reader.RuleProfiles()
	if err != nil {
		return fmt.Errorf("compare rule profiles: %w", err)
	}
	for _, p := range profiles {
		if last := r.last[p.ID]; p.digest() != last.Content || p.Version != last.Version {
			r.fault("rule profile %s (%s): its limits are not those that its last change left", p.ID, p.Title())
		}
	}
	if len(profiles) < len(r.last) {
		r.fault("%d rule profiles have changes and no row", len(r.last)-len(profiles))
	}
	return nil
}
