package inventory

import (
	"strings"
	"testing"
)

// The check characters were worked by hand from the procedure of ISO/IEC 7064
// for the hybrid system MOD 37,36 (P = 36; add, reduce, double, reduce modulo
// 37). A12425GABC1234002 is the worked example that the ISO/IEC 7064 based
// Global Release Identifier handbook prints with check character M.
func TestCheckCharacterAgreesWithPublishedExample(t *testing.T) {
	tests := []struct {
		body string
		want byte
	}{
		{"A12425GABC1234002", 'M'},
	}
	for _, tt := range tests {
		if got := checkCharacter(tt.body); got != tt.want {
			t.Errorf("checkCharacter(%q) = %c, want %c", tt.body, got, tt.want)
		}
	}
}

func TestCheckCharacterFindsEverySingleMistake(t *testing.T) {
	const body = "W7K2M"
	want := checkCharacter(body)
	for i := range len(body) {
		for _, r := range alphanumeric {
			wrong := body[:i] + string(r) + body[i+1:]
			if wrong != body && checkCharacter(wrong) == want {
				t.Errorf("checkCharacter(%q) = checkCharacter(%q): the mistake goes unseen", wrong, body)
			}
		}
	}
}

func TestNewCodeGivesEachCodeOnceAndReadable(t *testing.T) {
	seen := map[Code]int{}
	made := 0
	for n := range 50_000 {
		c, ok := NewCode(SpoolCode, n)
		if !ok {
			continue
		}
		made++
		if before, twice := seen[c]; twice {
			t.Fatalf("NewCode(SpoolCode, %d) = %s, which number %d gave", n, c, before)
		}
		seen[c] = n
		if strings.ContainsAny(string(c), "01OILQZSBU") {
			t.Fatalf("NewCode(SpoolCode, %d) = %s has a look-alike character", n, c)
		}
		if got, err := ParseCode(string(c)); err != nil || got != c {
			t.Fatalf("ParseCode(%q) = %q, %v", c, got, err)
		}
	}
	if made < 30_000 {
		t.Errorf("%d of 50,000 numbers gave a code: too few", made)
	}
}

func TestNewCodeGrowsLonger(t *testing.T) {
	for n := power(len(codeAlphabet), minCodeBody); ; n++ {
		c, ok := NewCode(SpoolCode, n)
		if !ok {
			continue
		}
		if len(c) != len("W")+5+len("-3") {
			t.Errorf("NewCode(SpoolCode, %d) = %s, want a body of five characters", n, c)
		}
		break
	}
}

func firstCode(k CodeKind) Code {
	for n := 0; ; n++ {
		if c, ok := NewCode(k, n); ok {
			return c
		}
	}
}

func TestParseCodeForgivesTypingAndNothingElse(t *testing.T) {
	c := string(firstCode(SpoolCode))
	plain := strings.ReplaceAll(c, "-", "")
	swapped := plain[:1] + plain[2:3] + plain[1:2] + plain[3:]
	tests := []struct {
		name, text string
		ok         bool
		says       string
	}{
		{"as printed", c, true, ""},
		{"lower case", strings.ToLower(c), true, ""},
		{"without the hyphen", plain, true, ""},
		{"with blanks around and within", " " + plain[:3] + " " + plain[3:] + "\t", true, ""},
		{"two characters swapped", swapped, false, "check character"},
		{"a wrong check character", plain[:5] + "2", false, "check character"},
		{"too short", "W7-3", false, "6 to 8"},
		{"too long", plain + plain, false, "6 to 8"},
		{"no such kind", "A" + plain[1:], false, "begins with"},
		{"a character no code has", plain[:2] + "$" + plain[3:], false, "no code has"},
		{"nothing", "", false, "6 to 8"},
		{"very long input is not echoed whole", strings.Repeat("x", 5000), false, "…"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ParseCode(tt.text)
			if tt.ok {
				if err != nil || string(got) != c {
					t.Fatalf("ParseCode(%q) = %q, %v, want %q", tt.text, got, err, c)
				}
				return
			}
			if KindOf(err) != Invalid || !strings.Contains(err.Error(), tt.says) {
				t.Fatalf("ParseCode(%q) = %q, %v, want an Invalid error with %q", tt.text, got, err, tt.says)
			}
		})
	}
}

func TestParseCodeOfNamesTheWrongKind(t *testing.T) {
	badge := firstCode(PersonCode)
	_, err := ParseCodeOf(SpoolCode, string(badge))
	if KindOf(err) != Invalid || !strings.Contains(err.Error(), "is a badge, and a spool is due") {
		t.Errorf("ParseCodeOf(SpoolCode, %q): error %v, want one that says a badge was scanned", badge, err)
	}
}

func FuzzParseCode(f *testing.F) {
	f.Add("W7K2M-3")
	f.Add("p0000")
	f.Add("Wé€7K2")
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseCode(text)
		if err != nil {
			return
		}
		if again, err := ParseCode(string(c)); err != nil || again != c {
			t.Errorf("ParseCode(%q) = %q, and ParseCode of that = %q, %v", text, c, again, err)
		}
	})
}
