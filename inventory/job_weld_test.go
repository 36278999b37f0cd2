package inventory

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

const mm = unit.Millimetre

func TestParseWeld(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, text string
		want       fit.Weld
		kind       Kind
	}{
		{"a fillet", "12 m of 8 mm fillet", fit.Weld{Shape: fit.FilletWeld, Length: 12_000 * mm, Leg: 8 * mm}, ""},
		{"a fillet in inches", "100 in of 5/16 in fillet, 10 % convex", fit.Weld{Shape: fit.FilletWeld, Length: 100 * unit.Inch, Leg: 5 * unit.Inch / 16, Convexity: 10}, ""},
		{"a V with all its sizes", "3 m of V groove 12 mm deep, gap 3 mm, root face 2 mm, 60 deg, cap 2 mm, cap width 18 mm",
			fit.Weld{Shape: fit.VGroove, Length: 3000 * mm, Depth: 12 * mm, Gap: 3 * mm, RootFace: 2 * mm, Angle: 600, Cap: 2 * mm, CapWidth: 18 * mm}, ""},
		{"half a degree", "1 m of bevel groove 10 mm deep, 37.5 deg", fit.Weld{Shape: fit.BevelGroove, Length: 1000 * mm, Depth: 10 * mm, Angle: 375}, ""},
		{"a square groove, spaced anyhow", "  900 mm of  square groove 3 mm deep, gap 1 mm", fit.Weld{Shape: fit.SquareGroove, Length: 900 * mm, Depth: 3 * mm, Gap: mm}, ""},
		{"a small v", "1 m of v groove 10 mm deep, 60 deg", fit.Weld{Shape: fit.VGroove, Length: 1000 * mm, Depth: 10 * mm, Angle: 600}, ""},
		{"no amount", "8 mm fillet", fit.Weld{}, Invalid},
		{"a length without its unit", "12 of 8 mm fillet", fit.Weld{}, Invalid},
		{"a leg without its unit", "12 m of 8 fillet", fit.Weld{}, Invalid},
		{"a V without its angle", "3 m of V groove 12 mm deep, gap 3 mm", fit.Weld{}, Invalid},
		{"no length at all", "0 m of 8 mm fillet", fit.Weld{}, Invalid},
		{"a shape nobody reckons", "3 m of U groove 12 mm deep", fit.Weld{}, Invalid},
		{"a gap in a fillet", "3 m of 8 mm fillet, gap 2 mm", fit.Weld{}, Invalid},
		{"an angle of a square groove", "1 m of square groove 3 mm deep, 30 deg", fit.Weld{}, Invalid},
		{"a word that says nothing", "1 m of square groove 3 mm deep, painted", fit.Weld{}, Invalid},
		{"nothing", "", fit.Weld{}, Invalid},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ParseWeld(tt.text)
			if KindOf(err) != tt.kind {
				t.Fatalf("ParseWeld(%q): error %v, want kind %q", tt.text, err, tt.kind)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("ParseWeld(%q) (-want +got):\n%s", tt.text, diff)
			}
		})
	}
}

// FuzzParseWeld holds that what is read is written so that it reads the same.
func FuzzParseWeld(f *testing.F) {
	for _, text := range []string{"12 m of 8 mm fillet", "100 in of 5/16 in fillet, 10 % convex", "1.5 m of bevel groove 10.0001 mm deep, 37.5 deg, cap 1/8 in",
		"3 m of V groove 12 mm deep, gap 3 mm, root face 2 mm, 60 deg, cap 2 mm, cap width 18 mm"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ParseWeld(text)
		if err != nil {
			return
		}
		again, err := ParseWeld(WeldText(w))
		if err != nil {
			t.Fatalf("ParseWeld(%q) = %+v, and ParseWeld(%q): %v", text, w, WeldText(w), err)
		}
		if diff := cmp.Diff(w, again); diff != "" {
			t.Errorf("ParseWeld(%q), written %q (-first +again):\n%s", text, WeldText(w), diff)
		}
	})
}
