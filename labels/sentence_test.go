package labels

import (
	"cmp"
	"errors"
	"strings"
	"testing"

	"wirehold/inventory"
)

// reasonOf is a reason of so many characters.
func reasonOf(n int) string { return strings.Repeat("the test plate was sound ", n)[:n-1] + "x" }

// TestASlipSaysWhyItMayGo holds that no slip leaves off the procedure revision
// that the spool was checked against, why a limit was loosened, or a waiver: it
// says all of each, or is refused with stock that would do.
func TestASlipSaysWhyItMayGo(t *testing.T) {
	t.Parallel()
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	waiver := "classification: waiver 12, granted by Dr. Ilse Quarrymoor until 2026-12-01 10:00 UTC: "
	checked := "WPS-14 rev C; Structural steel, AWS D1.1"
	loosened := checked + "; wind loosened to 8 mph by Dr. Ilse Quarrymoor on 2026-11-25: "
	tests := []struct {
		name    string
		checked string
		waivers []string
		least   string // the smallest stock that must do
	}{
		{"nothing out of the ordinary", checked, nil, "50x25"},
		{"a waiver with a reason of one line", checked, []string{waiver + reasonOf(60)}, "100x75"},
		{"a limit that was loosened", loosened + reasonOf(60), nil, "100x75"},
		{"the longest reasons that are kept", loosened + reasonOf(500), []string{waiver + reasonOf(500), waiver + reasonOf(500)}, "100x150"},
	}
	for _, tt := range tests {
		slip := Slip{Spool: usual(), Job: "26-114", Taker: "Jun Ashlock", Net: 13_029, Package: "open since 2026-11-25 07:10", Verdict: "fits with cautions: exposure", Checked: tt.checked, Waivers: tt.waivers, Entered: "2026-11-25 07:12 by Otto Brackwater"}
		l, err := slip.Label()
		if err != nil {
			t.Fatal(err)
		}
		must := false
		for _, size := range Sizes() {
			must = must || size.Name == tt.least
			s, err := f.layOut(&l, size, 203)
			if err != nil {
				_, named := errors.AsType[*FieldError](err)
				if must || !named {
					t.Errorf("%s: layOut on %s: %v", tt.name, size, err)
				}
				continue
			}
			said := texts(s)
			all := said["waiver"] + said["procedure"] + said["profile"] + said["cautions"]
			wanted := append(tt.waivers, "WPS-14 rev C")
			if profile := strings.TrimPrefix(tt.checked, "WPS-14 rev C; "); strings.Contains(profile, "loosened") {
				wanted = append(wanted, profile)
			}
			for _, want := range wanted {
				if !strings.Contains(strings.Join(strings.Fields(all), " "), want) {
					t.Errorf("%s on %s: the slip says %q, want %q", tt.name, size, all, want)
				}
			}
		}
	}
}

// TestAHoldTagIsAlwaysPrinted holds that no reason is too long for the tag that
// keeps a spool from being used.
func TestAHoldTagIsAlwaysPrinted(t *testing.T) {
	t.Parallel()
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	byRule := "held by rule: exposed for 169 h 55 min, past its limit of 72 h (published: maker guide; filler metal maker's storage guide A (cored wire))"
	for _, reason := range []string{"", "porosity: maker asked", byRule, reasonOf(500)} {
		l, err := usual().Hold(reason, "2026-11-25 07:10")
		if err != nil {
			t.Fatal(err)
		}
		for _, size := range Sizes() {
			s, err := f.layOut(&l, size, 203)
			if err != nil {
				t.Errorf("a hold tag on %s, because %q: %v", size, reason, err)
				continue
			}
			said := texts(s)
			if said["order"] != "DO NOT USE" {
				t.Errorf("a hold tag on %s: it says %q, want DO NOT USE", size, said["order"])
			}
			if left := said["cautions"]; !strings.Contains(said["reason"]+left, reason) && !strings.Contains(left, "why") && !strings.Contains(left, "more facts") {
				t.Errorf("a hold tag on %s because %q: it says %q, %q: want the reason, or that there was no room for it", size, reason, said["reason"], left)
			}
			if size.scale() >= 100 && said["reason"] != cmp.Or(reason, "no reason is written down") {
				t.Errorf("a hold tag on %s because %q: it says %q", size, reason, said["reason"])
			}
		}
	}
}

// TestALongNameIsPrinted holds that every thing the shop may enter has a label:
// the longest names that are kept go on the usual stock, and what does not go on
// a smaller one is refused.
func TestALongNameIsPrinted(t *testing.T) {
	t.Parallel()
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	shop := Shop{Base: "https://wirehold.example"}
	words := strings.Repeat("crane rail ", 11)[:120]
	whole := strings.Repeat("W", 40)
	var ps []inventory.Procedure
	for range 10 {
		ps = append(ps, inventory.Procedure{Number: "WPS-1040", Revision: "C"})
	}
	for name, l := range map[string]Label{
		"a place":                       shop.Place(inventory.Place{Code: "KNR7J-Y", Name: words, Kind: inventory.DryCabinet, DryKept: true}),
		"a feeder":                      shop.Feeder(inventory.Feeder{Place: inventory.Place{Code: "FA9DY-Y", Name: words}}),
		"a badge":                       shop.Badge(inventory.Person{Code: "P5927-H", Name: words, Role: inventory.Engineer}),
		"a badge of one word":           shop.Badge(inventory.Person{Code: "P5927-H", Name: whole, Role: inventory.Engineer}),
		"a job with a long name":        shop.Job(inventory.Job{Code: "JJJ4E-2", Number: "2201", Name: words}, ps[:1]...),
		"a job with a long number":      shop.Job(inventory.Job{Code: "JJJ4E-2", Number: whole, Name: words}, ps[:1]...),
		"a job with all its procedures": shop.Job(inventory.Job{Code: "JJJ4E-2", Number: whole, Name: words}, ps...),
	} {
		for _, size := range Sizes() {
			s, err := f.layOut(&l, size, 203)
			if err != nil {
				if size.scale() >= 100 {
					t.Errorf("%s on %s: %v", name, size, err)
				}
				continue
			}
			if said := texts(s); said[l.Facts[0].Field] != l.Facts[0].Words && !strings.Contains(said["cautions"], l.Facts[0].Words) {
				t.Errorf("%s on %s: it says %q, want %q", name, size, said, l.Facts[0].Words)
			}
		}
	}
}
