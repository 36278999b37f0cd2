package inventory

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// ImportColumn is one column that a table of wires may have.
type ImportColumn struct {
	Name    string // "trade_name", or a fact's name
	Label   string // what the example file calls it
	Kind    string // "text", "classes", "process", "length", "weight" or "fact"
	Needed  bool
	Words   []string // what shops call it, the label apart
	Example string
	Hint    string
}

// importColumnFile names the columns in the shop's own words. The words are
// practice: a header that none of them is, is asked for again.
//
//go:embed tables/import_columns.csv
var importColumnFile string

// ImportColumns returns the columns in the order of the example file. The
// slice is the caller's.
func ImportColumns() []ImportColumn { return slices.Clone(importColumns().all) }

// ImportExample returns a small table that can be imported: every column, and
// one wire. A fact that the wire's classification fixes is left empty.
func ImportExample() [][]string {
	rows := make([][]string, 2)
	for _, c := range importColumns().all {
		rows[0], rows[1] = append(rows[0], c.Label), append(rows[1], c.Example)
	}
	return rows
}

// columnTable is the columns with what each may be called.
type columnTable struct {
	all    []ImportColumn
	byWord map[string]int // of a header without case, spaces and signs
}

// importColumns is built once; nothing changes it afterwards.
var importColumns = sync.OnceValue(func() *columnTable {
	records, err := csv.NewReader(strings.NewReader(importColumnFile)).ReadAll()
	if err != nil {
		panic("inventory: tables/import_columns.csv: " + err.Error())
	}
	t := &columnTable{byWord: map[string]int{}}
	more := map[string]ImportColumn{} // what the table says of a fact besides
	for _, r := range records[1:] {
		c := ImportColumn{Name: r[0], Label: r[1], Kind: r[2], Needed: r[3] == "yes", Words: strings.Split(r[4], "|"), Example: r[5], Hint: r[6]}
		if c.Kind == factKind {
			more[c.Name] = c
			continue
		}
		t.add(c)
	}
	for _, f := range factColumns() {
		f.Words, f.Example = more[f.Name].Words, more[f.Name].Example
		t.add(f)
	}
	return t
})

// add adds a column. A word that is taken stays with the column before.
func (t *columnTable) add(c ImportColumn) {
	t.all = append(t.all, c)
	for _, word := range append([]string{c.Name, c.Label}, c.Words...) {
		if key := headerKey(word); key != "" {
			if _, taken := t.byWord[key]; !taken {
				t.byWord[key] = len(t.all) - 1
			}
		}
	}
}

// headerKey is a header as it is compared: letters and digits, no case.
func headerKey(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// find returns the column that a header names, and the unit that the header
// gives beside the name: "net (kg)", "Diameter [mm]", "tare, g", "net kg".
func (t *columnTable) find(header string) (c ImportColumn, unit string, ok bool) {
	if i, ok := t.byWord[headerKey(header)]; ok {
		return t.all[i], "", true
	}
	name, unit := splitUnit(header)
	i, ok := t.byWord[headerKey(name)]
	if !ok || unit == "" {
		return ImportColumn{}, "", false
	}
	return t.all[i], unit, true
}

// splitUnit cuts what a header says in brackets, after its last comma or after
// its last space.
func splitUnit(header string) (name, unit string) {
	header = strings.TrimSpace(header)
	at := strings.LastIndexAny(header, "([")
	if at < 0 {
		at = strings.LastIndexAny(header, ", ")
	}
	if at < 0 {
		return header, ""
	}
	return header[:at], strings.Trim(header[at:], " ,()[]")
}

// nearest returns the known name of a column that a header is most like.
func (t *columnTable) nearest(header string) string {
	key := []rune(headerKey(clip(header)))
	best, least := "", -1
	for _, c := range t.all {
		for _, word := range append([]string{c.Name, c.Label}, c.Words...) {
			known := []rune(headerKey(word))
			if d := distance(key, known); len(known) > 0 && (least < 0 || d < least) {
				best, least = c.Label, d
			}
		}
	}
	return best
}

// distance is how many letters must be put in, left out or changed to make b
// of a.
func distance(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		last := row[0]
		row[0] = i + 1
		for j := range b {
			cost := last
			if a[i] != b[j] {
				cost = 1 + min(last, row[j], row[j+1])
			}
			last, row[j+1] = row[j+1], cost
		}
	}
	return row[len(b)]
}
