package inventory

import (
	"bytes"
	"embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
)

// The tables of the set-up card, one row a thing, so that a new one needs no
// code. safety_notes.csv and trade_practice.csv are copies of testdata/, byte
// for byte.
//
//go:embed tables/card.csv tables/card_advice.csv tables/cautions.csv tables/safety_notes.csv tables/trade_practice.csv tables/terms.csv
var cardFiles embed.FS

// record is one row of a table by the names of its columns.
type record map[string]string

// list returns the alternatives in a column; nil if it is empty.
func (r record) list(column string) []string {
	if r[column] == "" {
		return nil
	}
	return strings.Split(r[column], "|")
}

// readTable returns the rows of an embedded table. One that cannot be read is
// a bug of the program.
func readTable(name string) []record {
	data, err := cardFiles.ReadFile("tables/" + name)
	if err != nil {
		panic(fmt.Sprintf("inventory: %v", err))
	}
	lines, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(lines) < 2 {
		panic(fmt.Sprintf("inventory: table %s: %d lines, %v", name, len(lines), err))
	}
	out := make([]record, 0, len(lines)-1)
	for _, line := range lines[1:] {
		r := make(record, len(line))
		for i, column := range lines[0] {
			r[column] = line[i]
		}
		out = append(out, r)
	}
	return out
}

// byID returns the rows of a table by what their column id holds.
func byID(rows []record, id string) map[string]record {
	out := make(map[string]record, len(rows))
	for _, r := range rows {
		out[r[id]] = r
	}
	return out
}

// cardRow is one line of the card: the facts that give it, the strongest name
// first, and what is said where nobody has supplied them.
type cardRow struct {
	key, label string
	large      bool
	unknown    string   // "say", "hide", or "with gas": say it of a wire that runs with gas
	coveredBy  []string // keys of lines that answer the same question
	facts      []string
	notOf      []string // forms of filler metal to which it does not apply
}

var cardRows = sync.OnceValue(func() (out []cardRow) {
	for _, r := range readTable("card.csv") {
		out = append(out, cardRow{r["key"], r["label"], r["size"] == "large", r["unknown"], r.list("covered_by"), r.list("facts"), r.list("not_of")})
	}
	return out
})
