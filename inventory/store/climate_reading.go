package store

import (
	"slices"
	"time"

	"gorm.io/gorm/clause"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

type climateBatchRow struct {
	ID         int64
	PersonCode string
	EnteredAt  int64
	Way        string
	File       string
	SHA256     string `gorm:"column:sha256"`
	Readings   int
}

func (climateBatchRow) TableName() string { return "climate_batches" }

type climateReadingRow struct {
	LoggerID int64 `gorm:"primaryKey;autoIncrement:false"`
	At       int64 `gorm:"primaryKey;autoIncrement:false"`
	Mdegc    int64
	Mpct     int64
	BatchID  int64
}

func (climateReadingRow) TableName() string { return "climate_readings" }

// loggerKey names a logger.
type loggerKey struct{ place, name string }

func keyOf(r inventory.PlacedReading) loggerKey { return loggerKey{string(r.Place), r.Logger} }

// rowsAtOnce is how many rows go into one statement.
const rowsAtOnce = 1000

// AddReadings keeps the readings that are not there yet and sums them up.
func (t *tx) AddReadings(b inventory.ReadingBatch, readings []inventory.PlacedReading) ([]int, error) {
	loggers, err := t.loggers(readings)
	if err != nil {
		return nil, err
	}
	batch, err := t.next("climate batch")
	if err != nil {
		return nil, err
	}
	rows, first, err := readingRows(readings, loggers, batch)
	if err != nil {
		return nil, err
	}
	res := t.db.Clauses(clause.OnConflict{DoNothing: true}).CreateInBatches(rows, rowsAtOnce)
	if res.Error != nil {
		return nil, res.Error
	}
	kept := first
	if res.RowsAffected != int64(len(rows)) {
		if kept, err = t.without(first, rows, readings, batch); err != nil {
			return nil, err
		}
	}
	if len(kept) == 0 {
		return nil, nil
	}
	row := climateBatchRow{ID: batch, PersonCode: string(b.Person), EnteredAt: b.At.Unix(), Way: string(b.Way), File: b.File, SHA256: b.SHA256, Readings: len(kept)}
	if err := t.db.Create(&row).Error; err != nil {
		return nil, err
	}
	return kept, t.sumUp(kept, readings, loggers)
}

// loggers returns the ids of the readings' loggers; new ones are entered, and
// the latest that each said is kept.
func (t *tx) loggers(readings []inventory.PlacedReading) (map[loggerKey]int64, error) {
	latest := map[loggerKey]inventory.PlacedReading{}
	var places, names []string
	for _, r := range readings {
		l, seen := latest[keyOf(r)]
		if !seen {
			places, names = append(places, string(r.Place)), append(names, r.Logger)
		}
		if !seen || r.At.After(l.At) {
			latest[keyOf(r)] = r
		}
	}
	var known []climateLoggerRow
	if err := t.db.Where("place_code IN ? AND name IN ?", places, names).Limit(mostClimateRows).Find(&known).Error; err != nil {
		return nil, err
	}
	ids := map[loggerKey]int64{}
	for _, l := range known {
		ids[loggerKey{l.PlaceCode, l.Name}] = l.ID
	}
	rows := make([]climateLoggerRow, len(places))
	for i := range places {
		k := loggerKey{places[i], names[i]}
		if ids[k] == 0 {
			id, err := t.next("climate logger")
			if err != nil {
				return nil, err
			}
			ids[k] = id
		}
		r := latest[k]
		rows[i] = climateLoggerRow{ids[k], k.place, k.name, r.At.Unix(), int64(r.Air.Temperature), int64(r.Air.Humidity)}
	}
	return ids, t.db.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "place_code"}, {Name: "name"}},
		DoUpdates: clause.AssignmentColumns([]string{"last_at", "last_mdegc", "last_mpct"}),
		Where:     clause.Where{Exprs: []clause.Expression{clause.Expr{SQL: "climate_loggers.last_at < excluded.last_at"}}},
	}).CreateInBatches(rows, rowsAtOnce).Error
}

// readingRows makes rows of the readings, without what stands twice in them;
// indices says which reading each row is.
func readingRows(readings []inventory.PlacedReading, loggers map[loggerKey]int64, batch int64) (rows []climateReadingRow, indices []int, err error) {
	type instant struct{ logger, at int64 }
	met := make(map[instant]int, len(readings))
	rows, indices = make([]climateReadingRow, 0, len(readings)), make([]int, 0, len(readings))
	for i, r := range readings {
		row := climateReadingRow{loggers[keyOf(r)], r.At.Unix(), int64(r.Air.Temperature), int64(r.Air.Humidity), batch}
		if j, twice := met[instant{row.LoggerID, row.At}]; twice {
			if readings[j].Air != r.Air {
				return nil, nil, differs(r, readings[j].Air)
			}
			continue
		}
		met[instant{row.LoggerID, row.At}] = i
		rows, indices = append(rows, row), append(indices, i)
	}
	return rows, indices, nil
}

// differs is the error of a reading that is there with other values.
func differs(r inventory.PlacedReading, has exposure.Air) error {
	detail := "logger " + r.Logger + " has " + has.Temperature.String() + " and " + has.Humidity.String() + " for " + inventory.Stamp(r.At) + " already: a reading is never changed; leave this one out"
	return &inventory.Error{Kind: inventory.Conflict, Code: "reading-differs", Detail: detail, Fields: []inventory.FieldFault{{Field: r.Where + "/at", Detail: detail}}}
}

// without returns the indices without those of readings that other batches
// brought. [inventory.Conflict] if one of those has other values.
func (t *tx) without(indices []int, rows []climateReadingRow, readings []inventory.PlacedReading, batch int64) ([]int, error) {
	there := map[[2]int64]exposure.Air{}
	for chunk := range slices.Chunk(rows, rowsAtOnce) {
		loggers, ats := []int64{}, make([]int64, len(chunk))
		for i, row := range chunk {
			ats[i] = row.At
			if !slices.Contains(loggers, row.LoggerID) {
				loggers = append(loggers, row.LoggerID)
			}
		}
		var old []climateReadingRow
		if err := t.db.Where("logger_id IN ? AND at IN ? AND batch_id <> ?", loggers, ats, batch).Limit(len(loggers) * len(ats)).Find(&old).Error; err != nil {
			return nil, err
		}
		for _, row := range old {
			there[[2]int64{row.LoggerID, row.At}] = exposure.Air{Temperature: unit.Celsius(row.Mdegc), Humidity: unit.Humidity(row.Mpct)}
		}
	}
	var kept []int
	for i, row := range rows {
		has, known := there[[2]int64{row.LoggerID, row.At}]
		switch r := readings[indices[i]]; {
		case !known:
			kept = append(kept, indices[i])
		case has != r.Air:
			return nil, differs(r, has)
		}
	}
	return kept, nil
}

// hoursSQL sums readings up by the hour, daysSQL hours by the day; each works
// the whole stretch out anew.
const (
	hoursSQL = `INSERT INTO climate_means (logger_id, length_s, from_at, readings, lowest_mdegc, highest_mdegc, sum_mdegc, lowest_mpct, highest_mpct, sum_mpct)
		SELECT logger_id, 3600, at / 3600 * 3600, COUNT(*), MIN(mdegc), MAX(mdegc), SUM(mdegc), MIN(mpct), MAX(mpct), SUM(mpct)
		FROM climate_readings WHERE logger_id = ? AND at >= ? AND at < ? GROUP BY logger_id, at / 3600` + meansConflict
	daysSQL = `INSERT INTO climate_means (logger_id, length_s, from_at, readings, lowest_mdegc, highest_mdegc, sum_mdegc, lowest_mpct, highest_mpct, sum_mpct)
		SELECT logger_id, 86400, from_at / 86400 * 86400, SUM(readings), MIN(lowest_mdegc), MAX(highest_mdegc), SUM(sum_mdegc), MIN(lowest_mpct), MAX(highest_mpct), SUM(sum_mpct)
		FROM climate_means WHERE logger_id = ? AND length_s = 3600 AND from_at >= ? AND from_at < ? GROUP BY logger_id, from_at / 86400` + meansConflict
	meansConflict = ` ON CONFLICT (logger_id, length_s, from_at) DO UPDATE SET readings = excluded.readings, lowest_mdegc = excluded.lowest_mdegc, highest_mdegc = excluded.highest_mdegc,
		sum_mdegc = excluded.sum_mdegc, lowest_mpct = excluded.lowest_mpct, highest_mpct = excluded.highest_mpct, sum_mpct = excluded.sum_mpct`
)

// sumUp sums up the hours and days that the readings fall into. Each logger
// has a stretch of its own, so that none reaches back to what was dropped.
func (t *tx) sumUp(kept []int, readings []inventory.PlacedReading, loggers map[loggerKey]int64) error {
	stretches := map[int64][2]time.Time{}
	for _, i := range kept {
		id, at := loggers[keyOf(readings[i])], readings[i].At
		s, seen := stretches[id]
		if !seen || at.Before(s[0]) {
			s[0] = at
		}
		if !seen || at.After(s[1]) {
			s[1] = at
		}
		stretches[id] = s
	}
	for id, s := range stretches {
		for _, sum := range []struct {
			sql    string
			length time.Duration
		}{{hoursSQL, inventory.ByHour}, {daysSQL, inventory.ByDay}} {
			from, to := s[0].Truncate(sum.length), s[1].Truncate(sum.length).Add(sum.length)
			if err := t.db.Exec(sum.sql, id, from.Unix(), to.Unix()).Error; err != nil {
				return err
			}
		}
	}
	return nil
}

// mostReadingsRead is how many readings are reckoned with at once: two years of
// one logger's minutes.
const mostReadingsRead = 1_000_000

// Readings returns a place's readings of [from, to), in order of time.
func (t *tx) Readings(place inventory.Code, from, to time.Time) (out []exposure.Reading, err error) {
	rows, err := t.db.Raw(`SELECT l.name, r.at, r.mdegc, r.mpct FROM climate_readings r JOIN climate_loggers l ON l.id = r.logger_id
		WHERE l.place_code = ? AND r.at >= ? AND r.at < ? ORDER BY r.at LIMIT ?`, string(place), from.Unix(), to.Unix(), mostReadingsRead+1).Rows()
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var row climateLoggerRow
		if err := rows.Scan(&row.Name, &row.LastAt, &row.LastMdegc, &row.LastMpct); err != nil {
			return nil, err
		}
		out = append(out, row.reading())
	}
	if len(out) > mostReadingsRead {
		return nil, inventory.Invalidf("from", "there are more than %d readings since %s: choose a later instant", mostReadingsRead, inventory.Stamp(from))
	}
	return out, rows.Err()
}

// DropReadings deletes the readings of the oldest day, if it is past.
func (t *tx) DropReadings(before, takenFrom time.Time) (int, error) {
	var oldest []int64
	err := t.db.Raw(`SELECT first FROM (SELECT (SELECT MIN(r.at) FROM climate_readings r WHERE r.logger_id = l.id) AS first FROM climate_loggers l) firsts
		WHERE first IS NOT NULL ORDER BY first LIMIT 1`).Scan(&oldest).Error
	if err != nil {
		return 0, err
	}
	if err := t.db.Model(&climatePlaceRow{}).Where("taken_from < ?", takenFrom.Unix()).Update("taken_from", takenFrom.Unix()).Error; err != nil || len(oldest) == 0 {
		return 0, err
	}
	end := unixUTC(oldest[0]).Truncate(inventory.ByDay).Add(inventory.ByDay)
	if end.After(before) {
		return 0, nil
	}
	res := t.db.Where("logger_id IN (SELECT id FROM climate_loggers) AND at < ?", end.Unix()).Delete(&climateReadingRow{})
	return int(res.RowsAffected), res.Error
}
