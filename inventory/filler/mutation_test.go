package filler

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// known is a designation of every designator in the tables that are read.
func known() []string {
	b := readBook()
	var out []string
	for _, key := range b.of("A5.20").keys("usability") {
		out = append(out, "E71T-"+key, "E70T-"+key+"J-H8")
	}
	for _, number := range []string{"1", "2", "5", "9", "12"} {
		out = append(out, "E71T-"+number, "E490T-"+number+"-H16")
	}
	out = append(out, "E71T-1C/-1M", "E71T-9CJ/-9MJ-H4", "E61T-13", "E430T-G", "E71T-12MJD-H4", "E71T-1MQ",
		"E309LT1-1/4", "E316LKT0-3", "R308LT1-5", "E308LT1-G", "ER48S-6", "E48C-6M-H4", "ER70S-2N-H4")
	for _, key := range b.of("A5.22").keys("type") {
		out = append(out, "E"+key+"T0-1", "E"+key+"T1-4")
	}
	out = append(out, keysWith(b.of("A5.22").keys("metal_cored"), "EC")...)
	out = append(out, "E316HT1-4", "E309LNiMoT0-1", "EC308LSi")
	for _, form := range []*a518Form{newA518Form(b.of("A5.18"), "solid", "ER", "S"), newA518Form(b.of("A5.18"), "metal_cored", "E", "C")} {
		for class := range form.rows {
			out = append(out, class)
		}
	}
	for _, key := range b.of("A5.29").keys("composition") {
		out = append(out, "E81T1-"+key+"C", "E550T8-"+key+"-JH8")
	}
	for _, key := range keysWith(b.of("A5.36").keys("usability"), "T") {
		switch u := library().grammars["A5.36"].(*a536).usability[key[1:]]; {
		case key[len(key)-1] == 'S' && u.shielding == "self":
			out = append(out, "E71"+key, "E490"+key+"-H4")
		case key[len(key)-1] == 'S':
			out = append(out, "E71"+key+"-C1")
		case u.shielding == "self":
			out = append(out, "E81"+key+"-A2-CS3", "E550"+key+"-P3-Ni1-H8")
		default:
			out = append(out, "E81"+key+"-M21A10-CS1-D-H4", "E550"+key+"-C1PY-Ni1")
		}
	}
	out = append(out, "E70T15S-M21", "AWS A5.36: E71T-1C-H8", "A5.36 E70C-6M", "E71T8-A2")
	for letter, form := range library().grammars["A5.28"].(*a528).forms {
		for class := range form.rows {
			out = append(out, form.lead+class)
			if letter == 'C' {
				out = append(out, form.lead+class+"M-H8")
			}
		}
	}
	for _, alloy := range library().grammars["A5.9"].(*a59).types.list {
		out = append(out, "ER"+alloy)
	}
	for _, alloy := range library().grammars["A5.10"].(*a510).alloys.list {
		out = append(out, "ER"+alloy)
	}
	a := library().grammars["ISO 17632-A"].(*isoA)
	for core := range a.core {
		gas := map[bool]string{true: " NO 1 H5", false: " M21 1 H5"}[valueOf(a.core[core], "shielding") == "self"]
		out = append(out, "T 46 3 "+core+gas)
	}
	out = append(out, "T 50 10 1,5Ni P M21 2 H5", "T 3T Z R C1 3 H10", "T 42 4 P M 1 H5", "T 46 2 P M21/C1 1", "T 46 4 Z Z NO 1",
		"T 55 4 T5-1 M21 A-N2-U H5", "T 49 T2-0 C1 S H10", "T 49 2 T8-1 NO AP-K", "T 55 Y TG-1 M21 P-G")
	for _, alloy := range library().grammars["ISO 17633-A"].(*iso17633).alloys {
		out = append(out, "T "+alloy.symbol+" P M21 1")
	}
	out = append(out, "T 23 12 L P M1/C 1", "T 19 9 L U NO 3", "TS 309LMo-F M21/C1 1", "TS 308L-R I1 0",
		"T 69 6 Mn2NiCrMo B M21 3 H5", "T 89 4 Z M M21 2", "G 46 5 M21 3Si1", "G 35 A C1 2Ti", "G 4Mo")
	for _, covering := range b.of("A5.1").keys("covering") {
		out = append(out, "E70"+covering, "E70"+covering+"-1-H4R")
	}
	for _, composition := range b.of("A5.5").keys("composition") {
		out = append(out, "E12018-"+composition+"-H8")
	}
	out = append(out, "E7018M-H4R", "E7018R", "E8016-C1", "ER316L/316", "ER310LMo", "R5356", "ER55S-Ni1-H4", "E70C-6C/-6M-H8", "ER90S-G", "E69C-G", "E90C-Ni3")
	out = append(out, "E81T1-Ni1C/M-H4", "E101T5-K3M", "E80TG-GM")
	return out
}

// everyKnown is known and each designation that the tests of the reference
// tables and the worked examples read.
func everyKnown(t *testing.T) []string {
	t.Helper()
	out := known()
	for _, name := range referenceTables {
		if name == "gases.csv" || name == "diameters.csv" || name == "not_fixed_by_class.csv" {
			continue
		}
		for _, r := range readTestRows(t, name) {
			if untestable(r) == "" {
				out = append(out, designationOf(r))
			}
		}
	}
	for _, r := range readTestRows(t, "worked_examples.csv") {
		if d, err := Decode(r.designator); err == nil {
			out = append(out, d.String())
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// mutations calls each with every text one character away from word.
func mutations(word string, each func(string)) {
	const characters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-/ "
	for i := 0; i <= len(word); i++ {
		for _, c := range characters {
			each(word[:i] + string(c) + word[i:])
			if i < len(word) {
				each(word[:i] + string(c) + word[i+1:])
			}
		}
		if i < len(word) {
			each(word[:i] + word[i+1:])
		}
	}
}

func TestEveryOneCharacterSlipIsRefusedOrReadSoundly(t *testing.T) {
	t.Parallel()
	accepted, refused := 0, 0
	seen, tried := map[string]bool{}, map[string]bool{}
	words := everyKnown(t)
	for _, word := range words {
		sound(t, mustDecode(t, word))
		mutations(word, func(text string) {
			if tried[text] {
				return
			}
			tried[text] = true
			d, err := Decode(text)
			if err != nil {
				refused++
				bad, ok := errors.AsType[*SyntaxError](err)
				if !ok || bad.At < 0 || bad.At > len(text) || bad.Detail == "" || bad.Text != text {
					t.Fatalf("Decode(%q): got the error %#v, want a whole SyntaxError", text, err)
				}
				return
			}
			accepted++
			nothingLost(t, text, d)
			if !seen[d.Designation] {
				seen[d.Designation] = true
				sound(t, d)
			}
		})
	}
	t.Logf("%d designations: %d slips refused, %d read as %d designations, each of which reads back as itself", len(words), refused, accepted, len(seen))
	if len(words) < 700 || accepted == 0 || refused < accepted {
		t.Errorf("got %d slips of %d designations refused and %d read, want 700 designations, some slips read and most refused", refused, len(words), accepted)
	}
}

// nothingLost fails if reading text dropped or invented a letter or a digit.
// Text that names its specification or two classes may be shortened.
func nothingLost(t testing.TB, text string, d Decoded) {
	t.Helper()
	if strings.ContainsAny(text, "/⁄∕／:") || strings.Contains(text, "5.") || strings.Contains(strings.ToUpper(text), "ISO") || strings.Contains(strings.ToUpper(text), "AWS") || strings.Contains(strings.ToUpper(text), "ASME") {
		return
	}
	if got, want := lettersAndDigits(d.Designation), lettersAndDigits(text); got != want {
		t.Errorf("Decode(%q): got %q, want every letter and digit of it and no other", text, d)
	}
}

func lettersAndDigits(text string) string {
	return strings.Map(func(r rune) rune {
		if '0' <= r && r <= '9' || 'A' <= r && r <= 'Z' {
			return r
		}
		return -1
	}, strings.ToUpper(text))
}

// fuzzed is a text made of symbols, random characters and pieces of known ones.
func fuzzed(random *rand.Rand, words []string) string {
	const odd = "ABCEGHIJKLMNOPRSTWXYZ0123456789-/ .,:%+éÅ\x00\xff\u2011\t"
	text := words[random.IntN(len(words))]
	for range random.IntN(4) {
		at := random.IntN(len(text) + 1)
		switch random.IntN(4) {
		case 0:
			text = text[:at] + odd[random.IntN(len(odd)):][:1] + text[at:]
		case 1:
			other := words[random.IntN(len(words))]
			text = text[:at] + other[random.IntN(len(other)+1):]
		case 2:
			text = text[:at] + strings.ToLower(text[at:])
		case 3:
			text = text[at:] + text[:at]
		}
		if text == "" {
			text = odd[random.IntN(len(odd)):][:1]
		}
	}
	return text
}

func TestTenThousandFuzzedStringsAreRefusedOrReadSoundly(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(3, 4))
	words := append(known(), knownGases()...)
	wires, mixtures := 0, 0
	for range 10_000 {
		text := fuzzed(random, words)
		d, err := Decode(text)
		if bad, is := errors.AsType[*SyntaxError](err); err == nil {
			wires++
			sound(t, d)
			nothingLost(t, text, d)
		} else if !is || bad.At < 0 || bad.At > len(text) || bad.Error() == "" {
			t.Fatalf("Decode(%q): got the error %#v, want a whole SyntaxError", text, err)
		}
		gas, err := DecodeGas(text)
		if bad, is := errors.AsType[*SyntaxError](err); err == nil {
			mixtures++
			soundGas(t, gas)
		} else if !is || bad.At < 0 || bad.At > len(text) || bad.Error() == "" {
			t.Fatalf("DecodeGas(%q): got the error %#v, want a whole SyntaxError", text, err)
		}
	}
	t.Logf("10000 fuzzed strings: %d are wires, %d are gases, %d are refused", wires, mixtures, 10_000-wires-mixtures)
	if wires < 1000 || mixtures < 50 || wires+mixtures > 9000 {
		t.Errorf("got %d wires and %d gases of 10000 fuzzed strings, want some of each and most refused", wires, mixtures)
	}
}

func FuzzDecode(f *testing.F) {
	for _, word := range known() {
		f.Add(word)
	}
	for _, word := range []string{"", "AWS A5.20/A5.20M:2005: E71T–1C H8", "T 46 3 1Ni B M21 1 H5", "E81T1-Ni1C-JH4", "E4043T-GS", "E71T-1\xff"} {
		f.Add(word)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := Decode(text)
		if err == nil {
			sound(t, d)
			nothingLost(t, text, d)
			return
		}
		bad, ok := errors.AsType[*SyntaxError](err)
		if !ok || bad.At < 0 || bad.At > len(text) || bad.Error() == "" {
			t.Errorf("Decode(%q): got the error %#v, want a whole SyntaxError", text, err)
		}
	})
}
