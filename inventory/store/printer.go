package store

import (
	"database/sql"
	"time"

	"gorm.io/gorm"

	"wirehold/inventory"
)

type printerRow struct {
	ID        int64
	Name      string
	Address   string
	DPI       int `gorm:"column:dpi"`
	Size      string
	Format    string
	RetiredAt sql.NullInt64
	Version   int
}

func (printerRow) TableName() string { return "printers" }

func (p printerRow) printer() inventory.Printer {
	return inventory.Printer{ID: p.ID, Name: p.Name, Address: p.Address, DPI: p.DPI, Size: p.Size, Format: p.Format, RetiredAt: instant(p.RetiredAt), Version: p.Version}
}

// Printer returns one printer, retired or not.
func (r *reader) Printer(id int64) (inventory.Printer, error) {
	var row printerRow
	err := r.db.Where("id = ?", id).Take(&row).Error
	return row.printer(), missing(err, "no-such-printer", "there is no printer %d", id)
}

// mostPrinters bounds the printers that are listed.
const mostPrinters = 200

// Printers returns the printers by name, those that are retired last.
func (r *reader) Printers() ([]inventory.Printer, error) {
	var rows []printerRow
	err := r.db.Order("retired_at IS NOT NULL, name").Limit(mostPrinters).Find(&rows).Error
	out := make([]inventory.Printer, len(rows))
	for i, row := range rows {
		out[i] = row.printer()
	}
	return out, err
}

// AddPrinter enters a printer, at its first version.
func (t *tx) AddPrinter(p inventory.Printer) (int64, error) {
	id, err := t.next("printer")
	if err != nil {
		return 0, err
	}
	return id, t.db.Create(&printerRow{ID: id, Name: p.Name, Address: p.Address, DPI: p.DPI, Size: p.Size, Format: p.Format, Version: 1}).Error
}

// UpdatePrinter writes a printer. [inventory.Conflict] if it is not at the
// version before.
func (t *tx) UpdatePrinter(p inventory.Printer) error {
	return updated(t.db.Model(&printerRow{}).Where("id = ? AND version = ?", p.ID, p.Version-1).
		Updates(map[string]any{"name": p.Name, "address": p.Address, "dpi": p.DPI, "size": p.Size, "format": p.Format, "retired_at": seconds(p.RetiredAt), "version": p.Version}))
}

type printJobRow struct {
	ID         int64
	PrinterID  int64
	PersonCode string
	Kind       string
	Reason     string
	AskedAt    int64
	RequestKey string
	Request    string
	Taken      int
	Remote     int64
	Attempt    attemptRow `gorm:"embedded"`
}

func (printJobRow) TableName() string { return "print_jobs" }

type printedLabelRow struct {
	PrintJobID int64
	Line       int
	Kind       string
	LabelOf    string
	Number     int
	AskedAt    int64
}

func (printedLabelRow) TableName() string { return "printed_labels" }

func (l printedLabelRow) label() inventory.PrintedLabel {
	return inventory.PrintedLabel{Kind: l.Kind, Of: l.LabelOf, Number: l.Number, At: unixUTC(l.AskedAt)}
}

// namedPrintJobRow is a print job with the names a list shows.
type namedPrintJobRow struct {
	Row         printJobRow `gorm:"embedded"`
	PrinterName string
	PersonName  string
}

func (n namedPrintJobRow) job() inventory.PrintJob {
	j := n.Row
	return inventory.PrintJob{ID: j.ID, PrinterID: j.PrinterID, Printer: n.PrinterName, Person: inventory.Code(j.PersonCode), PersonName: n.PersonName, Kind: j.Kind, Reason: j.Reason,
		AskedAt: unixUTC(j.AskedAt), RequestKey: j.RequestKey, Request: j.Request, Taken: j.Taken, Remote: int(j.Remote), Attempt: j.Attempt.attempt()}
}

const printJobColumns = `j.id, j.printer_id, j.person_code, j.kind, j.reason, j.asked_at, j.request_key, j.request, j.due_at, j.tries, j.sent_at, j.taken, j.remote, j.dead_at, j.fault, j.again_by,
	q.name AS printer_name, p.name AS person_name`

// printJobs returns the print jobs that narrow chooses, the latest first, with
// their labels.
func (r *reader) printJobs(limit int, narrow func(*gorm.DB) *gorm.DB) ([]inventory.PrintJob, error) {
	var rows []namedPrintJobRow
	err := narrow(r.db.Table("print_jobs j").Select(printJobColumns).Joins("JOIN printers q ON q.id = j.printer_id").Joins("JOIN people p ON p.code = j.person_code")).
		Order("j.id DESC").Limit(limit).Scan(&rows).Error
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	out, at, ids := make([]inventory.PrintJob, len(rows)), map[int64]int{}, make([]int64, len(rows))
	for i, row := range rows {
		out[i], at[row.Row.ID], ids[i] = row.job(), i, row.Row.ID
	}
	var labels []printedLabelRow
	err = r.db.Where("print_job_id IN ?", ids).Order("print_job_id, line").Find(&labels).Error
	for _, l := range labels {
		job := &out[at[l.PrintJobID]]
		job.Labels = append(job.Labels, l.label())
	}
	return out, err
}

// PrintJobs returns up to limit print jobs, the latest first.
func (r *reader) PrintJobs(limit int) ([]inventory.PrintJob, error) {
	return r.printJobs(limit, func(q *gorm.DB) *gorm.DB { return q })
}

// PrintJob returns one print job.
func (r *reader) PrintJob(id int64) (inventory.PrintJob, error) {
	return r.onePrintJob("j.id = ?", id)
}

// PrintRequested returns the print job made by the request key.
func (t *tx) PrintRequested(key string) (inventory.PrintJob, error) {
	return t.onePrintJob("j.request_key = ?", key)
}

func (r *reader) onePrintJob(where string, arg any) (inventory.PrintJob, error) {
	jobs, err := r.printJobs(1, func(q *gorm.DB) *gorm.DB { return q.Where(where, arg) })
	if err != nil {
		return inventory.PrintJob{}, err
	}
	if len(jobs) == 0 {
		return inventory.PrintJob{}, inventory.NotFoundf("no-such-print", "there is no such print job")
	}
	return jobs[0], nil
}

// LastPrints returns the last label of the kind that was asked for of each of
// the things.
func (r *reader) LastPrints(kind string, of []string) (map[string]inventory.PrintedLabel, error) {
	var rows []printedLabelRow
	err := r.db.Select("kind", "label_of", "MAX(number) AS number", "MAX(asked_at) AS asked_at").Where("kind = ? AND label_of IN ?", kind, of).Group("kind, label_of").Find(&rows).Error
	out := make(map[string]inventory.PrintedLabel, len(rows))
	for _, row := range rows {
		out[row.LabelOf] = row.label()
	}
	return out, err
}

// AddPrintJob queues a print job with its labels.
func (t *tx) AddPrintJob(j inventory.PrintJob) (int64, error) {
	id, err := t.next("print job")
	if err != nil {
		return 0, err
	}
	row := printJobRow{ID: id, PrinterID: j.PrinterID, PersonCode: string(j.Person), Kind: j.Kind, Reason: j.Reason, AskedAt: j.AskedAt.Unix(),
		RequestKey: j.RequestKey, Request: j.Request, Attempt: attemptRow{DueAt: j.DueAt.Unix()}}
	if err := t.db.Create(&row).Error; err != nil {
		return 0, err
	}
	labels := make([]printedLabelRow, len(j.Labels))
	for i, l := range j.Labels {
		labels[i] = printedLabelRow{PrintJobID: id, Line: i, Kind: l.Kind, LabelOf: l.Of, Number: l.Number, AskedAt: l.At.Unix()}
	}
	return id, t.db.CreateInBatches(labels, 500).Error
}

// printable narrows q to the print jobs that may be lent at an instant: of each
// printer the first that waits, if it is due and nothing of it is lent. One that
// somebody has tried again may come before what is lent.
func printable(q *gorm.DB, at time.Time) *gorm.DB {
	return untaken(q, at).Where(`NOT EXISTS (SELECT 1 FROM print_jobs o WHERE o.printer_id = print_jobs.printer_id AND o.sent_at IS NULL AND o.dead_at IS NULL
		AND o.id <> print_jobs.id AND (o.id < print_jobs.id OR o.claimed_until > ?))`, at.Unix())
}

// PrintDue reports whether a print job may be lent at the instant at.
func (r *reader) PrintDue(at time.Time) (bool, error) {
	var ids []int64
	err := printable(r.db.Table("print_jobs").Select("id"), at).Limit(1).Scan(&ids).Error
	return len(ids) > 0, err
}

// ClaimPrint lends the print job that is due longest until an instant.
func (t *tx) ClaimPrint(claim string, at, until time.Time) (inventory.PrintJob, error) {
	var row printJobRow
	if err := printable(t.db, at).Order("due_at, id").Take(&row).Error; err != nil {
		return inventory.PrintJob{}, missing(err, "no-such-print", "no print job is due")
	}
	if err := t.lend(printBox, []int64{row.ID}, claim, at, until, nil); err != nil {
		return inventory.PrintJob{}, err
	}
	return t.PrintJob(row.ID)
}

// AdvancePrint writes how many labels the printer took so far.
func (t *tx) AdvancePrint(id int64, claim string, taken int, until time.Time) error {
	res := t.db.Model(&printJobRow{}).Where("id = ? AND claim = ? AND "+waiting, id, claim).
		Updates(map[string]any{"taken": taken, "tries": 1, "claimed_until": until.Unix()})
	if res.Error == nil && res.RowsAffected != 1 {
		return printBox.lost(id)
	}
	return res.Error
}

// SettlePrint writes how a try went, and ends the claim.
func (t *tx) SettlePrint(j inventory.PrintJob, claim string) error {
	return t.settle(printBox, []int64{j.ID}, claim, j.Attempt, map[string]any{"taken": j.Taken, "remote": j.Remote})
}

// DelayPrints counts a try in vain of the print job for what waits behind it.
func (t *tx) DelayPrints(behind inventory.PrintJob, fault string) error {
	return t.db.Model(&printJobRow{}).Where("printer_id = ? AND id > ? AND "+waiting, behind.PrinterID, behind.ID).
		Updates(map[string]any{"tries": gorm.Expr("tries + 1"), "fault": fault}).Error
}

// HurryPrints makes what waits for a printer due, and takes back one try.
func (t *tx) HurryPrints(printer int64, at time.Time) error {
	return t.db.Model(&printJobRow{}).Where("printer_id = ? AND "+waiting+" AND due_at > ? AND claimed_until <= ?", printer, at.Unix(), at.Unix()).
		Updates(map[string]any{"due_at": at.Unix(), "tries": gorm.Expr("CASE WHEN tries > 0 THEN tries - 1 ELSE 0 END")}).Error
}

// RetryPrint makes a print job that was given up due again.
func (t *tx) RetryPrint(id int64, by inventory.Code, at time.Time) (inventory.PrintJob, error) {
	if err := t.again(printBox, id, by, at, nil); err != nil {
		return inventory.PrintJob{}, err
	}
	return t.PrintJob(id)
}
