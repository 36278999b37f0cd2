package store

import (
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

type ruleProfileRow struct {
	ID         string
	Name       string
	Base       string
	WaiverDays int
	Version    int
}

func (ruleProfileRow) TableName() string { return "rule_profiles" }

func (p ruleProfileRow) profile() inventory.RuleProfile {
	return inventory.RuleProfile{Profile: fit.Profile{ID: p.ID, Name: p.Name, Base: p.Base}, WaiverDays: p.WaiverDays, Version: p.Version}
}

type profileLimitRow struct {
	ProfileID   string
	Version     int
	Line        int
	Rule        string
	Parameter   string
	Value       string
	Condition   string
	Action      string
	Provenance  string
	Source      string
	Note        string
	ConfirmedBy string
	ConfirmedOn string
	LoosenedBy  string
	LoosenedOn  string
	LoosenedWhy string
}

func (profileLimitRow) TableName() string { return "profile_limits" }

func (l profileLimitRow) limit() fit.Limit {
	return fit.Limit{Rule: fit.Rule(l.Rule), Parameter: l.Parameter, Value: l.Value, Condition: l.Condition, Action: fit.Outcome(l.Action),
		Provenance: filler.Provenance(l.Provenance), Source: l.Source, Note: l.Note, ConfirmedBy: l.ConfirmedBy, ConfirmedOn: l.ConfirmedOn,
		LoosenedBy: l.LoosenedBy, LoosenedOn: l.LoosenedOn, LoosenedWhy: l.LoosenedWhy}
}

const mostProfiles, mostLimits = 200, 200

// RuleProfile returns the shop's own profile as it is now.
func (r *reader) RuleProfile(id string) (inventory.RuleProfile, error) {
	var row ruleProfileRow
	if err := r.db.Where("id = ?", id).Take(&row).Error; err != nil {
		return inventory.RuleProfile{}, missing(err, "no-such-profile", "there is no rule profile %q", id)
	}
	p := row.profile()
	var limits []profileLimitRow
	err := r.db.Where("profile_id = ? AND version = ?", id, row.Version).Order("line").Limit(mostLimits).Find(&limits).Error
	for _, l := range limits {
		p.Limits = append(p.Limits, l.limit())
	}
	return p, err
}

// RuleProfiles returns the shop's own profiles by name.
func (r *reader) RuleProfiles() ([]inventory.RuleProfile, error) {
	var rows []ruleProfileRow
	if err := r.db.Order("name").Limit(mostProfiles).Find(&rows).Error; err != nil {
		return nil, err
	}
	var limits []profileLimitRow
	err := r.db.Table("profile_limits l").Select("l.*").Joins("JOIN rule_profiles p ON p.id = l.profile_id AND p.version = l.version").
		Order("l.profile_id, l.line").Limit(mostProfiles * mostLimits).Scan(&limits).Error
	of := map[string][]fit.Limit{}
	for _, l := range limits {
		of[l.ProfileID] = append(of[l.ProfileID], l.limit())
	}
	out := make([]inventory.RuleProfile, len(rows))
	for i, row := range rows {
		out[i] = row.profile()
		out[i].Limits = of[row.ID]
	}
	return out, err
}

type profileChangeRow struct {
	ProfileID string
	Change    changeRow `gorm:"embedded"`
	Content   string
	Link      linkRow `gorm:"embedded"`
}

func (profileChangeRow) TableName() string { return "profile_changes" }

func (c profileChangeRow) told(name string) inventory.ProfileChange {
	return inventory.ProfileChange{Link: c.Link.link(), Profile: c.ProfileID, Deed: inventory.ProfileDeed(c.Change.Deed), Change: c.Change.change(name), Content: c.Content}
}

const profileChangeColumns = "c.profile_id, c.seq, c.content, c.prev_hash, c.hash, " + changeColumns

// ProfileChanges returns up to limit changes of a profile, the latest first.
func (r *reader) ProfileChanges(id string, limit int) ([]inventory.ProfileChange, error) {
	return history[profileChangeRow](r.db.Table("profile_changes c").Where("c.profile_id = ?", id), profileChangeColumns, limit)
}

// ProfileLog returns up to limit changes of all profiles after seq, in order.
func (r *reader) ProfileLog(after int64, limit int) ([]inventory.ProfileChange, error) {
	var rows []profileChangeRow
	err := r.db.Where("seq > ?", after).Order("seq").Limit(limit).Find(&rows).Error
	out := make([]inventory.ProfileChange, len(rows))
	for i, row := range rows {
		out[i] = row.told("")
	}
	return out, err
}

// ProfileHead returns the link of the last change of a profile.
func (t *tx) ProfileHead() (inventory.Link, error) { return t.head("profile_changes") }

// ProfileRequested returns the change made by the request key.
func (t *tx) ProfileRequested(key string) (inventory.ProfileChange, error) {
	return requested[profileChangeRow](t.db.Table("profile_changes c"), profileChangeColumns, key)
}

// NextProfile returns the id of the next profile.
func (t *tx) NextProfile() (string, error) {
	n, err := t.next("rule profile")
	return fmt.Sprintf("shop-%d", n), err
}

// WriteProfile keeps a profile at its version, its limits and the change.
func (t *tx) WriteProfile(p inventory.RuleProfile, c inventory.ProfileChange) error {
	row := ruleProfileRow{ID: p.ID, Name: p.Name, Base: p.Base, WaiverDays: p.WaiverDays, Version: p.Version}
	if p.Version == 1 {
		if err := t.db.Create(&row).Error; err != nil {
			return err
		}
	} else {
		res := t.db.Model(&ruleProfileRow{}).Where("id = ? AND version = ?", p.ID, p.Version-1).Select("Name", "WaiverDays", "Version").Updates(row)
		if res.Error != nil {
			return res.Error
		}
		if res.RowsAffected != 1 {
			return inventory.Conflictf("profile-changed", "%s was changed a moment ago: look at it again", p.Name)
		}
	}
	limits := make([]profileLimitRow, len(p.Limits))
	for i, l := range p.Limits {
		limits[i] = profileLimitRow{ProfileID: p.ID, Version: p.Version, Line: i, Rule: string(l.Rule), Parameter: l.Parameter, Value: l.Value, Condition: l.Condition,
			Action: string(l.Action), Provenance: string(l.Provenance), Source: l.Source, Note: l.Note, ConfirmedBy: l.ConfirmedBy, ConfirmedOn: l.ConfirmedOn,
			LoosenedBy: l.LoosenedBy, LoosenedOn: l.LoosenedOn, LoosenedWhy: l.LoosenedWhy}
	}
	if len(limits) > 0 {
		if err := t.db.CreateInBatches(&limits, 50).Error; err != nil {
			return err
		}
	}
	return t.db.Create(&profileChangeRow{ProfileID: c.Profile, Change: changeRowOf(c.Change, string(c.Deed)), Content: c.Content, Link: linkRowOf(c.Link)}).Error
}
