// Package exposure reckons how long a spool has been out of its sealed
// package. It is pure: it is handed the instants it needs.
//
// For now the clock runs from the opening of the package without a pause.
package exposure

import "time"

// Since returns how long a spool opened at opened has been exposed at the
// instant at; zero while it is sealed (opened is the zero time).
func Since(opened, at time.Time) time.Duration {
	if opened.IsZero() || at.Before(opened) {
		return 0
	}
	return at.Sub(opened)
}

// RunsOut returns the instant at which a spool opened at opened reaches limit
// if nothing moves; the zero time while it is sealed.
func RunsOut(opened time.Time, limit time.Duration) time.Time {
	if opened.IsZero() {
		return time.Time{}
	}
	return opened.Add(limit)
}
