package inventory

import "time"

// Attempt is how far something is on its way out of the program: how often it
// was tried, and what came of it. A [Message] and a [PrintJob] have one.
type Attempt struct {
	DueAt   time.Time // when it is tried next
	Tries   int       // counted anew when somebody has it tried again
	SentAt  time.Time // when it was taken; zero until then
	DeadAt  time.Time // when it was given up; zero while it is not
	Fault   string    // what went wrong at the last try
	AgainBy Code      // who had it tried again last
}

// The states of an attempt.
const (
	MessageWaiting = "waiting"
	MessageSent    = "sent"
	MessageDead    = "given up"
)

// Waiting reports whether it is neither taken nor given up.
func (a Attempt) Waiting() bool { return a.SentAt.IsZero() && a.DeadAt.IsZero() }

// State returns the state in a word or two.
func (a Attempt) State() string {
	switch {
	case !a.SentAt.IsZero():
		return MessageSent
	case !a.DeadAt.IsZero():
		return MessageDead
	}
	return MessageWaiting
}

// taken is the attempt that succeeded at the instant at.
func (a Attempt) taken(at time.Time) Attempt {
	a.SentAt, a.Fault = at.UTC().Truncate(time.Second), ""
	return a
}

// failed is the attempt that failed at the instant at and is made again at
// next; where next is zero it is given up.
func (a Attempt) failed(fault string, at, next time.Time) Attempt {
	a.Fault = cut(fault, 500)
	if next.IsZero() {
		a.DeadAt = at.UTC().Truncate(time.Second)
		return a
	}
	a.DueAt = next.UTC().Truncate(time.Second)
	return a
}

func cut(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
