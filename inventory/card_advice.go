package inventory

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Advice is what the trade commonly does where nobody has supplied a fact. It
// is shown beside "not known", never instead of it, and is never evidence.
type Advice struct {
	Row        string // of testdata/trade_practice.csv: "T003"; empty if a classification table gave it
	Says       string // "19-38 mm (0.75-1.5 in)"
	Note       string
	Provenance filler.Provenance
	Source     string // empty for common practice
}

// adviceRow is one row of tables/card_advice.csv: the wires that a row of
// trade_practice.csv is about, and the line of the card it goes to. A column
// that is empty asks nothing.
type adviceRow struct {
	Advice
	line             string
	process          []string
	form, deposit    []string
	class            []string // one of these stands in a designation
	sizeFrom, sizeTo unit.Length
	demands          int // how much it asks of a wire: the more, the nearer it is to this one
}

var adviceRows = sync.OnceValue(func() (out []adviceRow) {
	practice := byID(readTable("trade_practice.csv"), "id")
	for _, r := range readTable("card_advice.csv") {
		p, ok := practice[r["row"]]
		if !ok {
			panic("inventory: card_advice.csv names no row of trade_practice.csv: " + r["row"])
		}
		a := adviceRow{Advice: Advice{r["row"], cmp.Or(r["says"], amount(p)), p["fact"], filler.Provenance(p["provenance"]), p["source"]},
			line: r["line"], process: r.list("process"), form: r.list("form"), deposit: r.list("deposit"), class: r.list("class"),
			sizeFrom: mustLength(r["size_from"]), sizeTo: mustLength(r["size_to"])}
		if a.Note == a.Says || r["says"] != "" {
			a.Note = ""
		}
		for _, column := range []string{"process", "form", "class", "size_from", "deposit"} {
			if r[column] != "" {
				a.demands++
			}
		}
		out = append(out, a)
	}
	return out
})

// amount writes the range of a row of trade_practice.csv in its units, the
// metric first where there are two: "19-38 mm (0.75-1.5 in)".
func amount(p record) string {
	first, second := span(p["min"], p["max"], p["unit"]), span(p["min_alt"], p["max_alt"], p["unit_alt"])
	switch {
	case second == "":
		return cmp.Or(first, p["fact"])
	case p["unit_alt"] == "mm" || p["unit_alt"] == "L/min":
		first, second = second, first
	}
	return first + " (" + second + ")"
}

func span(least, most, unit string) string {
	switch {
	case least == "" && most == "":
		return ""
	case most == "":
		return least + " " + unit + " and more"
	case least == "":
		return "up to " + most + " " + unit
	case least == most:
		return least + " " + unit
	}
	return least + "-" + most + " " + unit
}

// mustLength reads a size of our own table; zero for none.
func mustLength(text string) unit.Length {
	if text == "" {
		return 0
	}
	l, err := unit.ParseLength(text)
	if err != nil {
		panic("inventory: card_advice.csv: " + err.Error())
	}
	return l
}

// advice returns what is common practice for a line of the card: what the
// classification's own table calls usual, then the rows of trade_practice.csv
// that come nearest to this wire.
func (t traits) advice(row cardRow) []Advice {
	out := t.usual(row.facts[0])
	most := 0
	var near []Advice
	for _, a := range adviceRows() {
		if a.line != row.key || a.demands < most || !t.suits(a) {
			continue
		}
		if a.demands > most {
			most, near = a.demands, nil
		}
		near = append(near, a.Advice)
	}
	return append(out, near...)
}

// usual returns what the classification's table calls usual or typical.
func (t traits) usual(name string) (out []Advice) {
	names := []string{name, "usual_" + name, "typical_" + name}
	for _, p := range [...]fit.Process{fit.GMAW, fit.GTAW} {
		if t.only() == p || len(t.processes) > 1 {
			names = append(names, name+"_"+string(p), "usual_"+name+"_"+string(p))
		}
	}
	for _, f := range t.facts {
		advises := f.Provenance == filler.Practice || strings.HasPrefix(f.Name, "typical_") || strings.HasPrefix(f.Name, "usual_")
		if says := shown(f); advises && slices.Contains(names, f.Name) && says != "" {
			note := f.Condition
			if p, ok := strings.CutPrefix(f.Name, name+"_"); ok {
				note = strings.TrimPrefix(note+"; for "+p, "; ")
			}
			out = append(out, Advice{Says: says, Note: note, Provenance: f.Provenance, Source: f.Source})
		}
	}
	return out
}

// suits reports whether the advice is for this wire: everything it asks for is
// known and so.
func (t traits) suits(a adviceRow) bool {
	d := t.wire.Diameter
	switch {
	case len(a.process) > 0 && !slices.Contains(a.process, string(t.only())):
		return false
	case len(a.form) > 0 && !t.is("form", a.form), len(a.deposit) > 0 && !t.is("deposit", a.deposit):
		return false
	case len(a.class) > 0 && !t.classed(a.class):
		return false
	case a.sizeFrom > 0 && !slices.ContainsFunc(fit.SoldAs(d), func(l unit.Length) bool { return l >= a.sizeFrom && l <= a.sizeTo }):
		return false
	}
	return true
}

// is reports whether the fact called name is known to be one of values.
func (t traits) is(name string, values []string) bool {
	said := t.said(name)
	return len(said) > 0 && !slices.ContainsFunc(said, func(f filler.Fact) bool { return !slices.Contains(values, f.Value) })
}

// classed reports whether one of the marks stands in a designation, where its
// last character is not followed by another digit: "T-1" is not in "E71T-11".
func (t traits) classed(marks []string) bool {
	for _, c := range t.wire.Classifications {
		for _, mark := range marks {
			i := strings.Index(c, mark)
			if i < 0 {
				continue
			}
			if rest := c[i+len(mark):]; rest == "" || rest[0] < '0' || rest[0] > '9' || strings.HasSuffix(mark, "-") {
				return true
			}
		}
	}
	return false
}
