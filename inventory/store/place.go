package store

import (
	"database/sql"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

type placeRow struct {
	Code    string
	Name    string
	Kind    string
	DryKept bool
}

func (placeRow) TableName() string { return "places" }

func (p placeRow) place() inventory.Place {
	return inventory.Place{Code: inventory.Code(p.Code), Name: p.Name, Kind: inventory.PlaceKind(p.Kind), DryKept: p.DryKept}
}

func placeRowOf(p inventory.Place) placeRow {
	return placeRow{Code: string(p.Code), Name: p.Name, Kind: string(p.Kind), DryKept: p.DryKept}
}

type feederRow struct {
	Code        string
	Polarities  string
	Gas         sql.NullString
	DiametersNm string
}

func (feederRow) TableName() string { return "feeders" }

func (f feederRow) feeder(p placeRow) (inventory.Feeder, error) {
	out := inventory.Feeder{Place: p.place(), Polarities: items[fit.Polarity](f.Polarities)}
	var err error
	if out.Gas, err = gasFrom(f.Gas); err != nil {
		return out, err
	}
	out.Diameters, err = lengthsFrom(f.DiametersNm)
	return out, err
}

// Place returns a place; a feeder is one too.
func (r *reader) Place(c inventory.Code) (inventory.Place, error) {
	var p placeRow
	err := r.stmt(r.hot.place).QueryRowContext(r.ctx, string(c)).Scan(&p.Code, &p.Name, &p.Kind, &p.DryKept)
	return p.place(), missing(err, "no-such-place", "there is no place %s", c)
}

// Feeder returns a feeder.
func (r *reader) Feeder(c inventory.Code) (inventory.Feeder, error) {
	var p placeRow
	var f feederRow
	err := r.stmt(r.hot.feeder).QueryRowContext(r.ctx, string(c)).Scan(&p.Code, &p.Name, &p.Kind, &p.DryKept, &f.Polarities, &f.Gas, &f.DiametersNm)
	if err != nil {
		return inventory.Feeder{}, missing(err, "no-such-feeder", "there is no feeder %s", c)
	}
	return f.feeder(p)
}

// AddPlace enters a place.
func (t *tx) AddPlace(p inventory.Place) error {
	row := placeRowOf(p)
	return t.db.Create(&row).Error
}

// AddFeeder enters a feeder and the place it is.
func (t *tx) AddFeeder(f inventory.Feeder) error {
	if err := t.AddPlace(f.Place); err != nil {
		return err
	}
	row := feederRow{Code: string(f.Code), Polarities: lines(f.Polarities), Gas: gas(f.Gas), DiametersNm: lengths(f.Diameters)}
	return t.db.Create(&row).Error
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
	var rows []struct {
		Row         placeRow `gorm:"embedded"`
		Polarities  string
		Gas         sql.NullString
		DiametersNm string
	}
	err := r.db.Table("feeders f").Select("p.code, p.name, p.kind, p.dry_kept, f.polarities, f.gas, f.diameters_nm").
		Joins("JOIN places p ON p.code = f.code").Order("p.name").Limit(maxPlaces).Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	out := make([]inventory.Feeder, len(rows))
	for i, row := range rows {
		f := feederRow{Polarities: row.Polarities, Gas: row.Gas, DiametersNm: row.DiametersNm}
		if out[i], err = f.feeder(row.Row); err != nil {
			return nil, err
		}
	}
	return out, nil
}
