package inventory

import (
	"fmt"
	"strings"

	"wirehold/inventory/unit"
)

// importHeader is the row that names the columns: what stands at which place.
type importHeader struct {
	columns []headerColumn
	byName  map[string]int // place of a column, from 0
}

// headerColumn is one column of the table; an empty name is one that is left
// out because the header is at fault.
type headerColumn struct {
	ImportColumn
	typed string
	unit  string // the unit that the header gives; empty if none
	bare  bool   // the header is empty
}

// readHeader finds what each column is, and adds what is wrong to the plan.
func (p *ImportPlan) readHeader(row ImportRow) importHeader {
	h := importHeader{byName: map[string]int{}}
	if row.Fault != "" {
		p.add(ImportFault{Line: row.Line, Detail: row.Fault})
		return h
	}
	if len(row.Cells) > mostImportCells {
		p.add(ImportFault{Line: row.Line, Detail: fmt.Sprintf("more than %d columns: leave out those that say nothing of the wire", mostImportCells)})
		return h
	}
	for i, cell := range row.Cells {
		c, fault := h.column(cell)
		h.columns = append(h.columns, c)
		if fault != "" {
			p.add(ImportFault{Line: row.Line, Column: c.typed, At: i + 1, Typed: c.typed, Detail: fault})
		} else if !c.bare {
			h.byName[c.Name] = i
		}
	}
	h.missing(row.Line, p.add)
	return h
}

// column reads one cell of the header; fault says why it names no column.
func (h importHeader) column(cell ImportCell) (c headerColumn, fault string) {
	c.typed = strings.Join(strings.Fields(cell.Text), " ")
	if cell.Fault != "" {
		return c, cell.Fault
	}
	if c.typed == "" {
		c.bare = true
		return c, ""
	}
	known, given, ok := importColumns().find(c.typed)
	if !ok {
		return c, fmt.Sprintf("no column is called %q: did you mean %q?", clip(c.typed), importColumns().nearest(c.typed))
	}
	if first, twice := h.byName[known.Name]; twice {
		return c, fmt.Sprintf("%q and %q are the same column: leave one out", h.columns[first].typed, c.typed)
	}
	if fault := unitFault(known, given); fault != "" {
		return c, fault
	}
	c.ImportColumn, c.unit = known, given
	return c, ""
}

// unitFault says why a header's unit is none for its column; empty if it is.
func unitFault(c ImportColumn, given string) string {
	if given == "" {
		return ""
	}
	var err error
	switch c.Kind {
	case "length":
		_, err = unit.ParseLength("1 " + given)
	case "weight":
		_, err = unit.ParseGrams("1 " + given)
	case factKind:
		return "" // the cells are tried with it
	default:
		return fmt.Sprintf("%q takes no unit: call it %q", c.Label, strings.ToLower(c.Label))
	}
	if err != nil {
		return fmt.Sprintf("%q is no unit of %q: one such as %q", clip(given), c.Label, c.Example)
	}
	return ""
}

// missing adds each column that must be there and is not.
func (h importHeader) missing(line int, add func(ImportFault)) {
	for _, c := range importColumns().all {
		if _, ok := h.byName[c.Name]; c.Needed && !ok {
			add(ImportFault{Line: line, Detail: fmt.Sprintf("the column %q is missing: %s, such as %q", c.Label, c.Hint, c.Example)})
		}
	}
}
