package store

import (
	"database/sql"
	"errors"
	"time"

	"gorm.io/gorm"

	"wirehold/inventory"
)

type runRow struct {
	ID         int64
	Job        string
	TurnAt     int64
	Cause      string
	PersonCode sql.NullString
	RequestKey sql.NullString
	StartedAt  int64
	HeldUntil  int64
	EndedAt    sql.NullInt64
	Result     string
	Says       string
}

func (runRow) TableName() string { return "scheduled_runs" }

func (r runRow) run(personName string) inventory.Run {
	return inventory.Run{ID: r.ID, Job: r.Job, Turn: unixUTC(r.TurnAt), Cause: inventory.RunCause(r.Cause), Person: code(r.PersonCode), PersonName: personName,
		RequestKey: r.RequestKey.String, StartedAt: unixUTC(r.StartedAt), Until: unixUTC(r.HeldUntil), EndedAt: instant(r.EndedAt),
		Result: inventory.RunResult(r.Result), Says: r.Says}
}

const runColumns = "id, job, turn_at, cause, person_code, request_key, started_at, held_until, ended_at, result, says"

// oneRun returns the first run of q; [inventory.NotFound] if there is none.
func oneRun(q *gorm.DB) (inventory.Run, error) {
	var row runRow
	err := q.Select(runColumns).Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return inventory.Run{}, inventory.NotFoundf("no-such-run", "there is no such run")
	}
	return row.run(""), err
}

// RunUnderWay returns the job's run that has not ended.
func (t *tx) RunUnderWay(job string) (inventory.Run, error) {
	return oneRun(t.db.Where("job = ? AND ended_at IS NULL", job))
}

// TurnFrom returns the run of the job's latest turn at or after the instant.
func (t *tx) TurnFrom(job string, turn time.Time) (inventory.Run, error) {
	return oneRun(t.db.Where("job = ? AND turn_at >= ? AND request_key IS NULL", job, turn.Unix()).Order("turn_at DESC"))
}

// RunRequested returns the run made by the request key.
func (t *tx) RunRequested(key string) (inventory.Run, error) {
	return oneRun(t.db.Where("request_key = ?", key))
}

// AddRun begins a run. Two unique indexes see to it that a turn has one run and
// that a job has one under way.
func (t *tx) AddRun(r inventory.Run) (inventory.Run, error) {
	id, err := t.next("run")
	if err != nil {
		return r, err
	}
	r.ID = id
	row := runRow{ID: id, Job: r.Job, TurnAt: r.Turn.Unix(), Cause: string(r.Cause), PersonCode: nullable(r.Person),
		RequestKey: sql.NullString{String: r.RequestKey, Valid: r.RequestKey != ""}, StartedAt: r.StartedAt.Unix(), HeldUntil: r.Until.Unix()}
	return r, translate(t.db.Create(&row).Error)
}

// UpdateRun writes start, until, end, result and words of a run.
func (t *tx) UpdateRun(r inventory.Run) error {
	return updated(t.db.Model(&runRow{}).Where("id = ?", r.ID).Updates(map[string]any{"cause": string(r.Cause), "started_at": r.StartedAt.Unix(),
		"held_until": r.Until.Unix(), "ended_at": seconds(r.EndedAt), "result": string(r.Result), "says": r.Says}))
}

// PruneRuns deletes all but the latest keep ended runs of a job, and all but as
// many failed ones.
func (t *tx) PruneRuns(job string, keep int) error {
	latest := func(condition string, args ...any) *gorm.DB {
		return t.db.Model(&runRow{}).Select("id").Where("job = ?", job).Where(condition, args...).Order("id DESC").Limit(keep)
	}
	return t.db.Where("job = ? AND ended_at IS NOT NULL", job).
		Where("id NOT IN (?)", latest("ended_at IS NOT NULL")).
		Where("id NOT IN (?)", latest("result = ?", string(inventory.RunFailed))).
		Delete(&runRow{}).Error
}

// runWithName is a run with the name of who asked for it.
type runWithName struct {
	Row        runRow `gorm:"embedded"`
	PersonName sql.NullString
}

// Runs returns up to limit runs of a job, the latest begun first.
func (r *reader) Runs(job string, limit int) ([]inventory.Run, error) {
	var rows []runWithName
	err := r.db.Table("scheduled_runs r").Select(prefixed("r.", runColumns)+", p.name AS person_name").Joins("LEFT JOIN people p ON p.code = r.person_code").
		Where("r.job = ?", job).Order("r.started_at DESC, r.id DESC").Limit(max(1, min(limit, maxRuns))).Scan(&rows).Error
	out := make([]inventory.Run, len(rows))
	for i, row := range rows {
		out[i] = row.Row.run(row.PersonName.String)
	}
	return out, err
}

const maxRuns = 1000

// RunSummaries returns what is kept of each job's runs, by name.
func (r *reader) RunSummaries() ([]inventory.RunSummary, error) {
	var rows []struct {
		Row        runRow `gorm:"embedded"`
		PersonName sql.NullString
		RanAt      sql.NullInt64
		Kept       int
		FailedRuns int
	}
	counted := r.db.Table("scheduled_runs").Select(`job, MAX(started_at * 1000000 + id) AS latest, COUNT(*) AS kept, COUNT(CASE WHEN result = ? THEN 1 END) AS failed_runs,
			MAX(CASE WHEN result IN ('', ?, ?) THEN CASE WHEN turn_at > started_at THEN turn_at ELSE started_at END END) AS ran_at`,
		string(inventory.RunFailed), string(inventory.RunDone), string(inventory.RunFailed)).Group("job")
	err := r.db.Table("(?) c", counted).Select(prefixed("r.", runColumns) + ", p.name AS person_name, c.ran_at, c.kept, c.failed_runs").
		Joins("JOIN scheduled_runs r ON r.job = c.job AND r.started_at * 1000000 + r.id = c.latest").
		Joins("LEFT JOIN people p ON p.code = r.person_code").Order("r.job").Limit(maxRuns).Scan(&rows).Error
	out := make([]inventory.RunSummary, len(rows))
	for i, row := range rows {
		out[i] = inventory.RunSummary{Job: row.Row.Job, Last: row.Row.run(row.PersonName.String), RanAt: instant(row.RanAt), Kept: row.Kept, Failed: row.FailedRuns}
	}
	return out, err
}
