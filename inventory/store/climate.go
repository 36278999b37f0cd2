package store

import (
	"database/sql"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Temperatures are kept in thousandths of a degree Celsius (_mdegc), relative
// humidities in thousandths of a percent (_mpct), as unit has them.

type climateLimitsRow struct {
	PlaceCode    string
	Version      int
	FromAt       int64
	MostRhMpct   sql.NullInt64
	LowestMdegc  sql.NullInt64
	HighestMdegc sql.NullInt64
	MaxGapS      int64
	Provenance   string
	Source       string
}

func (climateLimitsRow) TableName() string { return "climate_limits" }

func (l climateLimitsRow) limits() inventory.ClimateLimits {
	return inventory.ClimateLimits{Version: l.Version, Provenance: filler.Provenance(l.Provenance), Source: l.Source,
		Limits: exposure.Limits{From: unixUTC(l.FromAt), MaxHumidity: numberFrom[unit.Humidity](l.MostRhMpct), Lowest: numberFrom[unit.Celsius](l.LowestMdegc),
			Highest: numberFrom[unit.Celsius](l.HighestMdegc), MaxGap: time.Duration(l.MaxGapS) * time.Second}}
}

// number is a quantity as the database keeps it; NULL for none.
func number[T ~int64](v *T) sql.NullInt64 {
	if v == nil {
		return sql.NullInt64{}
	}
	return sql.NullInt64{Int64: int64(*v), Valid: true}
}

// numberFrom reads what number wrote.
func numberFrom[T ~int64](n sql.NullInt64) *T {
	if !n.Valid {
		return nil
	}
	v := T(n.Int64)
	return &v
}

type climateLoggerRow struct {
	ID        int64
	PlaceCode string
	Name      string
	LastAt    int64
	LastMdegc int64
	LastMpct  int64
}

func (climateLoggerRow) TableName() string { return "climate_loggers" }

func (l climateLoggerRow) reading() exposure.Reading {
	return exposure.Reading{Logger: l.Name, At: unixUTC(l.LastAt), Air: exposure.Air{Temperature: unit.Celsius(l.LastMdegc), Humidity: unit.Humidity(l.LastMpct)}}
}

const mostClimateRows = 20_000

// PlaceClimate returns one place with its limits and latest readings.
func (r *reader) PlaceClimate(c inventory.Code) (inventory.PlaceClimate, error) {
	place, err := r.Place(c)
	if err != nil {
		return inventory.PlaceClimate{}, err
	}
	all, err := r.climates([]inventory.Place{place})
	if err != nil {
		return inventory.PlaceClimate{}, err
	}
	return all[0], nil
}

// PlaceClimates returns every place that is dry-kept or has a logger, by name.
func (r *reader) PlaceClimates() ([]inventory.PlaceClimate, error) {
	var rows []placeRow
	err := r.db.Where("dry_kept = ? OR code IN (SELECT place_code FROM climate_loggers)", true).Order("name").Limit(maxPlaces).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	places := make([]inventory.Place, len(rows))
	for i, row := range rows {
		places[i] = row.place()
	}
	return r.climates(places)
}

// climates reads limits and latest readings of all the places at once.
func (r *reader) climates(places []inventory.Place) ([]inventory.PlaceClimate, error) {
	codes, at := make([]string, len(places)), map[string]int{}
	out := make([]inventory.PlaceClimate, len(places))
	for i, p := range places {
		codes[i], out[i].Place, at[string(p.Code)] = string(p.Code), p, i
	}
	var limits []climateLimitsRow
	if err := r.db.Where("place_code IN ?", codes).Order("place_code, version").Limit(mostClimateRows).Find(&limits).Error; err != nil {
		return nil, err
	}
	for _, l := range limits {
		p := &out[at[l.PlaceCode]]
		p.Limits = append(p.Limits, l.limits())
	}
	var loggers []struct {
		Row    climateLoggerRow `gorm:"embedded"`
		ByHand bool
	}
	err := r.db.Table("climate_loggers l").Select("l.id, l.place_code, l.name, l.last_at, l.last_mdegc, l.last_mpct, COALESCE(b.way = ?, FALSE) AS by_hand", string(inventory.ByHand)).
		Joins("LEFT JOIN climate_readings r ON r.logger_id = l.id AND r.at = l.last_at").Joins("LEFT JOIN climate_batches b ON b.id = r.batch_id").
		Where("l.place_code IN ?", codes).Order("l.place_code, l.name").Limit(mostClimateRows).Scan(&loggers).Error
	for _, l := range loggers {
		p := &out[at[l.Row.PlaceCode]]
		p.Latest, p.ByHand = append(p.Latest, l.Row.reading()), append(p.ByHand, l.ByHand)
	}
	return out, err
}

// AddClimateLimits adds limits to those of a place.
func (t *tx) AddClimateLimits(place inventory.Code, l inventory.ClimateLimits) error {
	return t.db.Create(&climateLimitsRow{PlaceCode: string(place), Version: l.Version, FromAt: l.From.Unix(), MostRhMpct: number(l.MaxHumidity),
		LowestMdegc: number(l.Lowest), HighestMdegc: number(l.Highest), MaxGapS: int64(l.MaxGap / time.Second), Provenance: string(l.Provenance), Source: l.Source}).Error
}

type climatePlaceRow struct {
	PlaceCode string
	SettledAt int64
	TakenFrom int64
}

func (climatePlaceRow) TableName() string { return "climate_places" }

// ClimateState returns how far a place's readings are settled.
func (r *reader) ClimateState(c inventory.Code) (inventory.ClimateState, error) {
	var rows []climatePlaceRow
	err := r.db.Where("place_code = ?", string(c)).Limit(1).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return inventory.ClimateState{}, err
	}
	s := inventory.ClimateState{SettledAt: unixUTC(rows[0].SettledAt)}
	if rows[0].TakenFrom > 0 {
		s.TakenFrom = unixUTC(rows[0].TakenFrom)
	}
	return s, nil
}
