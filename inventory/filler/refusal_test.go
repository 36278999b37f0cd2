package filler

import (
	"errors"
	"strings"
	"testing"
)

func TestRefusalsNameTheCharacterAtFault(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, text string
		at         int
		char, says string
	}{
		{"nothing", "", 0, "", "write the designation"},
		{"spaces only", "  ", 0, "", "write the designation"},
		{"a name and no designation", "AWS A5.20: ", 10, "", "write the designation"},
		{"a letter of no alphabet here", "E71T-1é", 6, "é", "letters, digits"},
		{"bytes that are no text", "E71T-1\xff", 6, "\xff", "letters, digits"},
		{"no strength 9 in A5.20", "E91T-1C", 1, "9", "strength 6, 7, 43 or 49"},
		{"no position 2 in A5.20", "E72T-1C", 2, "2", "position 0 or 1"},
		{"no usability number 15", "E71T-15", 6, "5", "no usability number 15"},
		{"digits set apart", "E71T-1 1", 7, "1", "no usability number 11"},
		{"no gas letter X", "E71T-1X", 6, "X", "J, D or Q"},
		{"a gas letter on a self-shielded class", "E71T-4C", 6, "C", "takes no gas letter"},
		{"a gas letter on G", "E71T-GM", 6, "M", "takes no gas letter"},
		{"no hyphen before the usability number", "E71T1C", 5, "C", "AWS A5.20 has the hyphen before the number (E71T-1)"},
		{"a space for that hyphen", "E71T 1C", 6, "C", "has the hyphen before the number"},
		{"two hyphens", "E71T--1C", 5, "-", "usability number"},
		{"no hydrogen designator H5", "E71T-1C-H5", 9, "5", "H16, H8 or H4"},
		{"a hyphen at the end", "E71T-1C-", 8, "", "H16, H8 or H4"},
		{"J twice", "E71T-1CJJ", 8, "J", "J comes first and once"},
		{"J after D", "E71T-1CDJ", 8, "J", "J comes first and once"},
		{"a pair that is not classed together", "E71T-1C/-5M", 9, "5", "-5M is classed alone"},
		{"a self-shielded class in a pair", "E71T-11/-1M", 7, "/", "-11 is classed alone"},
		{"a class twice", "E71T-1C/-1C", 9, "1", "named already"},
		{"the 1995 name of the same class", "E71T-1/-1C", 8, "1", "named already"},
		{"the same gas letter alone as the second class", "E71T-1C/C", 8, "C", "named already"},
		{"a gas letter alone behind a class without one", "E71T-1/M", 7, "M", "usability number"},
		{"two hydrogen designators", "E71T-1C-H8/-1M-H4", 15, "H", "the other class has H8"},
		{"hydrogen behind the first class only", "E71T-1C-H8/-1M", 14, "", "the other class has H8"},
		{"one gas twice on a metal cored wire", "E70C-6M/6M", 8, "6", "the other gas of 6"},
		{"two numbers on a metal cored wire", "E70C-6M/3C", 8, "3", "the other gas of 6"},
		{"J behind a pair", "E71T-9C/-9M-J", 11, "-", "behind each class"},
		{"the wrong specification", "A5.18 E71T-1C", 6, "E", "says AWS A5.18, but E71T-1C is"},
		{"a specification not read", "AWS A5.17: F7A2-EM12K", 4, "A", "AWS A5.17 is not read"},
		{"an aluminium alloy with a T", "E4043T-GS", 5, "T", "none exists in AWS A5.x"},
		{"a withdrawn suffix", "E308LT1-2", 8, "2", "withdrawn in 1995"},
		{"no position 2 in A5.22", "E308LT2-1", 6, "2", "position 0 or 1"},
		{"the form without a position", "E308LT-1", 6, "-", "position 0 or 1"},
		{"no type 312H", "E312HT1-1", 4, "H", "312H is not in the tables"},
		{"no suffix 7", "E308LT1-7", 8, "7", "suffix 1, 3, 4, 5 or G"},
		{"a pair of suffixes not classed together", "E309LT1-1/3", 10, "3", "only 1/4 are"},
		{"an electrode with a rod's suffix", "E308LT1-5", 8, "5", "is a rod"},
		{"a rod with an electrode's suffix", "R308LT1-1", 8, "1", "takes no suffix 1"},
		{"a rod of position 0", "R308LT0-5", 8, "5", "T1 only"},
		{"no metal cored type 999", "EC999", 2, "9", "no such metal cored type"},
		{"a metal cored type with more", "EC308L-1", 6, "-", "composition only"},
		{"hydrogen on stainless", "E308LT1-1-H4", 9, "-", "stands after the suffix"},
		{"no solid class 9", "ER70S-9", 6, "9", "2, 3, 4, 6, 7 or G"},
		{"a solid wire without R", "E70S-6", 3, "S", "with the R"},
		{"a metal cored wire with R", "ER70C-6M", 4, "C", "without R"},
		{"a metal cored wire without its gas letter", "E70C-6", 6, "", "3C, 3M, 6C, 6M"},
		{"N on a metal cored wire", "E70C-6MN", 7, "N", "nothing of AWS A5.18"},
		{"no composition Ni9", "E81T1-Ni9C", 8, "9", "a composition here: A1, B1"},
		{"no usability number 3 in A5.29", "A5.29 E81T3-Ni1", 10, "3", "1, 4, 5, 6, 7, 8, 11 or G"},
		{"digits that make no usability number of A5.29", "A5.29 E81T15-Ni1", 11, "5", "no usability number 15"},
		{"no strength 13 in A5.29", "A5.29 E131T1-Ni1C", 7, "1", "strength 6, 7, 8"},
		{"no position 2 in A5.29", "E82T1-Ni1C", 2, "2", "position 0 or 1"},
		{"a gas letter on a self-shielded low-alloy class", "E71T8-Ni1M", 9, "M", "takes no gas letter"},
		{"J in front of the gas letter", "E81T1-Ni1JC", 10, "C", "J and a hydrogen designator only"},
		{"a hydrogen designator of ISO", "E81T1-Ni1C-JH5", 13, "5", "H16, H8 or H4"},
		{"one gas letter twice", "E81T1-Ni1C/C", 11, "C", "the other gas letter"},
		{"two compositions", "E81T1-Ni1C/-Ni2M", 15, "M", "one composition, Ni1"},
		{"a gas shielded open form without its gas", "E71T1-A0-CS1", 6, "A", "T1 needs gas: its symbol is missing"},
		{"a self-shielded open form with a gas", "E71T8-M21A2-CS3", 6, "M", "T8 is self-shielded"},
		{"no gas M28", "E71T1-M28A2-CS1", 8, "8", "its symbol is missing"},
		{"no condition B", "E71T1-M21B2-CS1", 9, "B", "A, P or G"},
		{"no impact 3 in degF", "E71T1-M21A3-CS1", 10, "3", "0, 2, 4, 5, 6, 8, 10, 15, G, Y or Z"},
		{"no impact 8 in degC", "E491T1-M21A8-CS1", 11, "8", "0, 2, 3, 4, 5, 6, 7, 10, G, Y or Z"},
		{"no composition CS4", "E71T8-A2-CS4", 9, "C", "CS1, CS2, CS3, A1"},
		{"a hyphen at the end of the open form", "E71T8-A2-", 9, "", "composition or a hydrogen"},
		{"an impact on a single-pass class", "E71T14S-A2", 8, "A", "a hydrogen designator is"},
		{"T14 without S", "A5.36 E71T14-AZ-CS3", 11, "4", "no usability number 14; it has 1, 4, 5, 6, 7, 8, 11, 15, 16, 17"},
		{"a hyphen at the end of a single-pass class", "E71T14S-", 8, "", "a hydrogen designator is"},
		{"a single-pass class without its gas", "E71T1S-H4", 7, "H", "T1S needs gas"},
		{"an old class that is not carried", "A5.36: E70T-2C", 7, "E", "its open form: T1S"},
		{"an old class that is not listed", "A5.36: E71T-11", 7, "E", "no fixed class of AWS A5.36"},
		{"no low-alloy composition Ni9", "ER80S-Ni9", 8, "9", "after ER80S- comes"},
		{"a number at the wrong strength", "ER80S-1", 6, "1", "AWS A5.28 has no ER80S-1"},
		{"a low-alloy solid wire without R", "E80S-D2", 3, "S", "a solid wire is ER80S"},
		{"a low-alloy metal cored wire with R", "ER80C-Ni1", 4, "C", "without R"},
		{"a gas letter on a low-alloy solid wire", "ER80S-D2M", 8, "M", "nothing of AWS A5.28"},
		{"carbon steel on a low-alloy label", "A5.28 ER70S-G", 6, "E", "is a designation of AWS A5.18"},
		{"no stainless type 319", "ER319L", 4, "9", "AWS A5.9; they have"},
		{"L twice", "ER308LL", 6, "L", "L does not stand behind 308L"},
		{"a letter that means nothing on stainless", "ER308X", 5, "X", "nothing of AWS A5.9"},
		{"a number on a stainless type", "ER3081", 5, "1", "AWS A5.9; they have"},
		{"a stainless type twice", "ER308L/308L", 7, "3", "named already"},
		{"no aluminium alloy 5357", "ER5357", 5, "7", "A5.10; they have"},
		{"more behind an aluminium alloy", "ER5356-1", 6, "-", "nothing of AWS A5.10"},
		{"an aluminium alloy as an electrode", "E5356", 1, "5", ""},
		{"a covered electrode that is not low-hydrogen", "E6013", 3, "1", "only low-hydrogen electrodes are read"},
		{"a covered electrode of five digits that is not low-hydrogen", "E11010-G", 4, "1", "only low-hydrogen electrodes are read"},
		{"more behind a covered electrode", "E7018-1-H4RR", 11, "R", "nothing of AWS A5.1"},
		{"a covered electrode of low alloy without its composition", "E8018-H4R", 6, "H", "the composition stand here in AWS A5.5"},
		{"a military composition at 80 ksi", "E8018-M", 6, "M", "strength 90, 100, 110 or 120 only"},
		{"no suffix 2", "A5.1 E7018-2", 11, "2", "a hydrogen designator is"},
		{"no strength 44 in ISO 17632-A", "T 44 3 P M21 1", 3, "4", "38, 42, 46, 50, 3T"},
		{"a strength with a space in it", "T 4 6 3 P M21 1", 4, "6", "strength 35, 38"},
		{"no impact 1", "T 46 1 P M21 1", 5, "1", "impact symbol of ISO 17632-A"},
		{"an impact on a single-run wire", "T 3T 2 R C1 3", 5, "2", "no impact symbol but Z"},
		{"no core Q", "T 46 3 Q M21 1", 7, "Q", "the core stands here (R, P, B, M, V, W, Y or Z)"},
		{"no gas M28", "T 46 3 P M28 1", 10, "2", "a space stands between"},
		{"a self-shielded core with gas", "T 42 2 Y M21 1", 9, "M", "core Y is self-shielded: NO stands here"},
		{"a gas shielded core without gas", "T 42 2 P NO 1", 9, "N", "core P needs gas"},
		{"no position 6", "T 46 3 P M21 6", 13, "6", "a position (1, 2, 3, 4 or 5)"},
		{"a hydrogen designator of AWS", "T 46 3 P M21 1 H8", 15, "H", "H5, H10 or H15"},
		{"hydrogen x of the table", "T 46 3 P M21 1 HX", 15, "H", "H5, H10 or H15"},
		{"no strength 50 in ISO 17632-B", "T 50 4 T5-1 M21 A", 7, "T", "the core stands here"},
		{"no usability T9", "T 55 4 T9-1 M21 A", 8, "9", "T8, T10, T11"},
		{"no position 2 in ISO 17632-B", "T 55 4 T5-2 M21 A", 10, "2", "the position stands here: 0 or 1"},
		{"single pass without S", "T 49 T2-0 C1", 12, "", "T2 is single pass: S stands after the gas"},
		{"neither impact nor S", "T 49 T5-0 C1 A", 13, "A", "the impact symbol is missing"},
		{"an impact on a single-pass wire", "T 49 3 T5-0 C1 S", 15, "S", "no impact symbol"},
		{"no condition", "T 55 4 T5-1 M21-N2", 15, "-", "the condition of the test stands here: A, P or AP"},
		{"U twice", "T 55 4 T5-1 M21 A-U-U", 20, "U", "a composition"},
		{"a self-shielded usability with gas", "T 55 4 T8-1 M21 A", 12, "M", "T8 is self-shielded"},
		{"the other system of the standard", "ISO 17632-B T 46 3 P M21 1", 12, "T", "the label says ISO 17632-B, but T 46 3 P M21 1 is a designation of ISO 17632-A"},
		{"a standard about gases", "ISO 14175 M21", 4, "1", "about gases"},
		{"a standard nobody reads here", "ISO 2560-A E 42", 4, "2", "ISO 2560-A is not read"},
		{"no ISO alloy symbol 23 13 L", "ISO 17633-A T 23 13 L R M21 3", 14, "2", "no such alloy symbol"},
		{"an ISO alloy symbol with a space in it", "ISO 17633 T 2 3 12 L R M21 3", 12, "2", "no such alloy symbol"},
		{"an ISO stainless core with no gas", "T 19 9 L U M21 1", 11, "M", "core U is self-shielded"},
		{"ISO stainless without position", "T 19 9 L P M21", 14, "", "the position stands after the gas"},
		{"hydrogen on ISO stainless", "T 19 9 L P M21 1 H5", 17, "H", "nothing of ISO 17633-A"},
		{"ISO stainless of system B without its hyphen", "TS 308L F M21 1", 8, "F", "a hyphen and F, M or R"},
		{"no strength 80 in ISO 18276-A", "ISO 18276-A T 80 4 Mn2NiMo B M21 1", 15, "0", "55, 62, 69, 79 or 89"},
		{"no composition Mn9Ni of ISO 18276-A", "ISO 18276-A T 69 4 Mn9Ni B M21 1", 21, "9", "no such composition: MnMo"},
		{"no composition 9Si of ISO 14341-A", "G 46 5 M21 9Si", 11, "9", "the wire composition stands here"},
		{"no strength 44 in ISO 14341-A", "G 44 5 M21 3Si1", 3, "4", "35, 38, 42"},
		{"more behind a wire composition", "G 46 5 M21 3Si1 H5", 16, "H", "nothing of ISO 14341-A"},
		{"NO as the gas of a solid wire", "G 46 5 NO 3Si1", 8, "O", "a gas symbol of ISO 14175"},
		{"a gas", "M21-ArC-18", 0, "M", "ISO 14175"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			d, err := Decode(tt.text)
			bad, ok := errors.AsType[*SyntaxError](err)
			if !ok {
				t.Fatalf("Decode(%q): got %v, %v, want a SyntaxError", tt.text, d, err)
			}
			if bad.At != tt.at || bad.Char != tt.char || bad.Text != tt.text {
				t.Errorf("Decode(%q): got the fault %q at %d of %q, want %q at %d (%v)", tt.text, bad.Char, bad.At, bad.Text, tt.char, tt.at, err)
			}
			if !strings.Contains(err.Error(), tt.says) {
				t.Errorf("Decode(%q): got %q, want it to say %q", tt.text, err, tt.says)
			}
		})
	}
}
