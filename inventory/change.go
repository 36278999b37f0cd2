package inventory

import "time"

// Change is what every line of a history has in common: of a record, a wire, a
// rule profile. It is never changed once kept.
type Change struct {
	Version    int // of what was changed, as the change leaves it
	Person     Code
	PersonName string // filled in when it is read
	At         time.Time
	RequestKey string
	Request    string   // SHA-256 of what was asked for, as of [Movement]
	What       []string // one change a line: `name: Shelf B, before Shelf A`
}
