package inventory

import (
	"fmt"
	"strings"
)

// Limits of one import, set by the shop's own lists being far below them
// (practice): a larger file is a mistake, or is better cut in two.
const (
	MostImportBytes = 5 << 20 // of the file as it is uploaded
	MostImportRows  = 5000    // below the header
	mostImportCells = 200     // in a row
	mostImportText  = 200     // characters in a cell
	mostFaultsKept  = 1000    // faults that a plan lists; the rest is counted
)

// ImportRow is one row of a table that somebody else wrote, whatever the file
// was. Fault is set where the row could not be taken apart.
type ImportRow struct {
	Line  int // in the file, from 1
	Cells []ImportCell
	Fault string
}

// ImportCell is one cell as it stands in the file. Fault is set where the file
// itself says that the cell has no value: a formula that failed, a size that
// the spreadsheet made a date of.
type ImportCell struct {
	Text  string
	Fault string
}

// blank reports whether nothing stands in the row.
func (r ImportRow) blank() bool {
	for _, c := range r.Cells {
		if strings.TrimSpace(c.Text) != "" || c.Fault != "" {
			return false
		}
	}
	return r.Fault == ""
}

// ImportPlan is what a table would enter: wires, or else what is wrong with it.
// Lines is empty as soon as there is one fault.
type ImportPlan struct {
	Rows     int // below the header, blank ones left out
	Lines    []ImportLine
	Faults   []ImportFault // by line and column; at most 1000
	Unlisted int           // faults beyond those
}

// ImportLine is a wire that is ready to be entered.
type ImportLine struct {
	Line  int
	Wire  Wire
	Typed string // the classifications as typed, "; " between them, if that is not how they are kept; empty otherwise

	header importHeader // for a fault that is found later
}

// fault returns a fault of the line in the column called name.
func (l ImportLine) fault(name, typed, format string, args ...any) ImportFault {
	f := ImportFault{Line: l.Line, Typed: typed, Detail: fmt.Sprintf(format, args...)}
	if i, ok := l.header.byName[name]; ok {
		f.Column, f.At = l.header.columns[i].typed, i+1
	}
	return f
}

// ImportFault is what is wrong at one place of the table.
type ImportFault struct {
	Line   int
	Column string // its header as typed; empty for the whole line
	At     int    // the column, from 1; 0 for the whole line
	Typed  string
	Detail string // what is wrong and what would do
}

// Letter returns the column as a spreadsheet names it: "D"; empty for the
// whole line.
func (f ImportFault) Letter() string {
	s := ""
	for n := f.At; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// String writes the fault in one line: `line 4, column "net" (G): …`.
func (f ImportFault) String() string {
	if f.At == 0 {
		return fmt.Sprintf("line %d: %s", f.Line, f.Detail)
	}
	return fmt.Sprintf("line %d, column %q (%s): %s", f.Line, f.Column, f.Letter(), f.Detail)
}

// FaultCount returns how many faults there are, listed or not.
func (p ImportPlan) FaultCount() int { return len(p.Faults) + p.Unlisted }

// PlanImport reads a table of wires whose first row that is not blank names
// the columns. It returns the wires or the faults, never both; whether a wire
// is in the store already it cannot know. PlanImport is pure.
func PlanImport(rows []ImportRow) ImportPlan { return planImport(rows, Vocabulary{}) }

// planImport is [PlanImport] with the shop's nicknames.
func planImport(rows []ImportRow, vocabulary Vocabulary) ImportPlan {
	var p ImportPlan
	head := 0
	for head < len(rows) && rows[head].blank() {
		head++
	}
	if head == len(rows) {
		p.add(ImportFault{Line: 1, Detail: "there is nothing in it: the first row names the columns, each row below is a wire"})
		return p
	}
	columns := p.readHeader(rows[head])
	seen := wiresSeen{}
	for _, row := range rows[head+1:] {
		if row.blank() {
			continue
		}
		if p.Rows++; p.Rows > MostImportRows {
			p.add(ImportFault{Line: row.Line, Detail: fmt.Sprintf("more than %d rows: cut the file in two", MostImportRows)})
			break
		}
		p.readRow(rowReader{row: row, header: columns, vocabulary: vocabulary}, seen)
	}
	if p.Rows == 0 {
		p.add(ImportFault{Line: rows[head].Line, Detail: "there is no wire below the row that names the columns"})
	}
	return p.settled()
}

// readRow adds the row's wire to the plan, or its faults.
func (p *ImportPlan) readRow(r rowReader, seen wiresSeen) {
	if r.row.Fault != "" {
		p.add(ImportFault{Line: r.row.Line, Detail: r.row.Fault})
		return
	}
	line := r.read()
	if len(r.faults) == 0 {
		if first, twice := seen.add(line.Wire, line.Line); twice {
			r.fault("trade_name", "the same wire stands on line %d: same maker, trade name, size, classification and package; leave one out", first)
		}
	}
	for _, f := range r.faults {
		p.add(f)
	}
	if len(r.faults) == 0 && p.FaultCount() == 0 {
		line.header = r.header
		p.Lines = append(p.Lines, line)
	}
}

func (p *ImportPlan) add(f ImportFault) {
	f.Typed = clip(f.Typed)
	if len(p.Faults) == mostFaultsKept {
		p.Unlisted++
		return
	}
	p.Faults = append(p.Faults, f)
}

// settled returns the plan without wires if anything is wrong.
func (p ImportPlan) settled() ImportPlan {
	if p.FaultCount() > 0 {
		p.Lines = nil
	}
	return p
}

// wiresSeen has the line, or the id, of every wire met so far.
type wiresSeen map[wireIdentity][]wireSeen

// wireIdentity is what a wire has in common with itself in another package:
// maker and trade name in any case and spacing, size, and one classification.
type wireIdentity struct {
	maker, tradeName, class string
	diameter                int64
}

// wireSeen is one package of a wire, under its line or id.
type wireSeen struct {
	pack string
	n    int
}

func identities(w Wire) []wireIdentity {
	out := make([]wireIdentity, len(w.Classifications))
	for i, class := range w.Classifications {
		out[i] = wireIdentity{folded(w.Maker), folded(w.TradeName), class, int64(w.Diameter)}
	}
	return out
}

// folded is a name without case and with single spaces.
func folded(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// find returns under which number the wire was met before. A package that
// nobody states may be any.
func (s wiresSeen) find(w Wire) (n int, found bool) {
	pack := folded(w.Package)
	for _, id := range identities(w) {
		for _, seen := range s[id] {
			if pack == seen.pack || pack == "" || seen.pack == "" {
				return seen.n, true
			}
		}
	}
	return 0, false
}

// other returns another wire, by its id, that is the same as w to the package.
func (s wiresSeen) other(w Wire) (id int, found bool) {
	for _, identity := range identities(w) {
		for _, seen := range s[identity] {
			if seen.n != int(w.ID) && seen.pack == folded(w.Package) {
				return seen.n, true
			}
		}
	}
	return 0, false
}

// add keeps the wire under n, or returns the number it was met under before.
func (s wiresSeen) add(w Wire, n int) (first int, twice bool) {
	if first, twice := s.find(w); twice {
		return first, true
	}
	s.keep(w, n)
	return 0, false
}

func (s wiresSeen) keep(w Wire, n int) {
	for _, id := range identities(w) {
		s[id] = append(s[id], wireSeen{folded(w.Package), n})
	}
}
