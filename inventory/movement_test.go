package inventory

import (
	"testing"
	"time"
)

// TestOldRowsKeepTheirHash holds a movement and a deed from before procedures
// were kept in them, and a change of a profile from before all chains had one
// shape, to the hashes that they were written with then.
func TestOldRowsKeepTheirHash(t *testing.T) {
	t.Parallel()
	at := time.Unix(1e9, 0)
	m := Movement{Link: Link{Seq: 7, Prev: "p"}, Spool: "W", Version: 2, Type: Issued, EffectiveAt: at, EnteredAt: at, Person: "P", RequestKey: "k", Request: "r", Job: "J", Holder: "P2",
		Verdict: "fits", Checked: "WPS-14 rev C; General shop"}
	if got, want := m.hash(), "5d9a1dfe93bf7c3874e393d730e1f6675e7638f9fc51a382cea094c046662c81"; got != want {
		t.Errorf("hash of a movement without a procedure %s, want %s", got, want)
	}
	d := WaiverDeed{Link: Link{Seq: 3, Prev: "p"}, WaiverID: 1, Deed: WaiverAsked, Spool: "W", Job: "J", Rule: "passes", Person: "P", Reason: "r", Found: "f", RequestKey: "k", Request: "q", At: at}
	if got, want := d.hash(), "0981507bb35f182e3560ec6e7204aa10ebb4e149007c1eb3a71a1f3c438367e9"; got != want {
		t.Errorf("hash of a deed without a procedure %s, want %s", got, want)
	}
	c := ProfileChange{Link: Link{Seq: 4, Prev: "p"}, Profile: "shop-1", Deed: LimitSet, Content: "c",
		Change: Change{Version: 2, Person: "P", At: at, RequestKey: "k", Request: "r", What: []string{"one", "two"}}}
	if got, want := c.hash(), "110b883de2c73534a6b3f887b98500843cc24791b7a8371f948c959037b1135e"; got != want {
		t.Errorf("hash of a change of a profile %s, want %s", got, want)
	}
	was, wasDeed := m.hash(), d.hash()
	m.Procedure, d.Procedure = 3, 3
	if m.hash() == was || d.hash() == wasDeed {
		t.Error("a procedure changes no hash")
	}
}
