package store

import (
	"database/sql"
	"errors"
	"time"

	"gorm.io/gorm"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

type placeRow struct {
	Code    string
	Name    string
	Kind    string
	DryKept bool
	Version int
}

func (placeRow) TableName() string { return "places" }

func (p placeRow) place() inventory.Place {
	return inventory.Place{Code: inventory.Code(p.Code), Name: p.Name, Kind: inventory.PlaceKind(p.Kind), DryKept: p.DryKept, Version: p.Version}
}

func placeRowOf(p inventory.Place) placeRow {
	return placeRow{Code: string(p.Code), Name: p.Name, Kind: string(p.Kind), DryKept: p.DryKept, Version: p.Version}
}

type feederRow struct {
	Code        string
	Polarities  string
	Gas         sql.NullString
	DiametersNm string

	Polarity        string
	Rolls           string
	RollSizeNm      int64
	GunNm           int64
	LinerNm         int64
	Packages        string
	LargestPackageG int64
}

// feederColumns are those of a feeder f and the place p that it is.
const feederColumns = `p.code, p.name, p.kind, p.dry_kept, p.version, f.polarities, f.gas, f.diameters_nm, f.polarity, f.rolls, f.roll_size_nm, f.gun_nm, f.liner_nm, f.packages, f.largest_package_g`

func (feederRow) TableName() string { return "feeders" }

func (f feederRow) feeder(p placeRow) (inventory.Feeder, error) {
	out := inventory.Feeder{Place: p.place(), Polarities: items[fit.Polarity](f.Polarities), Polarity: fit.Polarity(f.Polarity), Rolls: fit.Rolls(f.Rolls),
		RollSize: unit.Length(f.RollSizeNm), Gun: unit.Length(f.GunNm), Liner: unit.Length(f.LinerNm), LargestPackage: unit.Grams(f.LargestPackageG)}
	var errs [3]error
	out.Gas, errs[0] = gasFrom(f.Gas)
	out.Diameters, errs[1] = lengthsFrom(f.DiametersNm)
	out.Packages, errs[2] = packagesFrom(f.Packages)
	return out, errors.Join(errs[:]...)
}

// Place returns a place; a feeder is one too.
func (r *reader) Place(c inventory.Code) (inventory.Place, error) {
	var p placeRow
	err := r.stmt(r.hot.place).QueryRowContext(r.ctx, string(c)).Scan(&p.Code, &p.Name, &p.Kind, &p.DryKept, &p.Version)
	return p.place(), missing(err, "no-such-place", "there is no place %s", c)
}

// Feeder returns a feeder.
func (r *reader) Feeder(c inventory.Code) (inventory.Feeder, error) {
	var p placeRow
	var f feederRow
	err := r.stmt(r.hot.feeder).QueryRowContext(r.ctx, string(c)).Scan(&p.Code, &p.Name, &p.Kind, &p.DryKept, &p.Version,
		&f.Polarities, &f.Gas, &f.DiametersNm, &f.Polarity, &f.Rolls, &f.RollSizeNm, &f.GunNm, &f.LinerNm, &f.Packages, &f.LargestPackageG)
	if err != nil {
		return inventory.Feeder{}, missing(err, "no-such-feeder", "there is no feeder %s", c)
	}
	return f.feeder(p)
}

// AddPlace enters a place, at its first version.
func (t *tx) AddPlace(p inventory.Place) error {
	p.Version = 1
	row := placeRowOf(p)
	if err := t.db.Create(&row).Error; err != nil || !p.DryKept {
		return err
	}
	return t.KeepDry(p.Code, true, time.Unix(0, 0)) // since ever: nothing stood in it before
}

// AddFeeder enters a feeder and the place it is.
func (t *tx) AddFeeder(f inventory.Feeder) error {
	if err := t.AddPlace(f.Place); err != nil {
		return err
	}
	row := feederRowOf(f)
	return t.db.Create(&row).Error
}

func feederRowOf(f inventory.Feeder) feederRow {
	return feederRow{Code: string(f.Code), Polarities: lines(f.Polarities), Gas: gas(f.Gas), DiametersNm: lengths(f.Diameters), Polarity: string(f.Polarity),
		Rolls: string(f.Rolls), RollSizeNm: int64(f.RollSize), GunNm: int64(f.Gun), LinerNm: int64(f.Liner), Packages: packages(f.Packages), LargestPackageG: int64(f.LargestPackage)}
}

// UpdatePlace writes a place. [inventory.Conflict] if it is not at the version
// before.
func (t *tx) UpdatePlace(p inventory.Place) error {
	return updated(t.db.Model(&placeRow{}).Where("code = ? AND version = ?", string(p.Code), p.Version-1).
		Updates(map[string]any{"name": p.Name, "kind": string(p.Kind), "dry_kept": p.DryKept, "version": p.Version}))
}

// UpdateFeeder writes a feeder and the place it is; see [tx.UpdatePlace].
func (t *tx) UpdateFeeder(f inventory.Feeder) error {
	if err := t.UpdatePlace(f.Place); err != nil {
		return err
	}
	row := feederRowOf(f)
	return t.db.Model(&feederRow{}).Where("code = ?", row.Code).Select("*").Omit("Code").Updates(row).Error
}

// Places returns every place that is not a feeder, by name.
func (r *reader) Places() ([]inventory.Place, error) {
	var rows []placeRow
	err := r.db.Where("kind <> ?", string(inventory.AtFeeder)).Order("name").Limit(maxPlaces).Find(&rows).Error
	out := make([]inventory.Place, len(rows))
	for i, row := range rows {
		out[i] = row.place()
	}
	return out, err
}

// maxPlaces bounds the lists of places, feeders and people.
const maxPlaces = 1000

// Feeders returns every feeder, by name.
func (r *reader) Feeders() ([]inventory.Feeder, error) {
	return feeders(r.db.Order("p.name").Limit(maxPlaces))
}

// feeders returns the feeders f, places p, that q chooses.
func feeders(q *gorm.DB) ([]inventory.Feeder, error) {
	var rows []struct {
		Place  placeRow  `gorm:"embedded"`
		Feeder feederRow `gorm:"embedded"`
	}
	err := q.Table("feeders f").Select(feederColumns).Joins("JOIN places p ON p.code = f.code").Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	out := make([]inventory.Feeder, len(rows))
	for i, row := range rows {
		if out[i], err = row.Feeder.feeder(row.Place); err != nil {
			return nil, err
		}
	}
	return out, nil
}
