package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"

	"wirehold/inventory/fit"
)

// Waiver is the welding engineer's permission to use one spool for one job
// against one rule: asked for by one person, granted or refused by another. It
// is the sum of its deeds.
type Waiver struct {
	ID        int64
	Spool     Code
	Job       Code
	Procedure int64 // the revision it is for; zero in waivers from before jobs had several
	Feeder    Code  // the machine it was asked for; empty if none was named
	Rule      fit.Rule
	State     WaiverState
	Found     string // what the rule said when it was asked for or, once granted, then

	AskedBy Code
	AskedAt time.Time
	Why     string // whoever asked says

	DecidedBy Code // empty while it is asked for
	DecidedAt time.Time
	Reason    string
	Until     time.Time // its end: from then on it holds no more; zero unless granted

	EndedBy  Code // empty unless it was ended early
	EndedAt  time.Time
	EndedWhy string

	Version int // how many deeds it has had
}

// WaiverState is what became of a waiver.
type WaiverState string

// The states of a waiver. One whose end has passed is still in the state
// granted: see [Waiver.Standing].
const (
	WaiverAsked   WaiverState = "asked"
	WaiverGranted WaiverState = "granted"
	WaiverRefused WaiverState = "refused"
	WaiverEnded   WaiverState = "ended"
)

// Standing reports whether w holds at an instant.
func (w Waiver) Standing(at time.Time) bool { return w.State == WaiverGranted && at.Before(w.Until) }

// Status is the state in one word, at an instant: "asked", "standing",
// "refused", "ended" or "expired".
func (w Waiver) Status(at time.Time) string {
	switch {
	case w.Standing(at):
		return "standing"
	case w.State == WaiverGranted:
		return "expired"
	}
	return string(w.State)
}

// WaiverDeed is one thing that was done about a waiver. The deeds are a ledger
// of their own, chained like the movements, and never changed.
type WaiverDeed struct {
	Link
	WaiverID   int64
	Deed       WaiverState // the state in which it leaves the waiver
	Spool      Code
	Job        Code
	Procedure  int64
	Feeder     Code
	Rule       fit.Rule
	Person     Code
	Reason     string
	Found      string
	Until      time.Time // of a grant
	RequestKey string
	Request    string // SHA-256 of what was asked for, as of [Movement]
	At         time.Time
}

func (d WaiverDeed) about() string { return fmt.Sprintf("waiver %d was %s", d.WaiverID, d.Deed) }

func (d WaiverDeed) hash() string {
	h := sha256.New()
	number(h, d.Seq)
	number(h, d.WaiverID)
	for _, s := range [...]string{string(d.Deed), string(d.Spool), string(d.Job), string(d.Feeder), string(d.Rule), string(d.Person), d.Reason, d.Found, d.RequestKey, d.Request, d.Prev} {
		text(h, s)
	}
	number(h, unixOrZero(d.Until))
	number(h, d.At.Unix())
	if d.Procedure != 0 { // deeds from before jobs had several procedures keep their hash
		text(h, "procedure")
		number(h, d.Procedure)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// after returns the waiver as the deed leaves it, or why the deed cannot
// follow. It is pure: the use cases and the replay both call it.
func (w Waiver) after(d WaiverDeed) (Waiver, error) {
	switch {
	case d.Deed == WaiverAsked && w.Version == 0:
		w.ID, w.Spool, w.Job, w.Procedure, w.Feeder, w.Rule = d.WaiverID, d.Spool, d.Job, d.Procedure, d.Feeder, d.Rule
		w.AskedBy, w.AskedAt, w.Why, w.Found = d.Person, d.At, d.Reason, d.Found
	case w.State == WaiverAsked && (d.Deed == WaiverGranted || d.Deed == WaiverRefused):
		if err := w.mayFollow(d); err != nil {
			return w, err
		}
		w.DecidedBy, w.DecidedAt, w.Reason, w.Until = d.Person, d.At, d.Reason, d.Until
		if d.Deed == WaiverGranted {
			w.Found = d.Found
		}
	case d.Deed == WaiverEnded && w.Standing(d.At):
		w.EndedBy, w.EndedAt, w.EndedWhy = d.Person, d.At, d.Reason
	default:
		return w, Conflictf("waiver-decided", "waiver %d is %s: it cannot be %s now", w.ID, w.Status(d.At), d.Deed)
	}
	w.State = d.Deed
	w.Version++
	return w, nil
}

// mayFollow holds a decision against what no waiver goes without: somebody
// other than who asked, a reason, and an end that is to come and not far off.
func (w Waiver) mayFollow(d WaiverDeed) error {
	switch {
	case d.Reason == "":
		return Invalidf("reason", "say why")
	case d.Deed == WaiverRefused:
		return nil
	case d.Person == w.AskedBy:
		return Forbiddenf("own-waiver", "whoever asks for a waiver does not grant it: somebody else must decide about waiver %d", w.ID)
	case d.Until.IsZero():
		return Invalidf("until", "say when it ends")
	case !d.Until.After(d.At):
		return Invalidf("until", "say when it ends: %s is not in the future", Stamp(d.Until))
	case d.Until.Sub(d.At) > LongestWaiver:
		return Invalidf("until", "a waiver lasts at most %s", days(LongestWaiver))
	}
	return nil
}

// LongestWaiver is the longest that a waiver may last: common practice, no
// code's figure. The shop's own rule profile may say less.
const LongestWaiver = 30 * 24 * time.Hour

func days(d time.Duration) string {
	if n := int(d / (24 * time.Hour)); n != 1 {
		return fmt.Sprintf("%d days", n)
	}
	return "1 day"
}

// WaiverLine is a waiver with the names that a list shows.
type WaiverLine struct {
	Waiver
	JobNumber     string
	ProcedureName string // empty if the waiver is for none in particular
	FeederName    string // empty if none was named
	Class         string // the wire's classifications, joined
	TradeName     string
	AskedName     string
	DecidedName   string
	EndedName     string
}

// WaiverList is which waivers a list holds.
type WaiverList struct {
	State string    // "asked", "standing" or "ended", which is all others; empty is every one
	At    time.Time // the instant of which it is told
	Spool Code      // of this spool; empty is any
	Limit int       // 1 to 1000
}

// WaiverReader looks up waivers.
type WaiverReader interface {
	// Waiver returns one waiver; [NotFound] if there is none.
	Waiver(id int64) (WaiverLine, error)
	// Waivers returns waivers, the latest asked first.
	Waivers(WaiverList) ([]WaiverLine, error)
	// WaiversOf returns the waivers of a spool for a job that are asked for or
	// granted, in order of id.
	WaiversOf(spool, job Code) ([]WaiverLine, error)
	// WaiverDeeds returns up to limit deeds after seq, in order.
	WaiverDeeds(after int64, limit int) ([]WaiverDeed, error)
	// WaiversAfter returns up to limit waivers with an id after the one given,
	// in order of id.
	WaiversAfter(id int64, limit int) ([]Waiver, error)
}

// WaiverTx changes waivers.
type WaiverTx interface {
	// WaiverRequested returns the deeds done by the request key, in order; none
	// if it is new.
	WaiverRequested(key string) ([]WaiverDeed, error)
	// WaiverHead returns the link of the last deed; the zero link if there is
	// none.
	WaiverHead() (Link, error)
	// NextWaiver returns the id of the next waiver.
	NextWaiver() (id int64, err error)
	// AppendWaiverDeed keeps d and writes the waiver it leaves. [Conflict] if
	// another deed got there first.
	AppendWaiverDeed(d WaiverDeed, next Waiver) error
}
