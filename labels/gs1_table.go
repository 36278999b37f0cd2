package labels

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed tables/gs1_elements.csv
var gs1Elements string

// gs1Row is how the value of some application identifiers is written.
type gs1Row struct {
	prefix string // of the identifier
	digits int    // of the whole identifier
	kind   string // "digits", "text", "date" or "decimal"
	least  int    // characters of the value
	most   int
	fixed  bool   // its length is predefined: no separator follows
	means  string // what it tells of a box; empty if nothing that is used here
}

// gs1Rows reads tables/gs1_elements.csv, whose rows name their sources.
var gs1Rows = sync.OnceValue(func() []gs1Row {
	lines, err := csv.NewReader(strings.NewReader(gs1Elements)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("labels: embedded gs1_elements.csv: %v", err))
	}
	rows := make([]gs1Row, 0, len(lines))
	for _, f := range lines[1:] {
		rows = append(rows, gs1Row{prefix: f[0], digits: gs1Number(f[1]), kind: f[2], least: gs1Number(f[3]), most: gs1Number(f[4]), fixed: f[5] == "yes", means: f[6]})
	}
	return rows
})

func gs1Number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		panic(fmt.Sprintf("labels: embedded gs1_elements.csv: %v", err))
	}
	return n
}

// gs1RowOf returns how the element at the start of text is written: of the rows
// whose prefix it begins with, the longest.
func gs1RowOf(text string) (row gs1Row, ok bool) {
	for _, r := range gs1Rows() {
		if len(r.prefix) > len(row.prefix) && len(text) >= r.digits && strings.HasPrefix(text, r.prefix) {
			row, ok = r, true
		}
	}
	return row, ok
}
