package inventory

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"

	"wirehold/inventory/fit"
)

// LotDecision is what somebody decided about a whole lot. The decisions are a
// ledger of their own, chained like the movements: a lot's row says what its
// last decision said.
type LotDecision struct {
	Link
	LotID       int64
	Status      fit.LotStatus
	Reason      string // empty for a lot that was accepted as it came
	Certificate string // the certificate's number; empty if none came
	Papers      LotPapers
	Note        string // why papers on record were corrected; empty if none were
	Person      Code
	PersonName  string // filled in where a lot's history is read
	RequestKey  string
	Request     string // SHA-256 of what was asked for, as of [Movement]
	DecidedAt   time.Time
}

func (d LotDecision) about() string { return fmt.Sprint("lot ", d.LotID) }

func (d LotDecision) hash() string {
	h := sha256.New()
	number(h, d.Seq)
	number(h, d.LotID)
	text(h, string(d.Status))
	text(h, d.Reason)
	text(h, d.Certificate)
	text(h, string(d.Person))
	text(h, d.RequestKey)
	text(h, d.Request)
	number(h, d.DecidedAt.Unix())
	if !d.Papers.IsZero() { // decisions from before papers were kept have their hash
		text(h, "papers")
		for _, f := range paperFields() {
			if value := *f.value(&d.Papers); f.late && value != "" {
				text(h, f.Name)
				text(h, value)
			} else if !f.late {
				text(h, value)
			}
		}
	}
	if d.Note != "" {
		text(h, "note")
		text(h, d.Note)
	}
	text(h, d.Prev)
	return hex.EncodeToString(h.Sum(nil))
}

// LotChange is a decision to be made about a lot.
type LotChange struct {
	LotID       int64
	Person      Code
	RequestKey  string
	Status      fit.LotStatus
	Reason      string
	Certificate string // a certificate that came later; empty leaves it as it is
}

// ChangeLot puts a lot on hold, rejects or accepts it, and keeps who did so
// and why. An attendant may put an accepted lot on hold; only the welding
// engineer or the owner decides otherwise. A lot without a certificate is not
// accepted.
func (l *Ledger) ChangeLot(ctx context.Context, c LotChange) (lot Lot, err error) {
	if c, err = c.tidied(); err != nil {
		return Lot{}, err
	}
	d := lotDeed{lot: c.LotID, person: c.Person, key: c.RequestKey, wish: wish("lot", c.LotID, c.Status, c.Reason, c.Certificate)}
	return l.decideLot(ctx, d, func(tx Tx, lot Lot, _ time.Time) (*LotDecision, error) {
		return &LotDecision{Status: c.Status, Reason: c.Reason, Certificate: cmp.Or(c.Certificate, lot.Certificate), Papers: lot.Papers}, c.check(tx, lot)
	})
}

// lotDeed is a decision about a lot under way.
type lotDeed struct {
	lot    int64
	person Code
	key    string // the same for each repetition of one request
	wish   string // the digest of what is asked for
}

// decideLot is the one way in which a lot changes after it came: in one
// transaction it looks the request key up, reads the lot, lets next decide, and
// keeps who did so. Nothing changes where next returns nil.
func (l *Ledger) decideLot(ctx context.Context, d lotDeed, next func(tx Tx, lot Lot, now time.Time) (*LotDecision, error)) (lot Lot, err error) {
	now := l.at()
	err = l.store.Write(ctx, func(tx Tx) error {
		before, err := tx.LotRequested(d.key)
		if err != nil {
			return err
		}
		if lot, err = tx.Lot(d.lot); err != nil {
			return err
		}
		if before.Seq != 0 {
			if before.Request != d.wish {
				return Conflictf("request-key-used", "request key %q was used already, for another decision: use a new one", d.key)
			}
			return nil
		}
		decision, err := next(tx, lot, now)
		if err != nil || decision == nil {
			return err
		}
		decision.Person, decision.RequestKey, decision.Request, decision.DecidedAt = d.person, d.key, d.wish, now
		lot, err = decide(tx, lot, *decision)
		return err
	})
	return lot, err
}

func (c LotChange) tidied() (LotChange, error) {
	var err error
	if c.Reason, err = tidy("reason", c.Reason, longestReason); err != nil {
		return c, err
	}
	if c.Certificate, err = tidy("certificate", c.Certificate, longestCertificate); err != nil {
		return c, err
	}
	switch {
	case c.Reason == "":
		return c, Invalidf("reason", "say why")
	case c.Status != fit.LotAccepted && c.Status != fit.LotOnHold && c.Status != fit.LotRejected:
		return c, Invalidf("status", "a lot is accepted, on hold or rejected, not %q", clip(string(c.Status)))
	}
	return c, Entry{Spool: "W", Person: c.Person, RequestKey: c.RequestKey}.check()
}

func (c LotChange) check(tx Tx, lot Lot) error {
	person, err := badge(tx, c.Person)
	if err != nil {
		return err
	}
	starts := c.Status == fit.LotOnHold && lot.Status != fit.LotRejected && person.Role.MayHold()
	switch {
	case !starts && !person.Role.MayRelease():
		return Forbiddenf("may-not-decide", "%s is a %s: the welding engineer decides about a lot", person.Name, person.Role)
	case c.Status == fit.LotAccepted && lot.Certificate == "" && c.Certificate == "":
		return Refusedf("lot-without-certificate", "lot %s has no certificate: enter its number to accept it", lot.Number)
	}
	return nil
}

// decide appends the decision, which says all that holds of the lot from now
// on, and returns the lot as it leaves it.
func decide(tx Tx, lot Lot, d LotDecision) (Lot, error) {
	last, err := tx.LotHead()
	if err != nil {
		return lot, err
	}
	d.LotID, d.Link = lot.ID, last.next()
	d.Hash = d.hash()
	next := lot.after(d)
	return next, tx.AppendLotDecision(d, next)
}

// after returns the lot as the decision leaves it.
func (l Lot) after(d LotDecision) Lot {
	l.Status, l.Reason, l.Certificate, l.Papers = d.Status, d.Reason, d.Certificate, d.Papers
	if d.Status == fit.LotAccepted {
		l.Reason = ""
	}
	l.Version++
	return l
}
