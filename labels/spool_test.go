package labels

import (
	"errors"
	"io"
	"strings"
	"testing"

	"wirehold/inventory/unit"
)

// inch45 is .045 in.
const inch45 = 45 * unit.Inch / 1000

// usual is a label with nothing missing and nothing long.
func usual() Spool {
	return Spool{
		Code: "W7K2M-3", Polarity: "DCEN", PolarityWords: "electrode negative", Gas: "no gas",
		Passes: "single pass only", Thickness: "up to 5 mm", Classification: "E71T-14", Wire: "Cobaltine Wren 14",
		Diameter: inch45, Lot: "7F31-0042",
		Cautions: []string{"Keep dry: back to the cabinet when the feeder stops."},
		URL:      "https://wirehold.example/s/W7K2M-3",
	}
}

// hard lists the contents a label must survive.
func hard() map[string]Spool {
	accents := usual()
	accents.Wire, accents.Lot, accents.URL = "Łužnička Überlänge ÅÉÎŐÑ þß", "ÄÖÜ-ÉÈÊ-ČŠŽ", ""
	accents.Cautions = []string{"Trzymać w suchym; conservé à l’abri; −5 °C ≤ t ≤ 40 °C; ½ ± 0,1"}

	long := usual()
	long.Polarity, long.PolarityWords = "DCEP or DCEN", "either, as the data sheet says"
	long.Gas = "M21-ArC-18: 15-25 % CO2, balance argon, or C1: CO2 100 %"
	long.Passes = "any number of passes in flat and horizontal, single pass elsewhere"
	long.Thickness = "from 3 mm up to 19 mm, flat position only"
	long.Classification = "E71T-1C/-9C/-12M-J H8, T 46 4 P C 1 H5"
	long.Wire = "Cobaltine Extra All Position Low Fume Special Plus Edition Number Seventy-One"
	long.Lot = "WWWWWWWWWWMMMMMMMMMM0123456789"
	long.Opened = "2026-11-25 07:10"
	long.Cautions = []string{strings.Repeat("First caution. ", 8), strings.Repeat("Second caution. ", 8), "Third caution."}

	foreign := usual()
	foreign.Wire, foreign.Lot = "日本 wire", "lot\t7\n✓"

	marked := usual()
	marked.Marked = "1.2 mm (0.047 in) " + strings.Repeat("as marked on the side of the box ", 3)

	longCode := usual()
	longCode.Code = "ABCDEFGHJKLM-3"
	return map[string]Spool{
		"the usual label":                   usual(),
		"nothing known but the code":        {Code: "W7K2M-3"},
		"accents in every field":            accents,
		"every field as long as it gets":    long,
		"characters the font does not have": foreign,
		"a code of 14 characters":           longCode,
		"a size as a box marks it":          marked,
	}
}

func TestTheBoxHasTheLastWordOnItsSize(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, marked, want string
	}{
		{"nothing is marked", "", ".045 in / 1.1 mm"},
		{"the box says the same", ".045 in (1.1 mm)", ".045 in / 1.1 mm"},
		{"to another place", "0.045 in (1.14 mm)", ".045 in / 1.1 mm"},
		{"it marks the next metric size", ".045 in (1.2 mm)", "box: .045 in / 1.2 mm"},
		{"it marks only that", "1.2 mm", "box: 1.2 mm"},
		{"words are no size", "see the flange", ".045 in / 1.1 mm"},
	}
	for _, tt := range tests {
		if got := (Spool{Diameter: inch45, Marked: tt.marked}).diameter(); got != tt.want {
			t.Errorf("%s: diameter() of a box marked %q = %q, want %q", tt.name, tt.marked, got, tt.want)
		}
	}
}

func TestPolarityWords(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, polarity, words, want string
	}{
		{"DCEN is electrode negative", "DCEN", "", "electrode negative (−)"},
		{"DCEP is electrode positive", "DCEP", "", "electrode positive (+)"},
		{"the caller's words get the sign", "DCEN", "wire to minus", "wire to minus (−)"},
		{"a sign is not doubled", "DCEN", "electrode negative (−)", "electrode negative (−)"},
		{"other polarities keep the caller's words", "DCEP or DCEN", "either", "either"},
		{"an unknown polarity has no words", "", "electrode negative", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := Spool{Polarity: tt.polarity, PolarityWords: tt.words}
			if got := l.polarityWords(); got != tt.want {
				t.Errorf("polarityWords(%q, %q) = %q, want %q", tt.polarity, tt.words, got, tt.want)
			}
		})
	}
}

func TestRefusedLabels(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		spoil func(*Spool)
		field string
	}{
		{"no code", func(l *Spool) { l.Code = "" }, "code"},
		{"a code with ñ, which Code 128 would take for a function", func(l *Spool) { l.Code = "W7K2Ññ" }, "code"},
		{"a code with a blank", func(l *Spool) { l.Code = "W7 K2" }, "code"},
		{"a code too long to scan", func(l *Spool) { l.Code = strings.Repeat("ABC", 10) }, "code"},
		{"words against the polarity", func(l *Spool) { l.PolarityWords = "Electrode positive" }, "polarity"},
		{"a polarity without end", func(l *Spool) { l.Polarity = strings.Repeat("DCEN ", 20) }, "polarity"},
		{"polarity words without end", func(l *Spool) { l.PolarityWords = strings.Repeat("negative ", 20) }, "polarity words"},
		{"a gas without end", func(l *Spool) { l.Gas = strings.Repeat("argon ", 40) }, "gas"},
		{"passes in one endless word", func(l *Spool) { l.Passes = strings.Repeat("x", 60) }, "passes"},
		{"a lot of 60 characters", func(l *Spool) { l.Lot = strings.Repeat("A1", 30) }, "lot"},
		{"a class without end", func(l *Spool) { l.Classification = strings.Repeat("E71T-1 ", 30) }, "classification"},
		{"a plate without end", func(l *Spool) { l.Thickness = strings.Repeat("thin ", 60) }, "thickness"},
		{"an address of 400 bytes", func(l *Spool) { l.URL += strings.Repeat("x", 400) }, "url"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := usual()
			tt.spoil(&l)
			for _, err := range []error{renderOne(io.Discard, l, 203), renderAll(io.Discard, []Spool{usual(), l})} {
				fault, ok := errors.AsType[*FieldError](err)
				if !ok || fault.Field != tt.field {
					t.Errorf("render %+v: error %v, want one for field %q", l, err, tt.field)
				}
			}
		})
	}
	if err := renderOne(io.Discard, usual(), 150); err == nil {
		t.Error("renderOne at 150 dpi: no error, want one")
	}
	if err := renderAll(io.Discard, nil); err == nil {
		t.Error("renderAll of no labels: no error, want one")
	}
}
