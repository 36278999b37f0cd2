package store

import (
	"database/sql"
	"maps"
	"strings"
	"time"

	"gorm.io/gorm"

	"wirehold/inventory"
)

// outbox is the table of what leaves the program: each row is lent to one
// replica for a while, tried, and settled. Its value is the table's name.
type outbox string

const (
	messageBox outbox = "messages"
	printBox   outbox = "print_jobs"
)

// thing is what a row is, in a word or two.
func (o outbox) thing() string {
	if o == printBox {
		return "print job"
	}
	return "message"
}

// code begins the codes of errors about a row.
func (o outbox) code() string { return strings.Fields(o.thing())[0] }

// none is the answer where no row is due.
func (o outbox) none() error {
	return inventory.NotFoundf("no-such-"+o.code(), "no %s is due", o.thing())
}

// lost is the answer to who has a row no more.
func (o outbox) lost(id int64) error {
	return inventory.Conflictf(o.code()+"-taken", "%s %d was lent to somebody else in the meantime", o.thing(), id)
}

// attemptRow is the columns that every outbox has.
type attemptRow struct {
	DueAt        int64
	Tries        int
	Claim        string // of whoever it is lent to
	ClaimedUntil int64  // 0 if it is lent to nobody
	SentAt       sql.NullInt64
	DeadAt       sql.NullInt64
	Fault        string
	AgainBy      sql.NullString
}

func (a attemptRow) attempt() inventory.Attempt {
	return inventory.Attempt{DueAt: unixUTC(a.DueAt), Tries: a.Tries, SentAt: instant(a.SentAt), DeadAt: instant(a.DeadAt), Fault: a.Fault, AgainBy: code(a.AgainBy)}
}

// waiting is the SQL of what is neither taken nor given up.
const waiting = "sent_at IS NULL AND dead_at IS NULL"

// untaken narrows q to what waits, may be tried at an instant, and is lent to
// nobody.
func untaken(q *gorm.DB, at time.Time) *gorm.DB {
	return q.Where(waiting+" AND due_at <= ? AND claimed_until <= ?", at.Unix(), at.Unix())
}

// lend lends the rows with the ids until an instant, all or none, and counts the
// try; more is written with it. NotFound if one of them is lent or done by now.
func (t *tx) lend(o outbox, ids []int64, claim string, at, until time.Time, more map[string]any) error {
	values := map[string]any{"claim": claim, "claimed_until": until.Unix(), "tries": gorm.Expr("tries + 1")}
	maps.Copy(values, more)
	res := untaken(t.db.Table(string(o)), at).Where("id IN ?", ids).Updates(values)
	if res.Error == nil && res.RowsAffected != int64(len(ids)) {
		return o.none()
	}
	return res.Error
}

// settle writes how a try went and ends the claim; more is written with it.
// Conflict if one of the rows is not the claim's any more.
func (t *tx) settle(o outbox, ids []int64, claim string, a inventory.Attempt, more map[string]any) error {
	values := map[string]any{"sent_at": seconds(a.SentAt), "dead_at": seconds(a.DeadAt), "fault": a.Fault, "claim": "", "claimed_until": 0}
	if a.Waiting() {
		values["due_at"] = a.DueAt.Unix()
	}
	maps.Copy(values, more)
	res := t.db.Table(string(o)).Where("id IN ? AND claim = ? AND "+waiting, ids, claim).Updates(values)
	if res.Error == nil && res.RowsAffected != int64(len(ids)) {
		return o.lost(ids[0])
	}
	return res.Error
}

// again makes a row that was given up due again; more is written with it.
// Conflict if it was not given up, NotFound if there is none.
func (t *tx) again(o outbox, id int64, by inventory.Code, at time.Time, more map[string]any) error {
	values := map[string]any{"dead_at": nil, "due_at": at.Unix(), "tries": 0, "again_by": string(by)}
	maps.Copy(values, more)
	res := t.db.Table(string(o)).Where("id = ? AND sent_at IS NULL AND dead_at IS NOT NULL", id).Updates(values)
	if res.Error != nil || res.RowsAffected == 1 {
		return res.Error
	}
	var row attemptRow
	if err := t.db.Table(string(o)).Where("id = ?", id).Take(&row).Error; err != nil {
		return missing(err, "no-such-"+o.code(), "there is no %s %d", o.thing(), id)
	}
	return inventory.Conflictf(o.code()+"-not-given-up", "%s %d is %s: only one that was given up is tried again", o.thing(), id, row.attempt().State())
}
