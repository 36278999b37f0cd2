package fit

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestLotCheckSaysWhatCheckSays holds that spools which differ by their lots
// alone are told the same by a LotCheck of one of them as by themselves.
func TestLotCheckSaysWhatCheckSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, o, lot := anyDemand().Draw(t, "demand"), anyOffer().Draw(t, "offer"), anyOffer().Draw(t, "other lot")
		f, p := anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		check := NewLotCheck(o, d, f, p)
		other := o
		other.LotNumber, other.LotStatus, other.LotReason, other.Held, other.Origin = "A26-9", lot.LotStatus, "why", maybe(t, "held", "torn box"), lot.Origin
		other.Received, other.Expires = lot.Received, lot.Expires
		other.Certificate.Number, other.Certificate.Type = lot.Certificate.Number, lot.Certificate.Type
		if o.TestedExposure != "" {
			other.LotNumber = o.LotNumber // the test is of the one lot
		}
		if !other.Made.IsZero() {
			other.Made = other.Made.Add(-100 * 24 * time.Hour)
		}
		for _, offer := range []Offer{o, other} {
			if diff := cmp.Diff(Check(offer, d, f, p), check.Check(offer)); diff != "" {
				t.Fatalf("LotCheck of %+v (-Check +LotCheck):\n%s", offer, diff)
			}
		}
	})
}
