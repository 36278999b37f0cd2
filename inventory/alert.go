package inventory

import "time"

// Alert is something somebody must see to. It has one life: raised once for
// one cause, cleared when the cause is gone.
type Alert struct {
	ID        int64
	Kind      AlertKind
	Subject   string // what it is about: a spool's code, a wire's id or a week
	Text      string
	RaisedAt  time.Time
	ClearedAt time.Time // zero while it stands
}

// AlertKind is what an alert is about.
type AlertKind string

// The kinds of alert.
const (
	ExposureAlert AlertKind = "exposure" // a spool is open beyond its limit
	ReorderAlert  AlertKind = "reorder"  // a wire is below the shop's minimum
	WaiverAlert   AlertKind = "waiver"   // which waivers stand: one a week, its subject the ISO week
)
