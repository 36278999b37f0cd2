package inventory

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// rowReader reads one row and keeps what is wrong with each cell.
type rowReader struct {
	row        ImportRow
	header     importHeader
	vocabulary Vocabulary
	faults     []ImportFault
}

// fault keeps what is wrong with the column called name.
func (r *rowReader) fault(name, format string, args ...any) {
	detail := fmt.Sprintf(format, args...)
	i, ok := r.header.byName[name]
	if !ok {
		r.faults = append(r.faults, ImportFault{Line: r.row.Line, Detail: strings.ReplaceAll(name, "_", " ") + ": " + detail})
		return
	}
	r.faults = append(r.faults, ImportFault{Line: r.row.Line, Column: r.header.columns[i].typed, At: i + 1, Typed: r.raw(i), Detail: detail})
}

func (r *rowReader) raw(i int) string {
	if i >= len(r.row.Cells) {
		return ""
	}
	return strings.TrimSpace(r.row.Cells[i].Text)
}

// read returns the row's wire; it is whole if there are no faults.
func (r *rowReader) read() ImportLine {
	r.strays()
	line := ImportLine{Line: r.row.Line}
	w := &line.Wire
	w.Maker, w.TradeName, w.Package = r.text("maker"), r.text("trade_name"), r.text("package")
	w.Classifications = r.classes()
	var typed string
	w.Diameter, typed = quantity(r, "diameter", unit.ParseLength)
	if w.Marked = r.text("marked"); w.Marked == "" {
		w.Marked = typed
	}
	w.Net, _ = quantity(r, "net", unit.ParseGrams)
	w.Tare, _ = quantity(r, "tare", unit.ParseGrams)
	w.Minimum, _ = quantity(r, "minimum", unit.ParseGrams)
	w.Supplied = r.facts()
	if len(r.faults) == 0 {
		r.settle(&line)
	}
	return line
}

// strays finds cells that stand under no header.
func (r *rowReader) strays() {
	for i, cell := range r.row.Cells {
		text := strings.TrimSpace(cell.Text)
		if text == "" && cell.Fault == "" {
			continue
		}
		switch {
		case i >= len(r.header.columns):
			r.faults = append(r.faults, ImportFault{Line: r.row.Line, At: i + 1, Typed: text,
				Detail: fmt.Sprintf("the row has more cells than the header, which names %d: is a text with the separator in it not in quotes?", len(r.header.columns))})
			return
		case r.header.columns[i].bare:
			r.faults = append(r.faults, ImportFault{Line: r.row.Line, At: i + 1, Typed: text, Detail: "the column has no name: name it in the header, or empty it"})
		}
	}
}

// settle makes of the wire read what is kept of every wire, or keeps why it
// cannot be.
func (r *rowReader) settle(line *ImportLine) {
	typed := strings.Join(line.Wire.Classifications, "; ")
	w, err := line.Wire.ready()
	if err == nil {
		err = w.shopNarrows()
	}
	if e, ok := errors.AsType[*Error](err); ok {
		for _, f := range e.Fields {
			r.fault(strings.TrimPrefix(f.Field, "shop_"), "%s", f.Detail)
		}
		return
	}
	if err != nil {
		r.fault("classifications", "%v", err)
		return
	}
	r.checkProcess(w)
	line.Wire = w
	if typed != strings.Join(w.Classifications, "; ") {
		line.Typed = typed
	}
}

// cell returns what stands in the column called name, with single spaces. A
// needed cell that is empty, one that the file calls faulty, and one with
// characters that nobody can see are faults; ok is false for them and for an
// empty cell.
func (r *rowReader) cell(name string) (text string, ok bool) {
	i, there := r.header.byName[name]
	if !there {
		return "", false
	}
	column := r.header.columns[i]
	if i < len(r.row.Cells) && r.row.Cells[i].Fault != "" {
		r.fault(name, "%s", r.row.Cells[i].Fault)
		return "", false
	}
	text = r.raw(i)
	switch {
	case text == "" && column.Needed:
		r.fault(name, "it is empty: give %s", column.Hint)
	case utf8.RuneCountInString(text) > mostImportText:
		r.fault(name, "longer than %d characters: shorten it", mostImportText)
	case strings.IndexFunc(text, unseen) >= 0:
		r.fault(name, "there is a character in it that cannot be seen: type it again")
	default:
		return text, text != ""
	}
	return "", false
}

// unseen reports whether a character is one that nobody typed on purpose; line
// ends within a cell are for the reader of the cell.
func unseen(c rune) bool {
	return c == utf8.RuneError || unicode.IsControl(c) && !unicode.IsSpace(c) || unicode.Is(unicode.Cf, c)
}

// text reads a cell of words.
func (r *rowReader) text(name string) string {
	text, _ := r.cell(name)
	return strings.Join(strings.Fields(text), " ")
}

// classes takes apart a cell of classifications as boxes print them.
func (r *rowReader) classes() (typed []string) {
	text, ok := r.cell("classifications")
	if !ok {
		return nil
	}
	for one := range strings.FieldsFuncSeq(text, func(c rune) bool { return c == ';' || c == ',' || c == '\n' }) {
		if one = strings.TrimSpace(one); one == "" {
			continue
		}
		if _, err := filler.Decode(one); err != nil {
			r.fault("classifications", "%v", err)
		}
		typed = append(typed, one)
	}
	return typed
}

// quantity reads a number with its unit. A number without one takes that of
// the header; typed is the cell with its unit.
func quantity[T any](r *rowReader, name string, parse func(string) (T, error)) (v T, typed string) {
	text, ok := r.cell(name)
	if !ok {
		return v, ""
	}
	text = strings.Join(strings.Fields(inchMarks.Replace(text)), " ")
	column := r.header.columns[r.header.byName[name]]
	if bareNumber(text) {
		if column.unit == "" {
			r.fault(name, "%q has no unit: write it behind the number, such as %q, or into the header, such as %q",
				clip(text), column.Example, strings.ToLower(column.Label)+" ("+unitOf(column.Example)+")")
			return v, ""
		}
		text += " " + column.unit
	}
	v, err := parse(text)
	if err != nil {
		r.fault(name, "%v%s", err, commaHint(text))
	}
	return v, text
}

// inchMarks makes the signs that stand for an inch the one that is read.
var inchMarks = strings.NewReplacer("″", `"`, "”", `"`, "''", `"`)

func bareNumber(text string) bool {
	return text != "" && strings.Trim(text, "0123456789.,/ -+") == "" && strings.ContainsAny(text, "0123456789")
}

func commaHint(text string) string {
	if strings.Contains(text, ",") {
		return "; write a point, not a comma, before the decimals"
	}
	return ""
}

// unitOf returns the unit of an example such as "15 kg".
func unitOf(example string) string {
	if at := strings.LastIndex(example, " "); at >= 0 {
		return example[at+1:]
	}
	return example
}
