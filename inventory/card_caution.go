package inventory

import (
	"cmp"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// Caution is what to look out for with a wire, one topic, with the notes it
// rests on.
type Caution struct {
	Topic string // "Chromium VI"
	Says  string // one sentence
	May   string // why it is not certain that it applies; empty if it does
	Notes []SafetyNote
}

// SafetyNote is a row of testdata/safety_notes.csv that applies to a wire.
type SafetyNote struct {
	ID         string // "S019"
	Fact       string // "permissible exposure limit"
	Value      string // with its units, both where there are two
	Citation   string // "29 CFR 1910.1026(c)"
	Provenance filler.Provenance
	Note       string
	May        string // as in Caution
}

// cautionRow is one row of tables/cautions.csv: the wires a safety note is for.
// A note may have several rows: it applies where one does.
type cautionRow struct {
	note                        SafetyNote
	topic, says, leftOut        string
	may                         bool // it is never certain from the facts alone
	process, deposit, shielding []string
	form, class                 []string
	gas                         string // a constituent of the shielding gas
	element                     string // of the wire or weld metal
	least                       *big.Rat
	above                       bool // least itself is not enough
}

var cautionRows = sync.OnceValue(func() (out []cautionRow) {
	notes := byID(readTable("safety_notes.csv"), "id")
	for _, r := range readTable("cautions.csv") {
		n, ok := notes[r["note"]]
		if !ok {
			panic("inventory: cautions.csv names no safety note: " + r["note"])
		}
		c := cautionRow{note: SafetyNote{n["id"], n["fact"], noteValue(n), n["citation"], filler.Provenance(n["provenance"]), "", ""},
			topic: r["topic"], says: r["says"], leftOut: r["left_out"], may: r["how"] == "may",
			process: r.list("process"), deposit: r.list("deposit"), shielding: r.list("shielding"),
			form: r.list("form"), class: r.list("class"), gas: r["gas"]}
		if r["with_note"] == "yes" {
			c.note.Note = n["note"]
		}
		if m := atLeast.FindStringSubmatch(r["alloy"]); m != nil {
			c.element, c.above = m[1], m[2] == ">"
			c.least, _ = new(big.Rat).SetString(m[3])
		}
		out = append(out, c)
	}
	return out
})

var atLeast = regexp.MustCompile(`^([A-Z][a-z]?)(>=?)([0-9.]+)$`)

// noteValue writes a note's value in its units: "5 mg/m3 ceiling".
func noteValue(n record) string {
	first := strings.TrimSpace(n["value"] + " " + n["unit"])
	second := strings.TrimSpace(n["value_alt"] + " " + n["unit_alt"])
	if second == "" || first == "" {
		return first + second
	}
	return first + "; " + second
}

// certainty is whether a condition holds of a wire.
type certainty int

const (
	no certainty = iota
	maybe
	yes
)

// cautions returns what applies to the wire, in the order of the table. Where
// a fact that decides is not known the caution may apply, and says so.
func (t traits) cautions() (out []Caution) {
	for _, row := range cautionRows() {
		if row.leftOut != "" {
			continue
		}
		sure, why := t.holds(row)
		if sure == no {
			continue
		}
		i := slices.IndexFunc(out, func(c Caution) bool { return c.Topic == row.topic })
		if i < 0 {
			out = append(out, Caution{Topic: row.topic, Says: saysOf(row.topic)})
			i = len(out) - 1
		}
		out[i].add(row.note, sure, why)
	}
	for i := range out {
		out[i].May = out[i].Notes[0].May
		if slices.ContainsFunc(out[i].Notes, func(n SafetyNote) bool { return n.May == "" }) {
			out[i].May = ""
		}
	}
	return out
}

// saysOf returns the sentence of a topic, which its first row has.
func saysOf(topic string) string {
	for _, row := range cautionRows() {
		if row.topic == topic && row.says != "" {
			return row.says
		}
	}
	return ""
}

// add adds a note once, by the row that is surest of it.
func (c *Caution) add(n SafetyNote, sure certainty, why string) {
	if sure == maybe {
		n.May = why
	}
	for i, have := range c.Notes {
		if have.ID == n.ID {
			if n.May == "" {
				c.Notes[i].May = ""
			}
			return
		}
	}
	c.Notes = append(c.Notes, n)
}

// holds reports whether a row is for this wire, and if that is not certain,
// why.
func (t traits) holds(row cautionRow) (sure certainty, why string) {
	sure = yes
	for _, c := range []struct {
		holds certainty
		why   string
	}{
		{t.forProcess(row.process), "what kind of wire this is, is not known"},
		{t.has("deposit", row.deposit), "what it deposits is not known"},
		{t.has("shielding", row.shielding), "whether it is run with gas is not known"},
		{t.has("form", row.form), "whether it is solid or cored is not known"},
		{t.inGas(row.gas), "which gas it is run with is not known"},
		{t.alloyed(row), "its composition is not known"},
		{certain(len(row.class) == 0 || t.classed(row.class)), ""},
		{map[bool]certainty{true: maybe, false: yes}[row.may], "the facts here do not say"},
	} {
		if c.holds < sure {
			sure = c.holds
		}
		if c.holds == maybe {
			why = cmp.Or(why, c.why)
		}
	}
	return sure, why
}

func certain(holds bool) certainty {
	if holds {
		return yes
	}
	return no
}

func (t traits) forProcess(wanted []string) certainty {
	switch in := len(slices.DeleteFunc(slices.Clone(t.processes), func(p fit.Process) bool { return !slices.Contains(wanted, string(p)) })); {
	case len(wanted) == 0 || in > 0 && in == len(t.processes):
		return yes
	case len(t.processes) == 0 || in > 0:
		return maybe
	}
	return no
}

// has reports whether the fact called name is one of values.
func (t traits) has(name string, values []string) certainty {
	switch {
	case len(values) == 0:
		return yes
	case len(t.said(name)) == 0:
		return maybe
	}
	return certain(t.is(name, values))
}

// inGas reports whether the gas is a constituent of what the wire is run with.
func (t traits) inGas(gas string) certainty {
	said := append(t.said("gas"), t.said("gas_"+string(t.only()))...)
	switch {
	case gas == "":
		return yes
	case len(said) == 0:
		return maybe
	}
	return certain(slices.ContainsFunc(said, func(f filler.Fact) bool { return strings.Contains(f.Value, gas) }))
}

// alloyed reports whether wire or weld metal may hold as much of an element as
// the row says, by the upper limit of its class. A composition that does not
// name the element leaves it out, as does a carbon steel class.
func (t traits) alloyed(row cautionRow) certainty {
	if row.element == "" {
		return yes
	}
	given := false
	for _, f := range t.facts {
		most, composition := mostOf(row.element, f)
		given = given || composition
		if most != nil {
			if c := most.Cmp(row.least); c > 0 || c == 0 && !row.above {
				return yes
			}
		}
	}
	if given || t.is("deposit", []string{"carbon steel"}) {
		return no
	}
	return maybe
}

var percent = regexp.MustCompile(`\b([A-Z][a-z]?) (?:[0-9.]+-)?([0-9.]+)`)

// mostOf reads the most that a fact allows of an element in per cent, nil if it
// says nothing of it, and whether the fact gives a composition at all: "22.0-25.0"
// of a fact called Cr, "Cr 1.00-1.50; Mo 0.40-0.65" of another.
func mostOf(element string, f filler.Fact) (most *big.Rat, composition bool) {
	if !strings.Contains(f.Unit, "wt %") {
		return nil, false
	}
	if name, _, _ := strings.Cut(strings.TrimPrefix(f.Name, "max_"), "_"); name == element {
		number := f.Value[strings.LastIndex(f.Value, "-")+1:]
		most, _ = new(big.Rat).SetString(strings.Fields(number + " x")[0])
		return most, true
	}
	found := percent.FindAllStringSubmatch(f.Value, -1)
	for _, m := range found {
		if m[1] == element {
			most, _ = new(big.Rat).SetString(m[2])
		}
	}
	return most, len(found) > 0
}
