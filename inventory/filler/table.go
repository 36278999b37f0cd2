package filler

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io/fs"
	"strings"
)

// The reference tables, copied from testdata/ byte for byte (a test holds them
// equal), and forms.csv: what the titles of the specifications say, and
// designators that are known to exist though no table gives their meaning.
//
//go:embed tables/*.csv
var tableFiles embed.FS

// Tables that are not about the designations of wires.
const (
	gasTableName  = "tables/gases.csv"
	notFixedTable = "tables/not_fixed_by_class.csv"
	sizeTableName = "tables/diameters.csv"
)

const tableHeader = "spec,edition,kind,designator,attribute,value,unit,condition,provenance,source,note"

// table is one specification's rows.
type table struct {
	spec    string // as the tables name it: "AWS A5.20/A5.20M"
	edition string
	kinds   map[string]*section
}

// section is the rows of one kind, by designator.
type section struct {
	keys []string // in table order
	rows map[string][]Fact
}

// at returns the facts of one designator in table order; nil if it has none.
func (t *table) at(kind, designator string) []Fact {
	if s := t.kinds[kind]; s != nil {
		return s.rows[designator]
	}
	return nil
}

// keys returns the designators of one kind in table order.
func (t *table) keys(kind string) []string {
	if s := t.kinds[kind]; s != nil {
		return s.keys
	}
	return nil
}

// first returns the value of the first row called name; empty if there is none.
func (t *table) first(kind, designator, name string) string {
	return valueOf(t.at(kind, designator), name)
}

func (t *table) add(kind, designator string, f Fact) {
	s := t.kinds[kind]
	if s == nil {
		s = &section{rows: map[string][]Fact{}}
		t.kinds[kind] = s
	}
	if _, known := s.rows[designator]; !known {
		s.keys = append(s.keys, designator)
	}
	s.rows[designator] = append(s.rows[designator], f)
}

// book is all tables by the short name of the specification: "A5.20".
type book map[string]*table

// of returns the table of a specification. A missing one is a bug of ours, for
// the tables are compiled in.
func (b book) of(short string) *table {
	t := b[short]
	if t == nil {
		panic("filler: no table of " + short)
	}
	return t
}

// readBook reads every embedded table of wires.
func readBook() book {
	names, err := fs.Glob(tableFiles, "tables/*.csv")
	if err != nil {
		panic(err)
	}
	b := book{}
	for _, name := range names {
		if name == gasTableName || name == notFixedTable || name == sizeTableName {
			continue
		}
		for _, r := range mustReadRows(name) {
			b.add(r)
		}
	}
	return b
}

// mustReadRows is readRows; a table that cannot be read is a bug of ours.
func mustReadRows(name string) [][]string {
	rows, err := readRows(name)
	if err != nil {
		panic(fmt.Sprintf("filler: embedded %s: %v", name, err))
	}
	return rows
}

// readRows returns the rows of one embedded table without its header.
func readRows(name string) ([][]string, error) {
	f, err := tableFiles.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 || strings.Join(rows[0], ",") != tableHeader {
		return nil, fmt.Errorf("the header is not %s", tableHeader)
	}
	return rows[1:], nil
}

// add takes one row. The kind of a row of another edition than the table's
// first is marked with it: "gas@2004".
func (b book) add(r []string) {
	short := shortSpec(r[0])
	t := b[short]
	if t == nil {
		t = &table{spec: r[0], edition: r[1], kinds: map[string]*section{}}
		b[short] = t
	}
	kind := r[2]
	if r[1] != "" && r[1] != t.edition {
		kind += "@" + r[1]
	}
	t.add(kind, r[3], rowFact(r))
}

// rowFact is what a row says.
func rowFact(r []string) Fact {
	return Fact{
		Name: r[4], Value: r[5], Unit: r[6], Condition: r[7],
		Provenance: Provenance(r[8]), Source: r[9], Note: r[10],
	}
}

// shortSpec cuts "AWS A5.20/A5.20M" to "A5.20".
// "ISO 17632" stays what it is.
func shortSpec(spec string) string {
	short, _, _ := strings.Cut(strings.TrimPrefix(spec, "AWS "), "/")
	return short
}

// valueOf returns the value of the first fact called name; empty if there is none.
func valueOf(rows []Fact, name string) string {
	for _, f := range rows {
		if f.Name == name {
			return f.Value
		}
	}
	return ""
}
