package labels

import (
	"bytes"
	"image"
	"image/png"
	"slices"
	"strings"
	"testing"
)

// texts joins what a sheet prints, by field.
func texts(s sheet) map[string]string {
	said := map[string]string{}
	for _, i := range s.items {
		if t, ok := i.(text); ok {
			said[t.field] = strings.TrimSpace(said[t.field] + " " + t.words)
		}
	}
	return said
}

// sizes returns the font size of each field in dots.
func sizes(s sheet) map[string]int {
	em := map[string]int{}
	for _, i := range s.items {
		if t, ok := i.(text); ok {
			em[t.field] = t.em
		}
	}
	return em
}

func layOut(t *testing.T, l Spool, dpi int) sheet {
	t.Helper()
	label, err := l.Label()
	if err != nil {
		t.Fatal(err)
	}
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	s, err := f.layOut(&label, on(UsualSize, dpi).Size, dpi)
	if err != nil {
		t.Fatalf("layOut(%+v, %d): %v", l, dpi, err)
	}
	return s
}

func TestNothingOverlapsOrLeavesTheLabel(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		for _, dpi := range Resolutions() {
			s := layOut(t, l, dpi)
			safe := s.bounds.Inset(dots(2*1_000_000, dpi))
			for i, a := range s.items {
				if a.box().Empty() || !a.box().In(safe) {
					t.Errorf("%s, %d dpi: %+v at %v is not inside %v", name, dpi, a, a.box(), safe)
				}
				for _, b := range s.items[i+1:] {
					if a.box().Overlaps(b.box()) {
						t.Errorf("%s, %d dpi: %+v at %v meets %+v at %v", name, dpi, a, a.box(), b, b.box())
					}
				}
			}
		}
	}
}

// Boxes are only worth checking if all the ink is inside them.
func TestAllInkIsInsideItsBox(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		for _, dpi := range Resolutions() {
			img := renderPNG(t, l, dpi)
			for _, i := range layOut(t, l, dpi).items {
				erase(img, i.box().Inset(-1)) // characters stand on the nearest whole dot
			}
			if left := ink(img); !left.Empty() {
				t.Errorf("%s, %d dpi: ink outside every box, within %v", name, dpi, left)
			}
		}
	}
}

func erase(img *image.Paletted, r image.Rectangle) {
	r = r.Intersect(img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			img.SetColorIndex(x, y, 0)
		}
	}
}

// ink is the smallest rectangle around all black dots.
func ink(img *image.Paletted) (all image.Rectangle) {
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if img.ColorIndexAt(x, y) == 1 {
				all = all.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return all
}

func renderPNG(t *testing.T, l Spool, dpi int) *image.Paletted {
	t.Helper()
	var b bytes.Buffer
	if err := renderOne(&b, l, dpi); err != nil {
		t.Fatalf("renderOne(%+v, %d): %v", l, dpi, err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatalf("decode the PNG of %+v: %v", l, err)
	}
	return img.(*image.Paletted)
}

func TestWhatMustBePrintedIsPrintedWhole(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		said := texts(layOut(t, l, 203))
		f, err := newFonts()
		if err != nil {
			t.Fatal(err)
		}
		for field, given := range map[string]string{
			"polarity": l.Polarity, "gas": l.Gas, "passes": l.Passes, "classification": l.Classification,
			"thickness": l.Thickness, "lot": l.Lot,
		} {
			want := f.bold.drawable(strings.Join(strings.Fields(given), " "))
			if given == "" {
				want = "NOT KNOWN: READ THE BOX"
			}
			if said[field] != want {
				t.Errorf("%s: %s reads %q, want %q", name, field, said[field], want)
			}
		}
		if said["code"] != l.Code {
			t.Errorf("%s: code reads %q, want %q", name, said["code"], l.Code)
		}
		if !strings.HasSuffix(said["cautions"], decides) {
			t.Errorf("%s: the last line reads %q, want it to end in %q", name, said["cautions"], decides)
		}
	}
}

func TestThePrintedWords(t *testing.T) {
	t.Parallel()
	foreign, written := hard()["characters the font does not have"], usual()
	written.Opened = "2026-11-25 07:10"
	tests := []struct {
		name  string
		label Spool
		field string
		want  string
	}{
		{"the polarity is also in words", usual(), "polarity words", "electrode negative (−)"},
		{"the diameter is in both units", usual(), "diameter", ".045 in / 1.1 mm"},
		{"an unknown diameter says so", Spool{Code: "A"}, "diameter", unknown},
		{"the moment of opening is printed", written, "opened", "2026-11-25 07:10"},
		{"a character the font lacks is a box", foreign, "wire", "□□ wire"},
		{"a tab and a line end are blanks", foreign, "lot", "lot 7 □"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := texts(layOut(t, tt.label, 203))[tt.field]; got != tt.want {
				t.Errorf("%s of %+v reads %q, want %q", tt.field, tt.label, got, tt.want)
			}
		})
	}
}

func TestAnUnopenedSpoolHasBoxesToWriteIn(t *testing.T) {
	t.Parallel()
	opened := usual()
	opened.Opened = "2026-11-25 07:10"
	for _, tt := range []struct {
		label Spool
		want  []string
	}{{usual(), []string{"opened date", "opened time"}}, {opened, nil}} {
		var got []string
		for _, i := range layOut(t, tt.label, 203).items {
			if f, ok := i.(frame); ok {
				got = append(got, f.field)
				if high := f.area.Dy(); high < dots(5*1_000_000, 203) {
					t.Errorf("frame %q is %d dots high, want 5 mm or more", f.field, high)
				}
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("opened %q: frames %q, want %q", tt.label.Opened, got, tt.want)
		}
	}
}

func TestOrderOfSize(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		em := sizes(layOut(t, l, 203))
		big := min(em["polarity"], em["gas"], em["passes"])
		for _, field := range []string{"classification", "diameter", "thickness", "wire", "lot", "opened", "code", "cautions"} {
			if em[field] > big {
				t.Errorf("%s: %s is %d dots, larger than polarity %d, gas %d or passes %d", name, field, em[field], em["polarity"], em["gas"], em["passes"])
			}
		}
	}
	opened := usual()
	opened.Opened = "2026-11-25 07:10"
	em := sizes(layOut(t, opened, 203))
	order := []string{"polarity", "passes", "classification", "lot", "code", "cautions"}
	for i := range order[1:] {
		if em[order[i]] <= em[order[i+1]] {
			t.Errorf("%s is %d dots, %s %d: want the first larger", order[i], em[order[i]], order[i+1], em[order[i+1]])
		}
	}
}

// At 0.7 m a letter of 3.5 mm is read without effort (0.3 degrees of arc,
// practice); capitals are 0.7 of the font size.
func TestLargestFactsAreReadAtArmsLength(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		if name == "every field as long as it gets" {
			continue
		}
		em := sizes(layOut(t, l, 203))
		for _, field := range []string{"polarity", "gas", "passes"} {
			if em[field] < dots(5*1_000_000, 203) {
				t.Errorf("%s: %s has a font of %d dots, want 5 mm or more", name, field, em[field])
			}
		}
	}
}

func TestOptionalLinesGoInOrder(t *testing.T) {
	t.Parallel()
	cautions := func(l *Spool) { l.Cautions = []string{"One.", "Two.", "Three.", "Four.", "Five.", "Six."} }
	endless := func(l *Spool) { l.Wire = strings.Repeat("Cobaltine ", 20) }
	tests := []struct {
		name  string
		spoil []func(*Spool)
		has   []string
		lacks []string
	}{
		{"nothing goes from the usual label", nil, []string{"Cobaltine", "Keep dry"}, []string{"No room"}},
		{"the last cautions go first", []func(*Spool){cautions}, []string{"Cobaltine", "One.", "Two.", "caution", ". An aid."}, []string{"Six.", "trade name"}},
		{"an endless trade name goes and the cautions stay", []func(*Spool){endless}, []string{"Keep dry", "No room for: trade name. An aid."}, []string{"Cobaltine"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := usual()
			for _, spoil := range tt.spoil {
				spoil(&l)
			}
			said := texts(layOut(t, l, 203))
			all := said["wire"] + " " + said["cautions"]
			for _, want := range tt.has {
				if !strings.Contains(all, want) {
					t.Errorf("label of %+v reads %q, want %q in it", l, all, want)
				}
			}
			for _, never := range tt.lacks {
				if strings.Contains(all, never) {
					t.Errorf("label of %+v reads %q, want no %q in it", l, all, never)
				}
			}
		})
	}
}

func TestAUnitStaysWithItsNumber(t *testing.T) {
	t.Parallel()
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	st := style{f.bold, 20, 20, 9}
	for width := 60; width < 400; width += 7 {
		b, ok := st.set("from 3 mm up to 19 mm, flat", 20, width)
		for _, line := range b.lines {
			if ok && (strings.HasPrefix(line, "mm") || strings.HasSuffix(line, "3") || strings.HasSuffix(line, "19")) {
				t.Errorf("set to %d dots: %q parts a number from its unit", width, b.lines)
			}
		}
	}
}
