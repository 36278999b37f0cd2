package filler

import (
	"regexp"
	"slices"
	"strings"
	"sync"
)

// NotFixed is a fact that a welder needs and that the classification leaves
// open (testdata/not_fixed_by_class.csv).
type NotFixed struct {
	Fact       string // in the table's words, "travel direction, push or drag", or the name of a fact that is open
	Says       string // "no", or what the class says instead: "only if H is on the label"
	TakeFrom   string // where to take it from: "maker data sheet or box"
	Provenance Provenance
	Source     string // empty for memory
	Note       string
}

// notFixedRow is a row of the table that reports something.
type notFixedRow struct {
	NotFixed
	of    []string // designators that it is about; nil if it is about every wire
	fact  string   // name of the fact that fixes it after all; empty if none does
	names []string // of what it is about: "polarity", "gas"
}

// takeFrom is where a fact comes from that is open.
const takeFrom = "maker data sheet or box"

// notFixedRows are the rows by short name of the specification, of ISO without
// its system where the table names none. Rows that say "yes" report nothing.
var notFixedRows = sync.OnceValue(func() map[string][]notFixedRow {
	rows := map[string][]notFixedRow{}
	for _, r := range mustReadRows(notFixedTable) {
		f := rowFact(r)
		if f.Value == "yes" {
			continue
		}
		row := newNotFixedRow(r[3], f)
		for one := range strings.SplitSeq(strings.TrimPrefix(r[0], "AWS "), " and ") {
			rows[one] = append(rows[one], row)
		}
	}
	return rows
})

// aboutDesignators is how a row names the designators that it is about:
// "polarity of G and GS", "gas outside 75-80 % Ar for an M wire".
var aboutDesignators = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(.+?) (?:of|outside .+ for an) (.+?)(?: for this wire| wire| metal cored)?$`)
})

func newNotFixedRow(fact string, f Fact) notFixedRow {
	row := notFixedRow{NotFixed: NotFixed{
		Fact: fact, Says: f.Value, TakeFrom: strings.TrimPrefix(f.Condition, "take from: "),
		Provenance: f.Provenance, Source: f.Source, Note: f.Note,
	}}
	about := fact
	if m := aboutDesignators().FindStringSubmatch(fact); m != nil {
		about = m[1]
		row.of = strings.Split(strings.ReplaceAll(m[2], " and ", ", "), ", ")
	}
	row.names = strings.Split(about, " and ")
	if strings.HasPrefix(f.Value, "only ") {
		row.fact = strings.ReplaceAll(fact, " ", "_")
	}
	return row
}

// notFixed is what the classification of d leaves open: the rows of the table
// on its specification, then facts of its own that say nothing.
func (d *Decoded) notFixed() []NotFixed {
	short := shortSpec(d.Spec)
	rows := notFixedRows()[short]
	if system, ok := strings.CutSuffix(short, "-A"); ok && rows == nil {
		rows = notFixedRows()[system]
	} else if system, ok := strings.CutSuffix(short, "-B"); ok && rows == nil {
		rows = notFixedRows()[system]
	}
	out := make([]NotFixed, 0, len(rows)+2)
	var covered []string
	for i := range rows {
		if row := &rows[i]; d.concerns(row) {
			out = append(out, row.NotFixed)
			covered = append(covered, row.names...)
		}
	}
	for i := range d.Facts {
		f := &d.Facts[i]
		if open(f.Value) && !slices.Contains(covered, f.Name) {
			out = append(out, NotFixed{f.Name, f.Value, takeFrom, f.Provenance, f.Source, f.Note})
			covered = append(covered, f.Name)
		}
	}
	return out
}

// concerns tells whether a row is about d, and d does not fix the fact after all.
func (d *Decoded) concerns(row *notFixedRow) bool {
	if row.of != nil && !slices.ContainsFunc(row.of, d.has) {
		return false
	}
	return row.fact == "" || !slices.ContainsFunc(d.Facts, func(f Fact) bool {
		return (f.Name == row.fact || f.Name == row.fact+"_max") && !open(f.Value)
	})
}

// has tells whether a designator is made of whole parts of the designation that
// stand together: "-11" is in E71T-11-H8, but "-1" is not.
func (d *Decoded) has(designator string) bool {
	for i := range d.Parts {
		rest, ok := designator, true
		for _, p := range d.Parts[i:] {
			if rest, ok = strings.CutPrefix(rest, p.Text); !ok || rest == "" {
				break
			}
		}
		if ok && rest == "" {
			return true
		}
	}
	return false
}

// open tells whether a value says that the class does not say.
func open(value string) bool {
	for _, words := range []string{"not specified", "not in the designation", "not fixed", "as agreed", "by agreement"} {
		if strings.HasPrefix(value, words) {
			return true
		}
	}
	return false
}
