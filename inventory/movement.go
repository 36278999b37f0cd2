package inventory

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"time"

	"wirehold/inventory/unit"
)

// MovementType is what a movement does.
type MovementType string

// The movements of the ledger.
const (
	Received  MovementType = "received"
	Opened    MovementType = "opened"
	Issued    MovementType = "issued"
	Loaded    MovementType = "loaded"
	Unloaded  MovementType = "unloaded"
	Returned  MovementType = "returned"
	Weighed   MovementType = "weighed"
	Moved     MovementType = "moved"
	Held      MovementType = "held"
	Released  MovementType = "released"
	Dried     MovementType = "dried"
	Damaged   MovementType = "damaged" // the sealed package was found torn: the exposure is not known
	Scrapped  MovementType = "scrapped"
	Corrected MovementType = "corrected"
)

// Movement is one line of the ledger. It is never changed once appended.
type Movement struct {
	Link
	Spool       Code
	Version     int // of the spool, as this movement leaves it
	Type        MovementType
	EffectiveAt time.Time // when it happened
	EnteredAt   time.Time // when it was written down
	Person      Code      // who entered it
	RequestKey  string    // one request, however often it is repeated
	Request     string    // SHA-256 of what was asked for: the key with another wish is another request

	LotID     int64       // of a received spool
	To        Code        // where it went; empty if it stayed
	Job       Code        // the job it is issued to
	Holder    Code        // who took it
	Net       *unit.Grams // wire left, as weighed or corrected; nil if not weighed
	Tare      *unit.Grams // the empty spool, when received or corrected
	OpenedAt  *time.Time  // a corrected opening time; a zero time is sealed
	Reason    string      // of a hold, release, scrap or correction; of a loading, what the welder set and confirmed
	Corrects  int64       // the movement a correction sets right
	Verdict   string      // the answer of the fit check, with the rules that cautioned
	Checked   string      // what an issue or a loading was checked against: procedure revision and profile
	Procedure int64       // of an issue or a loading: the revision it was checked against; zero in movements from before it was kept
	Waiver    string      // the waivers an issue or a loading rests on, one a line; empty if it needed none
	Drying    *Drying     // of a drying, or as a correction sets one right; nil otherwise
	Undone    bool        // of a correction: the drying or damage it sets right never was
}

// Late reports whether m was entered so long after it took effect that a
// reader should see both times: more than ten minutes.
func (m Movement) Late() bool { return m.EnteredAt.Sub(m.EffectiveAt) > 10*time.Minute }

func (m Movement) about() string { return string(m.Type) + " of spool " + string(m.Spool) }

// hash returns the SHA-256 of every field but Hash, in hexadecimal. Each field
// is written with its length, so that no two movements run together.
func (m Movement) hash() string {
	h := sha256.New()
	number(h, m.Seq)
	text(h, string(m.Spool))
	number(h, int64(m.Version))
	text(h, string(m.Type))
	number(h, m.EffectiveAt.Unix())
	number(h, m.EnteredAt.Unix())
	text(h, string(m.Person))
	text(h, m.RequestKey)
	text(h, m.Request)
	number(h, m.LotID)
	text(h, string(m.To))
	text(h, string(m.Job))
	text(h, string(m.Holder))
	grams(h, m.Net)
	grams(h, m.Tare)
	if m.OpenedAt == nil {
		text(h, "")
	} else {
		text(h, "at")
		number(h, unixOrZero(*m.OpenedAt))
	}
	text(h, m.Reason)
	number(h, m.Corrects)
	text(h, m.Verdict)
	text(h, m.Checked)
	if m.Waiver != "" { // movements from before there were waivers keep their hash
		text(h, "waiver")
		text(h, m.Waiver)
	}
	if m.Procedure != 0 { // likewise those from before it was kept
		text(h, "procedure")
		number(h, m.Procedure)
	}
	if d := m.Drying; d != nil { // nor do those from before there were dryings change
		text(h, "drying")
		number(h, d.From.Unix())
		number(h, d.Until.Unix())
		text(h, string(d.Oven))
		number(h, int64(d.At))
		number(h, int64(d.Held))
		number(h, int64(d.Takes))
		text(h, d.Rule)
	}
	if m.Undone {
		text(h, "undone")
	}
	text(h, m.Prev)
	return hex.EncodeToString(h.Sum(nil))
}

func number(h hash.Hash, n int64) {
	h.Write(binary.BigEndian.AppendUint64(nil, uint64(n)))
}

func text(h hash.Hash, s string) {
	number(h, int64(len(s)))
	h.Write([]byte(s))
}

func grams(h hash.Hash, g *unit.Grams) {
	if g == nil {
		text(h, "")
		return
	}
	text(h, "g")
	number(h, int64(*g))
}

func unixOrZero(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.Unix()
}
