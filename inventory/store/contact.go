package store

import (
	"database/sql"

	"gorm.io/gorm"

	"wirehold/inventory"
)

type contactRow struct {
	PersonCode string
	Email      string
	Kinds      string
	Version    int
}

func (contactRow) TableName() string { return "contacts" }

type personContactRow struct {
	Code    string
	Name    string
	Role    string
	Email   sql.NullString
	Kinds   sql.NullString
	Version sql.NullInt64
	Retired bool
}

func (r personContactRow) contact() inventory.Contact {
	c := inventory.Contact{Person: inventory.Code(r.Code), Name: r.Name, Role: inventory.Role(r.Role), Email: r.Email.String, Version: int(r.Version.Int64), Retired: r.Retired}
	c.Kinds = c.Role.UsualKinds()
	if r.Version.Valid {
		c.Kinds = items[inventory.AlertKind](r.Kinds.String)
	}
	return c
}

func (r *reader) contacts() *gorm.DB {
	return r.db.Table("people p").Select("p.code, p.name, p.role, c.email, c.kinds, c.version, p.retired_at IS NOT NULL AS retired").Joins("LEFT JOIN contacts c ON c.person_code = p.code")
}

// Contact returns how a person is reached.
func (r *reader) Contact(code inventory.Code) (inventory.Contact, error) {
	var row personContactRow
	err := r.contacts().Where("p.code = ?", string(code)).Take(&row).Error
	return row.contact(), missing(err, "no-such-person", "there is nobody with badge %s", code)
}

// Contacts returns everybody with a good badge and an address, by name.
func (r *reader) Contacts() ([]inventory.Contact, error) {
	var rows []personContactRow
	err := r.contacts().Where("p.retired_at IS NULL AND c.email <> ''").Order("p.name, p.code").Limit(maxPlaces).Scan(&rows).Error
	out := make([]inventory.Contact, len(rows))
	for i, row := range rows {
		out[i] = row.contact()
	}
	return out, err
}

// UpdateContact writes how a person is reached; at its first version it enters
// it.
func (t *tx) UpdateContact(c inventory.Contact) error {
	row := contactRow{PersonCode: string(c.Person), Email: c.Email, Kinds: lines(c.Kinds), Version: c.Version}
	if c.Version == 1 {
		return t.db.Create(&row).Error
	}
	return updated(t.db.Model(&contactRow{}).Where("person_code = ? AND version = ?", row.PersonCode, c.Version-1).
		Updates(map[string]any{"email": row.Email, "kinds": row.Kinds, "version": row.Version}))
}

type webhookRow struct {
	ID        int64
	Name      string
	URL       string `gorm:"column:url"`
	Secret    string
	Kinds     string
	RetiredAt sql.NullInt64
	Version   int
}

func (webhookRow) TableName() string { return "webhooks" }

func (w webhookRow) webhook() inventory.Webhook {
	return inventory.Webhook{ID: w.ID, Name: w.Name, URL: w.URL, Secret: inventory.Secret(w.Secret), Kinds: items[inventory.AlertKind](w.Kinds),
		RetiredAt: instant(w.RetiredAt), Version: w.Version}
}

// Webhook returns one webhook, retired or not.
func (r *reader) Webhook(id int64) (inventory.Webhook, error) {
	var row webhookRow
	err := r.db.Where("id = ?", id).Take(&row).Error
	return row.webhook(), missing(err, "no-such-webhook", "there is no webhook %d", id)
}

// Webhooks returns them all by name, those that are retired last.
func (r *reader) Webhooks() ([]inventory.Webhook, error) {
	var rows []webhookRow
	err := r.db.Order("retired_at IS NOT NULL, name, id").Limit(maxPlaces).Find(&rows).Error
	out := make([]inventory.Webhook, len(rows))
	for i, row := range rows {
		out[i] = row.webhook()
	}
	return out, err
}

// AddWebhook enters a webhook, at its first version.
func (t *tx) AddWebhook(w inventory.Webhook) (int64, error) {
	id, err := t.next("webhook")
	if err != nil {
		return 0, err
	}
	return id, t.db.Create(&webhookRow{ID: id, Name: w.Name, URL: w.URL, Secret: string(w.Secret), Kinds: lines(w.Kinds), Version: 1}).Error
}

// UpdateWebhook writes a webhook. [inventory.Conflict] if it is not at the
// version before.
func (t *tx) UpdateWebhook(w inventory.Webhook) error {
	return updated(t.db.Model(&webhookRow{}).Where("id = ? AND version = ?", w.ID, w.Version-1).
		Updates(map[string]any{"name": w.Name, "url": w.URL, "secret": string(w.Secret), "kinds": lines(w.Kinds), "retired_at": seconds(w.RetiredAt), "version": w.Version}))
}
