package inventory

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// Comparison is two wires fact by fact: may the second stand in for the first?
type Comparison struct {
	A, B        Wire // A is the wire that is wanted, B the one that might stand in
	Differences []ComparedFact
	Same        []ComparedFact
}

// ComparedFact is one fact of two wires.
type ComparedFact struct {
	Name string // "polarity"
	A, B Side
}

// Side is what is known of one wire; an empty Value is not known. Where box
// and sheet disagree, Value says so and there is no Provenance.
type Side struct {
	Value      string
	Condition  string
	Source     string
	Provenance filler.Provenance
	Sure       bool
}

// CompareWires compares two wires fact by fact: the product itself, then what
// the set-up card shows in its order, then everything else by name. Facts of
// common practice are left out. It is pure; the error is that of [Wire.Facts].
func CompareWires(a, b Wire) (Comparison, error) {
	c := Comparison{A: a, B: b}
	factsA, err := a.Facts()
	if err != nil {
		return c, err
	}
	factsB, err := b.Facts()
	if err != nil {
		return c, err
	}
	rows := comparedProducts(a, b)
	ta, tb := newTraits(a, factsA), newTraits(b, factsB)
	for _, name := range comparedNames(factsA, factsB) {
		rows = append(rows, ComparedFact{name, ta.side(name), tb.side(name)})
	}
	for _, row := range rows {
		switch {
		case row.A.Value == "" && row.B.Value == "":
		case row.A.Value == row.B.Value && row.A.Condition == row.B.Condition:
			c.Same = append(c.Same, row)
		default:
			c.Differences = append(c.Differences, row)
		}
	}
	return c, nil
}

// comparedProducts compares what is printed on the box.
func comparedProducts(a, b Wire) []ComparedFact {
	side := func(value string) Side {
		return Side{Value: value, Source: "record of the wire", Provenance: filler.Shop, Sure: true}
	}
	var out []ComparedFact
	for _, p := range []struct {
		name string
		of   func(Wire) string
	}{
		{"classification", func(w Wire) string { return strings.Join(w.Classifications, " / ") }},
		{"diameter", func(w Wire) string { return w.Diameter.Inches() + " (" + w.Diameter.Millimetres(2) + ")" }},
		{"process", func(w Wire) string { return processText(w) }},
		{"package", func(w Wire) string { return w.Package }},
		{"net weight", func(w Wire) string { return w.Net.String() }},
	} {
		row := ComparedFact{Name: p.name, A: side(p.of(a)), B: side(p.of(b))}
		if p.name == "process" {
			row.A.Source, row.B.Source = "worked out from form, shielding and package", "worked out from form, shielding and package"
		}
		out = append(out, row)
	}
	return out
}

func processText(w Wire) string {
	processes, err := w.Processes()
	if err != nil {
		return ""
	}
	var out []string
	for _, p := range processes {
		out = append(out, string(p))
	}
	return strings.Join(out, " or ")
}

// notCompared are facts about a designation rather than about the wire.
var notCompared = []string{"meaning", "exists", "in_designation", "position_digits", "position", "process", "covers", "listed"}

// comparedNames returns the names of all facts, those of the card first.
func comparedNames(a, b filler.Facts) []string {
	order := map[string]int{}
	for _, row := range cardRows() {
		for _, name := range row.facts {
			order[name] = len(order) + 1
		}
	}
	var names []string
	for _, f := range append(slices.Clone(a), b...) {
		if f.Provenance != filler.Practice && !slices.Contains(notCompared, f.Name) && !slices.Contains(names, f.Name) {
			names = append(names, f.Name)
		}
	}
	const last = 1 << 20
	place := func(name string) int { return cmp.Or(order[name], last) }
	slices.SortFunc(names, func(x, y string) int { return cmp.Or(cmp.Compare(place(x), place(y)), cmp.Compare(x, y)) })
	return names
}

// side returns what the strongest facts called name say.
func (t traits) side(name string) Side {
	if says := t.conflict(name); says != "" {
		return Side{Value: "box and sheet disagree", Source: says}
	}
	said := t.said(name)
	if len(said) == 0 {
		return Side{}
	}
	var line CardLine
	line.tell(said)
	var conditions []string
	for _, f := range said {
		if f.Condition != "" {
			conditions = appendNew(conditions, f.Condition)
		}
	}
	return Side{line.Value, strings.Join(conditions, "; "), line.Source, line.Provenance, line.Sure}
}

// CheckWire compares a wire, rather than a spool of it, with a job: as if a
// spool of it lay sealed in the store, of a lot that is accepted and was made
// today. It changes nothing and issues nothing: the spool that is issued is
// checked by itself.
func (l *Ledger) CheckWire(ctx context.Context, wire int64, job Code) (Check, error) {
	return l.CheckWireUnder(ctx, wire, job, 0)
}

// CheckWireUnder is [Ledger.CheckWire] against one of the job's procedures; zero
// is its only one.
func (l *Ledger) CheckWireUnder(ctx context.Context, wire int64, job Code, procedure int64) (Check, error) {
	r := l.store.Read(ctx)
	w, err := r.Wire(wire)
	if err != nil {
		return Check{}, err
	}
	now := l.at()
	supposed := Lot{WireID: wire, Number: SupposedLot, Status: fit.LotAccepted, Papers: LotPapers{MadeOn: DayOf(now)}}
	return l.against(r, Check{Lot: supposed, Wire: w, Spool: Spool{Code: supposedSpool, Net: w.Net, Full: w.Net}}, job, procedure, "", now)
}

// SupposedLot is what a check names as the lot of a wire that is checked
// without a spool.
const SupposedLot = "supposed: accepted, made today"

const supposedSpool Code = "(supposed, sealed)"

// ChangedFinding is one rule that two wires meet differently.
type ChangedFinding struct {
	Rule fit.Rule
	A, B fit.Finding
}

// ChangedFindings returns the rules that the two verdicts answer differently,
// those that stop the second wire first, then those that stop the first.
func ChangedFindings(a, b fit.Verdict) []ChangedFinding {
	var out []ChangedFinding
	for _, fa := range a.Findings {
		if fb, ok := b.Find(fa.Rule); ok && fa.Outcome != fb.Outcome {
			out = append(out, ChangedFinding{fa.Rule, fa, fb})
		}
	}
	weight := func(f ChangedFinding) int {
		switch {
		case f.B.Outcome == fit.Stops:
			return 0
		case f.A.Outcome == fit.Stops:
			return 2
		}
		return 1
	}
	slices.SortStableFunc(out, func(x, y ChangedFinding) int { return cmp.Compare(weight(x), weight(y)) })
	return out
}
