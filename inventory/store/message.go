package store

import (
	"database/sql"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"wirehold/inventory"
)

type messageRow struct {
	ID           int64
	AlertID      int64
	Channel      string
	Recipient    string
	MessageKey   string
	Urgent       bool
	MadeAt       int64
	DueAt        int64
	Tries        int
	Claim        string
	ClaimedUntil int64
	SentAt       sql.NullInt64
	DeadAt       sql.NullInt64
	Fault        string
	AgainBy      sql.NullString
}

func (messageRow) TableName() string { return "messages" }

func (m messageRow) message() inventory.Message {
	return inventory.Message{ID: m.ID, AlertID: m.AlertID, Channel: inventory.Channel(m.Channel), Recipient: m.Recipient, Key: m.MessageKey, Urgent: m.Urgent,
		MadeAt: unixUTC(m.MadeAt), DueAt: unixUTC(m.DueAt), Tries: m.Tries, SentAt: instant(m.SentAt), DeadAt: instant(m.DeadAt), Fault: m.Fault, AgainBy: code(m.AgainBy)}
}

const messageColumns = `m.id, m.alert_id, m.channel, m.recipient, m.message_key, m.urgent, m.made_at, m.due_at, m.tries, m.claim, m.claimed_until, m.sent_at, m.dead_at, m.fault, m.again_by`

// waiting is the SQL of a message that is neither sent nor given up.
const waiting = "sent_at IS NULL AND dead_at IS NULL"

// Messages returns the messages that are asked for, the latest first.
func (r *reader) Messages(a inventory.MessageQuery) ([]inventory.MessageLine, error) {
	q := r.db.Table("messages m").
		Select(messageColumns + `, a.kind, a.subject, COALESCE(p.name, w.name) AS name`).
		Joins("JOIN alerts a ON a.id = m.alert_id").
		Joins("LEFT JOIN people p ON m.channel = 'e-mail' AND p.code = m.recipient").
		Joins("LEFT JOIN webhooks w ON m.channel = 'webhook' AND CAST(w.id AS TEXT) = m.recipient")
	switch a.State {
	case "":
	case inventory.MessageWaiting:
		q = q.Where("m.sent_at IS NULL AND m.dead_at IS NULL")
	case inventory.MessageSent:
		q = q.Where("m.sent_at IS NOT NULL")
	case inventory.MessageDead:
		q = q.Where("m.sent_at IS NULL AND m.dead_at IS NOT NULL")
	default:
		return nil, inventory.Invalidf("state", "a message is waiting, sent or given up, not %q", a.State)
	}
	if a.Alert != 0 {
		q = q.Where("m.alert_id = ?", a.Alert)
	}
	var rows []struct {
		Row     messageRow `gorm:"embedded"`
		Kind    string
		Subject string
		Name    sql.NullString
	}
	err := q.Order("m.id DESC").Limit(inventory.Query{Limit: a.Limit}.Lines()).Offset(a.After).Scan(&rows).Error
	out := make([]inventory.MessageLine, len(rows))
	for i, row := range rows {
		out[i] = inventory.MessageLine{Message: row.Row.message(), Kind: inventory.AlertKind(row.Kind), Subject: row.Subject, RecipientName: row.Name.String}
	}
	return out, err
}

// CountMessages returns how many wait and how many were given up.
func (r *reader) CountMessages() (waits, dead int, err error) {
	var row struct{ Waits, Dead int }
	err = r.db.Raw(`SELECT COUNT(CASE WHEN dead_at IS NULL THEN 1 END) AS waits, COUNT(CASE WHEN dead_at IS NOT NULL THEN 1 END) AS dead
		FROM messages WHERE sent_at IS NULL`).Scan(&row).Error
	return row.Waits, row.Dead, err
}

// due narrows q to the messages that may be tried at an instant.
func due(q *gorm.DB, c inventory.Channel, urgentOnly bool, at time.Time) *gorm.DB {
	q = q.Where("channel = ? AND "+waiting+" AND due_at <= ? AND claimed_until <= ?", string(c), at.Unix(), at.Unix())
	if urgentOnly {
		q = q.Where("urgent")
	}
	return q
}

// MessageDue reports whether a message may be tried at the instant at.
func (r *reader) MessageDue(c inventory.Channel, urgentOnly bool, at time.Time) (bool, error) {
	var ids []int64
	err := due(r.db.Table("messages").Select("id"), c, urgentOnly, at).Limit(1).Scan(&ids).Error
	return len(ids) > 0, err
}

// Whereabouts says in words where the spool is now.
func (r *reader) Whereabouts(spool inventory.Code) (string, error) {
	s, err := r.SpoolLine(spool)
	switch {
	case err != nil:
		return "", err
	case s.Scrapped:
		return "scrapped", nil
	case s.Loaded():
		return s.PlaceName + ", with " + s.HolderName + " for job " + s.JobNumber, nil
	case s.Out():
		return "with " + s.HolderName + " for job " + s.JobNumber, nil
	}
	return s.PlaceName, nil
}

// AddMessages enters messages; one that is there already is left as it is.
func (t *tx) AddMessages(messages []inventory.Message) error {
	if len(messages) == 0 {
		return nil
	}
	last, err := t.nextMany("message", len(messages))
	if err != nil {
		return err
	}
	rows := make([]messageRow, len(messages))
	for i, m := range messages {
		rows[i] = messageRow{ID: last - int64(len(messages)) + 1 + int64(i), AlertID: m.AlertID, Channel: string(m.Channel), Recipient: m.Recipient, MessageKey: m.Key,
			Urgent: m.Urgent, MadeAt: m.MadeAt.Unix(), DueAt: m.DueAt.Unix()}
	}
	return t.db.Clauses(clause.OnConflict{DoNothing: true}).CreateInBatches(rows, 500).Error
}

// nextMany counts up the counter name by n and returns its new value.
func (t *tx) nextMany(name string, n int) (last int64, err error) {
	err = t.db.Raw(`INSERT INTO counters (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = counters.value + excluded.value RETURNING value`, name, n).Scan(&last).Error
	return last, err
}

// ClaimMessage lends the message that is due longest until an instant.
func (t *tx) ClaimMessage(c inventory.Channel, urgentOnly bool, claim string, at, until time.Time) (inventory.Message, error) {
	none := inventory.NotFoundf("no-such-message", "no message is due")
	var row messageRow
	err := due(t.db, c, urgentOnly, at).Order("due_at, id").Take(&row).Error
	if err != nil {
		return inventory.Message{}, missing(err, "no-such-message", "no message is due")
	}
	res := due(t.db.Model(&messageRow{}), c, urgentOnly, at).Where("id = ?", row.ID).
		Updates(map[string]any{"claim": claim, "claimed_until": until.Unix(), "tries": gorm.Expr("tries + 1")})
	if res.Error == nil && res.RowsAffected != 1 {
		return inventory.Message{}, none
	}
	row.Tries++
	return row.message(), res.Error
}

// SettleMessage writes how a try went, and ends the claim.
func (t *tx) SettleMessage(m inventory.Message, claim string) error {
	res := t.db.Model(&messageRow{}).Where("id = ? AND claim = ? AND "+waiting, m.ID, claim).
		Updates(map[string]any{"sent_at": seconds(m.SentAt), "dead_at": seconds(m.DeadAt), "due_at": m.DueAt.Unix(), "fault": m.Fault, "claim": "", "claimed_until": 0})
	if res.Error == nil && res.RowsAffected != 1 {
		return inventory.Conflictf("message-taken", "message %d was lent to somebody else in the meantime", m.ID)
	}
	return res.Error
}

// PutOffMessages makes what waits for a recipient due at until at the soonest.
func (t *tx) PutOffMessages(c inventory.Channel, recipient string, until time.Time) error {
	return t.db.Model(&messageRow{}).Where("channel = ? AND recipient = ? AND "+waiting+" AND due_at < ? AND claim = ''", string(c), recipient, until.Unix()).
		Update("due_at", until.Unix()).Error
}

// RetryMessage makes a message that was given up due again.
func (t *tx) RetryMessage(id int64, by inventory.Code, at time.Time) (inventory.Message, error) {
	res := t.db.Model(&messageRow{}).Where("id = ? AND sent_at IS NULL AND dead_at IS NOT NULL", id).
		Updates(map[string]any{"dead_at": nil, "due_at": at.Unix(), "tries": 0, "again_by": string(by)})
	if res.Error != nil {
		return inventory.Message{}, res.Error
	}
	var row messageRow
	if err := t.db.Where("id = ?", id).Take(&row).Error; err != nil {
		return inventory.Message{}, missing(err, "no-such-message", "there is no message %d", id)
	}
	if res.RowsAffected != 1 {
		return inventory.Message{}, inventory.Conflictf("message-not-given-up", "message %d is %s: only one that was given up is tried again", id, row.message().State())
	}
	return row.message(), nil
}
