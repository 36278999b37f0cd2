package inventory

import (
	"context"
	"slices"
	"strings"
	"time"
)

// Alert is something somebody must see to. It has one life: raised once for
// one cause, seen by whoever looked at it, cleared when the cause is gone. Its
// cause is kind and subject; the database lets no two alerts of one cause stand
// at once. Its text is renewed while it stands, for hours go on and a second
// limit is broken; whoever was told of the cause is not told again.
type Alert struct {
	ID        int64
	Kind      AlertKind
	Subject   string // what it is about: see [AlertKind.About]
	Text      string // one or two sentences: what, where and since when
	RaisedAt  time.Time
	ClearedAt time.Time  // zero while it stands
	Seen      []Sighting // in the order in which they saw it; filled in by [AlertReader] alone
}

// Sighting is somebody's word that they saw an alert.
type Sighting struct {
	AlertID    int64
	Person     Code
	PersonName string // filled in when it is read
	At         time.Time
}

// AlertKind is what an alert is about.
type AlertKind string

// The kinds of alert.
const (
	ExposureNearAlert  AlertKind = "exposure nearing"    // a spool runs out of hours soon, or before the shift ends
	ExposureAlert      AlertKind = "exposure"            // a spool is open beyond its limit
	NotReturnedAlert   AlertKind = "not returned"        // a spool is out after the shift it was issued in
	ClimateAlert       AlertKind = "climate"             // a dry-kept place is out of its limits
	SilentAlert        AlertKind = "logger silent"       // a dry-kept place sent no reading for too long
	LoggerAlert        AlertKind = "logger"              // a logger of a dry-kept place is silent while others speak: each logger is its own cause
	ShelfLifeNearAlert AlertKind = "shelf life nearing"  // a lot will be past its date soon
	ShelfLifeAlert     AlertKind = "shelf life"          // a lot is past its date
	CertificateAlert   AlertKind = "certificate missing" // a lot in the store has no certificate
	ReorderAlert       AlertKind = "reorder"             // a wire is below the shop's minimum
	WaiverAlert        AlertKind = "waiver"              // which waivers stand: one a week, its subject the ISO week
)

// AlertKinds lists the kinds in the order in which they are shown, the gravest
// first.
func AlertKinds() []AlertKind {
	return []AlertKind{ExposureAlert, ExposureNearAlert, NotReturnedAlert, ClimateAlert, SilentAlert, LoggerAlert, ShelfLifeAlert, ShelfLifeNearAlert, CertificateAlert, ReorderAlert, WaiverAlert}
}

// AlertSubject is the sort of thing that an alert's subject names.
type AlertSubject string

// The sorts of subject, and how they are named.
const (
	AboutSpool  AlertSubject = "spool"  // by its code
	AboutPlace  AlertSubject = "place"  // by its code
	AboutLogger AlertSubject = "logger" // by its place's code, a space and its name
	AboutLot    AlertSubject = "lot"    // by its id
	AboutWire   AlertSubject = "wire"   // by its id
	AboutWeek   AlertSubject = "week"   // by its name in ISO 8601: "2026-W48"
)

// About returns what the subject of an alert of this kind names.
func (k AlertKind) About() AlertSubject {
	switch k {
	case ClimateAlert, SilentAlert:
		return AboutPlace
	case LoggerAlert:
		return AboutLogger
	case ShelfLifeNearAlert, ShelfLifeAlert, CertificateAlert:
		return AboutLot
	case ReorderAlert:
		return AboutWire
	case WaiverAlert:
		return AboutWeek
	}
	return AboutSpool
}

// Place returns the place that the alert is about; empty where it is about none.
func (a Alert) Place() Code {
	switch a.Kind.About() {
	case AboutPlace:
		return Code(a.Subject)
	case AboutLogger:
		place, _, _ := strings.Cut(a.Subject, " ")
		return Code(place)
	}
	return ""
}

// Title returns the kind as a heading.
func (k AlertKind) Title() string {
	switch k {
	case ExposureNearAlert:
		return "Exposure time nearly used up"
	case ExposureAlert:
		return "Exposure time used up"
	case NotReturnedAlert:
		return "Not returned at the end of the shift"
	case ClimateAlert:
		return "Dry-kept place out of its limits"
	case SilentAlert:
		return "No readings from a dry-kept place"
	case LoggerAlert:
		return "One logger of a dry-kept place is silent"
	case ShelfLifeNearAlert:
		return "Shelf life nearly over"
	case ShelfLifeAlert:
		return "Shelf life over, or not known"
	case CertificateAlert:
		return "Certificate missing"
	case ReorderAlert:
		return "Below the minimum"
	case WaiverAlert:
		return "Waivers that stand this week"
	}
	return string(k)
}

// Advice says what whoever gets an alert of this kind does about it.
func (k AlertKind) Advice() string {
	switch k {
	case ExposureNearAlert:
		return "Put the spool into a dry-kept place, or finish the weld before the time is up."
	case ExposureAlert:
		return "Weld no more with it. Bring the spool back to the store; the welding engineer decides whether it is dried or scrapped."
	case NotReturnedAlert:
		return "Bring the spool back to the counter, or ask whoever has it. Left on the feeder, its exposure clock runs."
	case ClimateAlert:
		return "Look at the place and its door. Until its readings are within the limits, spools in it count as exposed."
	case SilentAlert:
		return "Look at the logger, or read the place by hand. Until there are readings, spools in it count as exposed."
	case LoggerAlert:
		return "Look at the logger, its battery and its link. If it was taken away for good, this ends by itself a week after its last reading."
	case ShelfLifeNearAlert:
		return "Use this lot first, if it fits the work."
	case ShelfLifeAlert:
		return "Use it no more until it is inspected and tested: the welding engineer decides."
	case CertificateAlert:
		return "Ask the supplier for the certificate, and enter it on the lot's page."
	case ReorderAlert:
		return "Order, or lower the minimum if the wire is used no more."
	case WaiverAlert:
		return "See whether each of them is still needed; the welding engineer ends those that are not."
	}
	return ""
}

// Urgent reports whether an alert of this kind goes out in quiet hours too:
// that a spool is used up stops a weld, all else can wait until morning.
func (k AlertKind) Urgent() bool { return k == ExposureAlert }

// AlertQuery asks for one page of alerts.
type AlertQuery struct {
	Kind    AlertKind // empty is any
	Cleared bool      // those that were cleared, the latest first; false is those that stand, the latest raised first
	Limit   int       // 1 to 200; zero is 50
	After   int       // how many to leave out
}

// AlertReader looks up alerts.
type AlertReader interface {
	// OpenAlerts returns the alerts of a kind that are not cleared; of every
	// kind if kind is empty. Who saw them is left out.
	OpenAlerts(kind AlertKind) ([]Alert, error)
	// Alerts returns the alerts that are asked for, with who saw them.
	Alerts(AlertQuery) ([]Alert, error)
	// Alert returns one alert with who saw it.
	Alert(id int64) (Alert, error)
	// AlertsWith returns the alerts with the ids, in no order. Who saw them is
	// left out.
	AlertsWith(ids []int64) ([]Alert, error)
	// CountAlerts returns how many stand, by kind; a kind of which none stands
	// is left out.
	CountAlerts() (map[AlertKind]int, error)
}

// AlertTx writes alerts.
type AlertTx interface {
	// RaiseAlert enters an alert and returns its id. raised is false, and
	// nothing is entered, where one of the same kind and subject stands.
	RaiseAlert(Alert) (id int64, raised bool, err error)
	ClearAlert(id int64, at time.Time) error
	// RenewAlerts writes the texts of standing alerts.
	RenewAlerts([]Alert) error
	// SeeAlert keeps that somebody saw an alert; nothing changes if they had.
	SeeAlert(Sighting) error
}

// CheckAlertKind returns [Invalid] where there is no such kind. Empty is any.
func CheckAlertKind(k AlertKind) error {
	if k == "" || slices.Contains(AlertKinds(), k) {
		return nil
	}
	return Invalidf("kind", "there is no kind of alert called %q", clip(string(k)))
}

// SeeAlert keeps that somebody saw a standing alert, and returns it. Whoever
// says so twice changes nothing. The error is [Refused] if it was cleared.
func (l *Ledger) SeeAlert(ctx context.Context, id int64, badgeCode Code) (Alert, error) {
	return byBadge(ctx, l, badgeCode, func(tx Tx, by Person, at time.Time) (Alert, error) {
		a, err := tx.Alert(id)
		if err != nil {
			return Alert{}, err
		}
		if !a.ClearedAt.IsZero() {
			return Alert{}, Refusedf("alert-cleared", "alert %d was cleared at %s: there is nothing left to see to", id, Stamp(a.ClearedAt))
		}
		if err := tx.SeeAlert(Sighting{AlertID: id, Person: by.Code, At: at}); err != nil {
			return Alert{}, err
		}
		return tx.Alert(id)
	})
}
