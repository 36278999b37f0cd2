package store

import (
	"time"

	"gorm.io/gorm/clause"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

type climateUndryRow struct {
	PlaceCode string
	FromAt    int64
	ToAt      int64
	Cause     int
}

func (climateUndryRow) TableName() string { return "climate_undry" }

func (u climateUndryRow) undry() exposure.Undry {
	return exposure.Undry{Span: exposure.Span{From: unixUTC(u.FromAt), To: unixUTC(u.ToAt)}, Cause: exposure.Cause(u.Cause)}
}

// mostUndry is how many stretches one question may be answered with: a place
// that is out twice an hour for ten years.
const mostUndry = 200_000

// Outside returns when the place was not dry; see [inventory.ClimateReader].
func (r *reader) Outside(place inventory.Code, from, to time.Time) ([]exposure.Span, error) {
	p, err := r.PlaceClimate(place)
	if err != nil {
		return nil, err
	}
	if !p.DryKept {
		return exposure.Union(exposure.Span{From: from, To: to}), nil
	}
	undry, err := r.undry(p, from, to)
	return exposure.Spans(undry), err
}

// Undry returns when and why the dry-kept place was not dry.
func (r *reader) Undry(place inventory.Code, from, to time.Time) ([]exposure.Undry, error) {
	p, err := r.PlaceClimate(place)
	if err != nil {
		return nil, err
	}
	return r.undry(p, from, to)
}

// undry joins what is kept up to the place's latest reading with what follows
// from the latest readings beyond it.
func (r *reader) undry(p inventory.PlaceClimate, from, to time.Time) ([]exposure.Undry, error) {
	state, err := r.ClimateState(p.Code)
	if err != nil {
		return nil, err
	}
	var rows []climateUndryRow
	err = r.db.Where("place_code = ? AND to_at > ? AND from_at < ?", string(p.Code), from.Unix(), to.Unix()).Order("from_at").Limit(mostUndry + 1).Find(&rows).Error
	if err != nil {
		return nil, err
	}
	if len(rows) > mostUndry {
		return nil, inventory.Invalidf("from", "%s was not dry more than %d times since %s: choose a later instant", p.Name, mostUndry, inventory.Stamp(from))
	}
	out := make([]exposure.Undry, 0, len(rows))
	for _, row := range rows {
		u := row.undry()
		u.From, u.To = later(u.From, from), sooner(u.To, to)
		out = join(out, u)
	}
	for _, u := range exposure.NotDry(p.Latest, inventory.PureLimits(p.Limits), later(from, state.SettledAt), to) {
		out = join(out, u)
	}
	return out, nil
}

// join adds a stretch, as one with the last where they touch for one cause.
func join(out []exposure.Undry, u exposure.Undry) []exposure.Undry {
	last := len(out) - 1
	switch {
	case !u.From.Before(u.To):
		return out
	case last >= 0 && out[last].Cause == u.Cause && out[last].To.Equal(u.From):
		out[last].To = u.To
		return out
	}
	return append(out, u)
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

func sooner(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// SettleClimate replaces what is kept of [from, to).
func (t *tx) SettleClimate(place inventory.Code, from, to time.Time, undry []exposure.Undry, settledAt time.Time) error {
	var old []climateUndryRow
	const touching = "place_code = ? AND to_at >= ? AND from_at <= ?"
	if err := t.db.Where(touching, string(place), from.Unix(), to.Unix()).Order("from_at").Limit(mostUndry).Find(&old).Error; err != nil {
		return err
	}
	if err := t.db.Where(touching, string(place), from.Unix(), to.Unix()).Delete(&climateUndryRow{}).Error; err != nil {
		return err
	}
	var all, after []exposure.Undry
	for _, row := range old {
		before, behind := row.undry(), row.undry()
		before.To, behind.From = sooner(before.To, from), later(behind.From, to)
		all = join(all, before)
		after = join(after, behind)
	}
	for _, u := range append(undry, after...) {
		all = join(all, u)
	}
	rows := make([]climateUndryRow, len(all))
	for i, u := range all {
		rows[i] = climateUndryRow{string(place), u.From.Unix(), u.To.Unix(), int(u.Cause)}
	}
	if len(rows) > 0 {
		if err := t.db.CreateInBatches(rows, rowsAtOnce).Error; err != nil {
			return err
		}
	}
	return t.db.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "place_code"}}, DoUpdates: clause.AssignmentColumns([]string{"settled_at"})}).
		Create(&climatePlaceRow{PlaceCode: string(place), SettledAt: settledAt.Unix()}).Error
}

type climateMeanRow struct {
	Name         string
	FromAt       int64
	Readings     int64
	LowestMdegc  int64
	HighestMdegc int64
	SumMdegc     int64
	LowestMpct   int64
	HighestMpct  int64
	SumMpct      int64
}

func (m climateMeanRow) mean() inventory.ClimateMean {
	return inventory.ClimateMean{Logger: m.Name, From: unixUTC(m.FromAt), Readings: int(m.Readings),
		Lowest: unit.Celsius(m.LowestMdegc), Highest: unit.Celsius(m.HighestMdegc), Mean: unit.Celsius(mean(m.SumMdegc, m.Readings)),
		Driest: unit.Humidity(m.LowestMpct), Dampest: unit.Humidity(m.HighestMpct), MeanHum: unit.Humidity(mean(m.SumMpct, m.Readings))}
}

// mean returns sum / n rounded down to the thousandth that it is counted in.
func mean(sum, n int64) int64 { return sum / max(n, 1) }

// ClimateMeans returns a place's readings summed up by the hour, the day, or
// several days.
func (r *reader) ClimateMeans(place inventory.Code, length time.Duration, from, to time.Time) ([]inventory.ClimateMean, error) {
	const ofPlace = "l.place_code = ? AND m.length_s = ? AND m.from_at >= ? AND m.from_at < ?"
	q := r.db.Table("climate_means m").Joins("JOIN climate_loggers l ON l.id = m.logger_id").
		Where(ofPlace, string(place), int64(min(length, inventory.ByDay)/time.Second), from.Unix(), to.Unix()).Limit(mostClimateRows + 1)
	if length > inventory.ByDay {
		seconds := int64(length / time.Second)
		q = q.Select("l.name, m.from_at / ? * ? AS from_at, SUM(m.readings) AS readings, MIN(m.lowest_mdegc) AS lowest_mdegc, MAX(m.highest_mdegc) AS highest_mdegc, SUM(m.sum_mdegc) AS sum_mdegc, MIN(m.lowest_mpct) AS lowest_mpct, MAX(m.highest_mpct) AS highest_mpct, SUM(m.sum_mpct) AS sum_mpct", seconds, seconds).
			Group("1, 2").Order("2, 1")
	} else {
		q = q.Select("l.name, m.from_at, m.readings, m.lowest_mdegc, m.highest_mdegc, m.sum_mdegc, m.lowest_mpct, m.highest_mpct, m.sum_mpct").Order("m.from_at, l.name")
	}
	var rows []climateMeanRow
	if err := q.Scan(&rows).Error; err != nil {
		return nil, err
	}
	if len(rows) > mostClimateRows {
		return nil, inventory.Invalidf("from", "there are more than %d sums of readings since %s: choose a later instant", mostClimateRows, inventory.Stamp(from))
	}
	out := make([]inventory.ClimateMean, len(rows))
	for i, row := range rows {
		out[i] = row.mean()
	}
	return out, nil
}
