package labels

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Kind is the sort of label.
type Kind string

// The kinds of label.
const (
	KindSpool  Kind = "spool"  // stays with the wire: how to set the machine
	KindHub    Kind = "hub"    // the small copy on the spool's hub
	KindLot    Kind = "lot"    // a lot, on its pallet
	KindPlace  Kind = "place"  // a shelf or cabinet
	KindFeeder Kind = "feeder" // a machine that welds
	KindJob    Kind = "job"    // travels with the work
	KindBadge  Kind = "badge"  // a person's
	KindHold   Kind = "hold"   // on a spool or lot that must not be used
	KindSlip   Kind = "slip"   // goes out with the spool, on paper
)

// Kinds lists the kinds in the order in which they are offered.
func Kinds() []Kind {
	return []Kind{KindSpool, KindHub, KindLot, KindPlace, KindFeeder, KindJob, KindBadge, KindHold, KindSlip}
}

// Words says what the kind is for.
func (k Kind) Words() string {
	switch k {
	case KindSpool:
		return "spool: how to set the machine"
	case KindHub:
		return "copy for the hub"
	case KindLot:
		return "lot, on its pallet"
	case KindHold:
		return "hold tag: do not use"
	case KindSlip:
		return "issue slip"
	case KindJob:
		return "job traveller"
	}
	return string(k)
}

// Said is what the label says in words, for who cannot see it.
func (l Label) Said() string {
	said := []string{clean(l.Banner), clean(l.Title)}
	for _, f := range l.Facts {
		said = append(said, clean(f.Caption+" "+f.Words+" "+f.Beside))
	}
	said = append(said, clean(l.Code))
	return strings.Join(slices.DeleteFunc(said, func(s string) bool { return s == "" }), ". ")
}

// Label is what one label says, largest first. Describe one with the types of
// the kinds, such as [Spool]; how it is drawn depends on the stock alone.
type Label struct {
	Kind   Kind
	Banner string   // in white on a hatched band at the top: a hold tag's; empty is none
	Title  string   // what sort of label it is, small; empty where the facts say so themselves
	Code   string   // what the symbols hold, printed to be typed as well
	Facts  []Fact   // in the order in which they are printed
	Blanks []Blank  // to be filled in by hand
	Notes  []string // cautions, the most important first; the last are left off first
	Aid    string   // who decides; empty where nobody can be hurt

	Link    string   // what the QR symbol holds; empty holds Offline
	Offline []string // the facts as plain text, most important first
	Needed  int      // how many of Offline must go in for a QR symbol to be drawn

	bars bool // its Code 128 stays on the smallest stock, where others have Data Matrix
	free bool // Code is not ours: where bars cannot hold it, the other symbol does
}

// Printed returns the label as its n-th print: from the second on it says so.
func (l Label) Printed(n int) Label {
	if n > 1 {
		l.Facts = append(slices.Clone(l.Facts), Fact{Field: "print", Caption: "PRINT", Words: strconv.Itoa(n), Rank: Low, Lines: 1, Goes: 1, Small: true})
	}
	return l
}

// Rank is how large a fact stands.
type Rank int

// The ranks, largest first.
const (
	Huge Rank = iota
	Big
	Middle
	Low
)

// Fact is one thing that a label says.
type Fact struct {
	Field   string // "gas": names it in errors
	Name    string // what it is called when it is left off: "trade name"; empty is Field
	Caption string // "GAS"; empty prints none
	Words   string
	Beside  string // more words, smaller, at its right; of the largest rank only
	Short   string // what stock for a few lines prints in place of Words and Beside; empty prints both
	Rank    Rank
	Lines   int  // most lines it may wrap to; 0 is two
	Goes    int  // when it is left off for want of room, 1 first; 0 is never
	Small   bool // it is left off on stock smaller than 100 x 75 mm only
	Wide    bool // of the middle rank: a sentence, in a row of its own below the others
}

// Blank is a row of frames to write in.
type Blank struct {
	Field, Caption string
	Parts          []string // what is written in each frame: "date", "time"
	Goes           int      // as of [Fact]
	Small          bool     // as of [Fact]
}

// FieldError says which field of a label cannot be printed, and why. Its
// message may be shown.
type FieldError struct {
	Field  string // as in the label's struct, lower case: "gas", "code"
	Reason string
}

func (e *FieldError) Error() string { return fmt.Sprintf("label: %s: %s", e.Field, e.Reason) }

// decides says on every label that can hurt somebody who reads it alone who
// decides.
const decides = "An aid. The box, the data sheet and SDS, local codes, the contract and qualified people decide."

// betweenFacts stands between the facts that a QR symbol holds. They are one
// line: a hand scanner ends a scan with Enter, and an end of line within one
// would send what follows it as the next scan.
const betweenFacts = "; "

// unknown is printed for a fact nobody supplied.
const unknown = "NOT KNOWN: READ THE BOX"

// known returns text cleaned for printing, or the words for an unknown fact.
func known(text string) string {
	if text = clean(text); text == "" {
		return unknown
	}
	return text
}

// check refuses a label whose code cannot be scanned and typed.
func (l *Label) check() error {
	if l.Code == "" {
		return &FieldError{"code", "a label needs a code"}
	}
	if l.free {
		return nil
	}
	for _, r := range l.Code {
		if r <= ' ' || r > '~' {
			return &FieldError{"code", fmt.Sprintf("%q holds %q: only printable ASCII without blanks can be scanned and typed", l.Code, r)}
		}
	}
	return nil
}

// called is what a fact is called when it is left off.
func (f Fact) called() string {
	if f.Name != "" {
		return f.Name
	}
	return f.Field
}

// alone is the fact as it reads without a caption beside it.
func (f Fact) alone() string {
	words := clean(f.Words)
	if f.Short != "" {
		return clean(f.Short)
	}
	words = clean(words + " " + f.Beside)
	if words == unknown || f.Rank >= Middle && f.Field != "classification" && f.Field != "diameter" {
		return clean(f.Caption + " " + words)
	}
	return words
}
