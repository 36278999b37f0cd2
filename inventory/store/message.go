package store

import (
	"database/sql"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"wirehold/inventory"
)

type messageRow struct {
	ID         int64
	AlertID    int64
	Channel    string
	Recipient  string
	MessageKey string
	Bundle     string
	Urgent     bool
	MadeAt     int64
	Attempt    attemptRow `gorm:"embedded"`
}

func (messageRow) TableName() string { return "messages" }

func (m messageRow) message() inventory.Message {
	return inventory.Message{ID: m.ID, AlertID: m.AlertID, Channel: inventory.Channel(m.Channel), Recipient: m.Recipient, Key: m.MessageKey, Bundle: m.Bundle,
		Urgent: m.Urgent, MadeAt: unixUTC(m.MadeAt), Attempt: m.Attempt.attempt()}
}

const messageColumns = `m.id, m.alert_id, m.channel, m.recipient, m.message_key, m.bundle, m.urgent, m.made_at, m.due_at, m.tries, m.claim, m.claimed_until, m.sent_at, m.dead_at, m.fault, m.again_by`

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
	q = untaken(q, at).Where("channel = ?", string(c))
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

// Whereabouts says in words where each of the spools is now.
func (r *reader) Whereabouts(spools []inventory.Code) (map[inventory.Code]string, error) {
	if len(spools) == 0 {
		return nil, nil
	}
	lines, err := scanSpoolLines(r.spoolLines().Where("s.code IN ?", spools).Limit(len(spools)))
	out := make(map[inventory.Code]string, len(lines))
	for _, s := range lines {
		out[s.Code] = whereabouts(s)
	}
	return out, err
}

func whereabouts(s inventory.SpoolLine) string {
	switch {
	case s.Scrapped:
		return "scrapped"
	case s.Loaded():
		return s.PlaceName + ", with " + s.HolderName + " for job " + s.JobNumber
	case s.Out():
		return "with " + s.HolderName + " for job " + s.JobNumber
	}
	return s.PlaceName
}

// AddMessages enters messages; one that is there already is left as it is.
func (t *tx) AddMessages(messages []inventory.Message) error {
	if len(messages) == 0 {
		return nil
	}
	first, err := t.take("message", len(messages))
	if err != nil {
		return err
	}
	rows := make([]messageRow, len(messages))
	for i, m := range messages {
		rows[i] = messageRow{ID: first + int64(i), AlertID: m.AlertID, Channel: string(m.Channel), Recipient: m.Recipient, MessageKey: m.Key,
			Urgent: m.Urgent, MadeAt: m.MadeAt.Unix(), Attempt: attemptRow{DueAt: m.DueAt.Unix()}}
	}
	return t.db.Clauses(clause.OnConflict{DoNothing: true}).CreateInBatches(rows, 500).Error
}

// mostBundled is how many alerts one e-mail holds: with some 400 bytes each, far
// below what mail servers take.
const mostBundled = 500

// ClaimMessages lends the message that is due longest until an instant, and what
// goes out with it.
func (t *tx) ClaimMessages(c inventory.Channel, urgentOnly bool, claim string, at, until time.Time) ([]inventory.Message, error) {
	var first messageRow
	if err := due(t.db, c, urgentOnly, at).Order("due_at, id").Take(&first).Error; err != nil {
		return nil, missing(err, "no-such-message", "no message is due")
	}
	rows, err := t.bundled(first, urgentOnly, at)
	if err != nil {
		return nil, err
	}
	bundle := first.Bundle
	switch {
	case bundle == "" && len(rows) > 1:
		bundle = claim // given out once, so it names nothing else
	case bundle == "":
		bundle = first.MessageKey
	}
	ids, out := make([]int64, len(rows)), make([]inventory.Message, len(rows))
	for i, row := range rows {
		row.Bundle = bundle
		row.Attempt.Tries++
		ids[i], out[i] = row.ID, row.message()
	}
	return out, t.lend(messageBox, ids, claim, at, until, map[string]any{"bundle": bundle})
}

// bundled returns what goes out with a message that is due, itself included:
// what it went with before, or, by e-mail, what else is due to its recipient for
// the first time.
func (t *tx) bundled(first messageRow, urgentOnly bool, at time.Time) (rows []messageRow, err error) {
	if first.Channel != string(inventory.EmailChannel) {
		return []messageRow{first}, nil
	}
	q := untaken(t.db, at).Where("channel = ? AND recipient = ? AND bundle = ?", first.Channel, first.Recipient, first.Bundle)
	if first.Bundle == "" && urgentOnly {
		q = q.Where("urgent")
	}
	return rows, q.Order("due_at, id").Limit(mostBundled).Find(&rows).Error
}

// SettleMessages writes how a try went, and ends the claim.
func (t *tx) SettleMessages(ids []int64, claim string, a inventory.Attempt) error {
	return t.settle(messageBox, ids, claim, a, nil)
}

// PutOffMessages makes what waits for a recipient due at until at the soonest.
func (t *tx) PutOffMessages(c inventory.Channel, recipient string, until time.Time) error {
	return t.db.Model(&messageRow{}).Where("channel = ? AND recipient = ? AND "+waiting+" AND due_at < ? AND claim = ''", string(c), recipient, until.Unix()).
		Update("due_at", until.Unix()).Error
}

// RetryMessage makes a message that was given up due again, on its own or with
// what else is due then.
func (t *tx) RetryMessage(id int64, by inventory.Code, at time.Time) (inventory.Message, error) {
	if err := t.again(messageBox, id, by, at, map[string]any{"bundle": ""}); err != nil {
		return inventory.Message{}, err
	}
	var row messageRow
	err := t.db.Where("id = ?", id).Take(&row).Error
	return row.message(), err
}
