package inventory

import (
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

// Spool is one physical spool, coil or drum as its movements leave it.
type Spool struct {
	Code       Code
	LotID      int64
	Place      Code       // where it is; empty once scrapped
	Net        unit.Grams // wire left
	Tare       unit.Grams // the empty spool
	Full       unit.Grams // wire when received: nothing weighs more
	OpenedAt   time.Time  // when the sealed package was opened; zero while sealed
	ReceivedAt time.Time  // when it came
	Held       string     // why it is on hold; empty if it is not
	Job        Code       // the job it is out on; empty in the store
	Procedure  int64      // the revision it was issued under; zero in the store, and where it was not kept
	Holder     Code       // who has it; empty in the store
	OutSince   time.Time  // since when; zero in the store
	Feeder     Code       // the feeder it is loaded on; empty if it is on none
	Touched    bool       // it is out and was loaded or weighed since it was issued
	Scrapped   bool
	MovedAt    time.Time // when its last movement took effect
	Version    int       // how many movements it has had
	Track      exposure.Track
}

// Opened reports whether the sealed package has been opened.
func (s Spool) Opened() bool { return !s.OpenedAt.IsZero() }

// Out reports whether the spool is issued.
func (s Spool) Out() bool { return s.Job != "" }

// Loaded reports whether the spool is on a feeder.
func (s Spool) Loaded() bool { return s.Feeder != "" }

// SpoolState is a spool's state in one word, the most pressing first.
type SpoolState string

// The states of a spool.
const (
	StateScrapped SpoolState = "scrapped"
	StateHeld     SpoolState = "on hold"
	StateIssued   SpoolState = "issued"
	StateOpen     SpoolState = "open"
	StateSealed   SpoolState = "sealed"
)

// State returns the spool's state in one word.
func (s Spool) State() SpoolState {
	switch {
	case s.Scrapped:
		return StateScrapped
	case s.Held != "":
		return StateHeld
	case s.Out():
		return StateIssued
	case s.Opened():
		return StateOpen
	}
	return StateSealed
}
