package store

import (
	"database/sql"
	"strings"
	"time"

	"gorm.io/gorm"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// containing narrows q to the rows that contain every word of text in one of
// the columns.
func containing(q *gorm.DB, text string, columns ...string) *gorm.DB {
	for _, word := range strings.Fields(text) {
		condition, args := literally(word, columns)
		q = q.Where(condition, args...)
	}
	return q
}

// pattern matches what contains text, in lower case.
func pattern(text string) string {
	escape := strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`)
	return "%" + escape.Replace(lower(text)) + "%"
}

// lower makes the letters A to Z small, as SQLite's LOWER does: it leaves every
// other letter alone, so both sides must.
func lower(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return r + 'a' - 'A'
		}
		return r
	}, s)
}

type spoolLineRow struct {
	Code            string
	LotID           int64
	PlaceCode       sql.NullString
	NetG            int64
	TareG           int64
	FullG           int64
	ReceivedAt      sql.NullInt64
	OpenedAt        sql.NullInt64
	Held            string
	JobCode         sql.NullString
	HolderCode      sql.NullString
	OutSince        sql.NullInt64
	Scrapped        bool
	MovedAt         sql.NullInt64
	Version         int
	FeederCode      sql.NullString
	Touched         bool
	Track           string
	ProcedureID     sql.NullInt64
	LotNumber       string
	LotTested       string
	WireID          int64
	TradeName       string
	Classifications string
	DiameterNm      int64
	PlaceName       sql.NullString
	JobNumber       sql.NullString
	ProfileID       sql.NullString
	HolderName      sql.NullString
}

func (r spoolLineRow) line() inventory.SpoolLine {
	return inventory.SpoolLine{
		Spool: inventory.Spool{Code: inventory.Code(r.Code), LotID: r.LotID, Place: code(r.PlaceCode), Net: unit.Grams(r.NetG), Tare: unit.Grams(r.TareG),
			Full: unit.Grams(r.FullG), ReceivedAt: instant(r.ReceivedAt), OpenedAt: instant(r.OpenedAt), Held: r.Held, Job: code(r.JobCode), Holder: code(r.HolderCode),
			OutSince: instant(r.OutSince), Scrapped: r.Scrapped, MovedAt: instant(r.MovedAt), Version: r.Version, Feeder: code(r.FeederCode), Touched: r.Touched, Track: exposure.Track(r.Track), Procedure: r.ProcedureID.Int64},
		LotNumber: r.LotNumber, LotTested: r.LotTested, WireID: r.WireID, TradeName: r.TradeName, Class: strings.ReplaceAll(r.Classifications, "\n", " "),
		Diameter: unit.Length(r.DiameterNm), PlaceName: r.PlaceName.String, JobNumber: r.JobNumber.String, ProfileID: r.ProfileID.String, HolderName: r.HolderName.String,
	}
}

// spoolLines is every spool with the names a list shows.
func (r *reader) spoolLines() *gorm.DB {
	return r.db.Table("spools s").
		Select(`s.code, s.lot_id, s.place_code, s.net_g, s.tare_g, s.full_g, s.received_at, s.opened_at, s.held, s.job_code, s.holder_code, s.out_since, s.scrapped, s.moved_at, s.version, s.feeder_code, s.touched, s.track, s.procedure_id,
			l.number AS lot_number, l.tested_exposure AS lot_tested, w.id AS wire_id, w.trade_name, w.classifications, w.diameter_nm, p.name AS place_name, j.number AS job_number, j.profile_id, h.name AS holder_name`).
		Joins("JOIN lots l ON l.id = s.lot_id").Joins("JOIN wires w ON w.id = l.wire_id").
		Joins("LEFT JOIN places p ON p.code = s.place_code").Joins("LEFT JOIN jobs j ON j.code = s.job_code").
		Joins("LEFT JOIN people h ON h.code = s.holder_code")
}

func scanSpoolLines(q *gorm.DB) ([]inventory.SpoolLine, error) {
	var rows []spoolLineRow
	if err := q.Scan(&rows).Error; err != nil {
		return nil, err
	}
	out := make([]inventory.SpoolLine, len(rows))
	for i, row := range rows {
		out[i] = row.line()
	}
	return out, nil
}

// Spools returns the spools that q asks for: those out longest first, then
// open ones, then by code.
func (r *reader) Spools(q inventory.Query) ([]inventory.SpoolLine, error) {
	if err := q.CheckSpools(); err != nil {
		return nil, err
	}
	rows, err := r.asked(r.spoolLines(), q, "s.code", "l.number", "w.trade_name", "w.classifications", "p.name", "j.number", "h.name")
	if err != nil {
		return nil, err
	}
	rows = inState(rows, inventory.SpoolState(q.State))
	if q.Wire != 0 {
		rows = rows.Where("w.id = ?", q.Wire)
	}
	if q.Lot != 0 {
		rows = rows.Where("s.lot_id = ?", q.Lot)
	}
	if q.Job != "" {
		rows = rows.Where("s.job_code = ?", string(q.Job))
	}
	lines, err := scanSpoolLines(rows.Order("s.scrapped, s.out_since IS NULL, s.out_since, s.opened_at IS NULL, s.opened_at, s.code").Limit(q.Lines()).Offset(q.After))
	if err != nil {
		return nil, err
	}
	return lines, r.dispute(lines)
}

// inState narrows q to spools in a state, as [inventory.Spool.State] tells it.
func inState(q *gorm.DB, state inventory.SpoolState) *gorm.DB {
	switch state {
	case inventory.StateScrapped:
		return q.Where("s.scrapped")
	case inventory.StateHeld:
		return q.Where("NOT s.scrapped AND s.held <> ''")
	case inventory.StateIssued:
		return q.Where("NOT s.scrapped AND s.job_code IS NOT NULL") // on hold too: in a recall that is who to ask
	case inventory.StateOpen:
		return q.Where("NOT s.scrapped AND s.held = '' AND s.job_code IS NULL AND s.opened_at IS NOT NULL")
	case inventory.StateSealed:
		return q.Where("NOT s.scrapped AND s.held = '' AND s.job_code IS NULL AND s.opened_at IS NULL")
	}
	return q
}

// SpoolLine returns one spool with the names a page shows.
func (r *reader) SpoolLine(c inventory.Code) (inventory.SpoolLine, error) {
	found, err := scanSpoolLines(r.spoolLines().Where("s.code = ?", string(c)).Limit(1))
	if err != nil {
		return inventory.SpoolLine{}, err
	}
	if len(found) == 0 {
		return inventory.SpoolLine{}, inventory.NotFoundf("no-such-spool", "there is no spool %s: look at the label, or receive it first", c)
	}
	err = r.dispute(found)
	return found[0], err
}

// LoadedSpools returns every spool that is on a feeder, by the feeder's name.
func (r *reader) LoadedSpools() ([]inventory.SpoolLine, error) {
	return scanSpoolLines(r.spoolLines().Where("s.feeder_code IS NOT NULL").Order("p.name, s.code").Limit(maxPlaces))
}

// OpenSpools returns every spool whose package is open and which is not
// scrapped, the longest open first.
func (r *reader) OpenSpools() ([]inventory.SpoolLine, error) {
	return scanSpoolLines(r.spoolLines().Where("s.opened_at IS NOT NULL AND NOT s.scrapped").Order("s.opened_at, s.code").Limit(100_000))
}

// OutSince returns every spool that went out before the instant and is still
// out, the longest out first.
func (r *reader) OutSince(before time.Time) ([]inventory.SpoolLine, error) {
	return scanSpoolLines(r.spoolLines().Where("s.job_code IS NOT NULL AND NOT s.scrapped AND s.out_since < ?", before.Unix()).Order("s.out_since, s.code").Limit(100_000))
}

// usable is the SQL of what may be handed out: in the store, neither held nor
// of a lot that is not accepted. Its one argument is the accepted status.
const usable = "NOT s.scrapped AND s.job_code IS NULL AND s.held = '' AND l.status = ?"

// Wires returns the wires that q asks for, with their stock, by name.
func (r *reader) Wires(q inventory.Query) ([]inventory.WireLine, error) {
	rows := []struct {
		Row     wireRow `gorm:"embedded"`
		Spools  int
		UsableG int64
		OutG    int64
	}{}
	find, err := r.asked(r.db.Table("wires w"), q, "w.trade_name", "w.classifications", "w.maker", "w.marked")
	if err != nil {
		return nil, err
	}
	err = find.Select(`w.id, w.maker, w.trade_name, w.classifications, w.diameter_nm, w.marked, w.package, w.net_g, w.tare_g, w.minimum_g, w.version,
			COUNT(CASE WHEN NOT s.scrapped THEN 1 END) AS spools,
			COALESCE(SUM(CASE WHEN `+usable+` THEN s.net_g END), 0) AS usable_g,
			COALESCE(SUM(CASE WHEN NOT s.scrapped AND s.job_code IS NOT NULL THEN s.net_g END), 0) AS out_g`, string(fit.LotAccepted)).
		Joins("LEFT JOIN lots l ON l.wire_id = w.id").Joins("LEFT JOIN spools s ON s.lot_id = l.id").
		Group("w.id").Order("w.trade_name, w.diameter_nm, w.id").Limit(q.Lines()).Offset(q.After).Scan(&rows).Error
	out := make([]inventory.WireLine, len(rows))
	for i, row := range rows {
		out[i] = inventory.WireLine{Wire: row.Row.wire(), Spools: row.Spools, Usable: unit.Grams(row.UsableG), Out: unit.Grams(row.OutG)}
	}
	if err != nil {
		return nil, err
	}
	return out, r.supply(out)
}

// Stock returns what is usable of each wire that has a minimum.
func (r *reader) Stock() ([]inventory.StockLine, error) {
	var rows []struct {
		ID              int64
		TradeName       string
		Classifications string
		DiameterNm      int64
		MinimumG        int64
		UsableG         int64
	}
	err := r.db.Table("wires w").Select(`w.id, w.trade_name, w.classifications, w.diameter_nm, w.minimum_g, COALESCE(SUM(CASE WHEN `+usable+` THEN s.net_g END), 0) AS usable_g`, string(fit.LotAccepted)).
		Joins("LEFT JOIN lots l ON l.wire_id = w.id").Joins("LEFT JOIN spools s ON s.lot_id = l.id").
		Where("w.minimum_g > 0").Group("w.id").Order("w.id").Limit(10_000).Scan(&rows).Error
	out := make([]inventory.StockLine, len(rows))
	for i, row := range rows {
		out[i] = inventory.StockLine{WireID: row.ID, TradeName: row.TradeName, Class: strings.ReplaceAll(row.Classifications, "\n", " "),
			Diameter: unit.Length(row.DiameterNm), Minimum: unit.Grams(row.MinimumG), Usable: unit.Grams(row.UsableG)}
	}
	if err != nil {
		return nil, err
	}
	return out, r.keepBack(out)
}

// Lots returns the lots that q asks for, newest first.
func (r *reader) Lots(q inventory.Query) ([]inventory.LotLine, error) {
	if err := q.CheckLots(); err != nil {
		return nil, err
	}
	find, err := r.asked(r.db.Table("lots l"), q, "l.number", "l.certificate", "w.trade_name", "w.classifications", "l.status")
	if err != nil {
		return nil, err
	}
	if q.State != "" {
		find = find.Where("l.status = ?", q.State)
	}
	if q.Wire != 0 {
		find = find.Where("l.wire_id = ?", q.Wire)
	}
	return scanLotLines(find.Order("l.received_at DESC, l.id DESC").Limit(q.Lines()).Offset(q.After))
}

// LotsInStock returns every lot of which there is wire in stock or out, and that
// is not rejected, by id.
func (r *reader) LotsInStock() ([]inventory.LotLine, error) {
	return scanLotLines(r.db.Table("lots l").Where("l.status <> ? AND EXISTS (SELECT 1 FROM spools k WHERE k.lot_id = l.id AND NOT k.scrapped AND k.net_g > 0)", string(fit.LotRejected)).
		Order("l.id").Limit(100_000))
}

// scanLotLines reads lots l with their wires and what is left of them.
func scanLotLines(q *gorm.DB) ([]inventory.LotLine, error) {
	var rows []struct {
		Row             lotRow `gorm:"embedded"`
		TradeName       string
		Classifications string
		Spools          int
		NetG            int64
	}
	err := q.Select(prefixed("l.", lotColumns) + `, w.trade_name, w.classifications,
			COUNT(CASE WHEN NOT s.scrapped THEN 1 END) AS spools, COALESCE(SUM(CASE WHEN NOT s.scrapped THEN s.net_g END), 0) AS net_g`).
		Joins("JOIN wires w ON w.id = l.wire_id").Joins("LEFT JOIN spools s ON s.lot_id = l.id").Group("l.id").Scan(&rows).Error
	out := make([]inventory.LotLine, len(rows))
	for i, row := range rows {
		out[i] = inventory.LotLine{Lot: row.Row.lot(), TradeName: row.TradeName, Class: strings.ReplaceAll(row.Classifications, "\n", " "),
			Spools: row.Spools, Net: unit.Grams(row.NetG)}
	}
	return out, err
}

// Jobs returns the jobs that q asks for, open ones first, by number.
func (r *reader) Jobs(q inventory.Query) ([]inventory.JobLine, error) {
	var rows []struct {
		Row       jobRow `gorm:"embedded"`
		SpoolsOut int
	}
	find := r.db.Table("jobs j")
	for _, word := range strings.Fields(q.Text) {
		ofJob, args := literally(word, []string{"j.number", "j.name", "j.code", "j.base_metals"})
		ofProcedure, more := literally(word, []string{"p.number"})
		find = find.Where(ofJob+" OR EXISTS (SELECT 1 FROM job_procedures jp JOIN procedures p ON p.id = jp.procedure_id WHERE jp.job_code = j.code AND ("+ofProcedure+"))", append(args, more...)...)
	}
	if q.Procedure != 0 {
		find = find.Where("EXISTS (SELECT 1 FROM job_procedures jp WHERE jp.job_code = j.code AND jp.procedure_id = ?)", q.Procedure)
	}
	err := find.Select(prefixed("j.", jobColumns) + `, (SELECT COUNT(*) FROM spools s WHERE s.job_code = j.code) AS spools_out`).
		Order("j.closed, j.number").Limit(q.Lines()).Offset(q.After).Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	out := make([]inventory.JobLine, len(rows))
	for i, row := range rows {
		job, err := row.Row.job()
		if err != nil {
			return nil, err
		}
		out[i] = inventory.JobLine{Job: job, Out: row.SpoolsOut}
	}
	return out, r.nameProcedures(out)
}

// nameProcedures reads the procedures of the jobs, in one query.
func (r *reader) nameProcedures(jobs []inventory.JobLine) error {
	codes := make([]string, len(jobs))
	for i, j := range jobs {
		codes[i] = string(j.Code)
	}
	var rows []struct {
		JobCode     string
		ProcedureID int64
		Number      string
		Revision    string
	}
	err := r.db.Table("job_procedures jp").Select("jp.job_code, jp.procedure_id, p.number, p.revision").Joins("JOIN procedures p ON p.id = jp.procedure_id").
		Where("jp.job_code IN ?", codes).Order("jp.job_code, jp.line").Limit(100 * (len(jobs) + 1)).Scan(&rows).Error
	if err != nil {
		return err
	}
	ids, names := map[inventory.Code][]int64{}, map[int64]string{}
	for _, row := range rows {
		code := inventory.Code(row.JobCode)
		ids[code] = append(ids[code], row.ProcedureID)
		names[row.ProcedureID] = inventory.Procedure{Number: row.Number, Revision: row.Revision}.Name()
	}
	for i := range jobs {
		j := &jobs[i]
		j.Procedures = procedures(j.Procedures[0], ids[j.Code])
		all := make([]string, len(j.Procedures))
		for n, id := range j.Procedures {
			all[n] = names[id]
		}
		j.ProcedureName = strings.Join(all, ", ")
	}
	return nil
}
