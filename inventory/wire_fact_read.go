package inventory

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// mostFactText is how long a value may be.
const mostFactText = 300

// Read reads what was typed for f; an empty text is no fact. The facts lack
// provenance and source, which the caller knows. The error is [Invalid] with
// f.Name as its field: it names the fact, what was typed, and an example.
func (f SheetFact) Read(text string) (filler.Facts, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil, nil
	}
	if len(text) > mostFactText {
		return nil, f.fault(text)
	}
	items := []string{text}
	if f.ByDiameter || f.Shape == GasUseShape {
		items = strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' })
	}
	var out filler.Facts
	for _, item := range items {
		fact, err := f.readOne(strings.Join(strings.Fields(item), " "))
		if err != nil {
			return nil, err
		}
		same := func(g filler.Fact) bool {
			return g.Condition == fact.Condition && (f.Shape != GasUseShape || g.Value == fact.Value)
		}
		if slices.ContainsFunc(out, same) {
			return nil, Invalidf(f.Name, "%s: %q gives one thing twice", f.Label, clip(text))
		}
		out = append(out, fact)
	}
	return out, nil
}

// readOne reads one value, with the size it holds for before it.
func (f SheetFact) readOne(text string) (filler.Fact, error) {
	fact := filler.Fact{Name: f.Name}
	value := text
	if size, rest, ok := strings.Cut(text, ":"); ok && f.ByDiameter {
		d, err := unit.ParseLength(size)
		if err != nil {
			return fact, f.fault(text)
		}
		fact.Condition, value = atDiameter+d.Inches(), strings.TrimSpace(rest)
	}
	if f.readValue(&fact, value) {
		return fact, nil
	}
	return fact, f.fault(text)
}

// fault says what would have been understood.
func (f SheetFact) fault(text string) error {
	return Invalidf(f.Name, "%s: %q is not understood: give %s", f.Label, clip(text), f.Accepts())
}

// readValue reads text into fact; ok is false if it is not of f's shape.
func (f SheetFact) readValue(fact *filler.Fact, text string) (ok bool) {
	switch f.Shape {
	case NumberShape, WholeShape, SignedShape, RangeShape:
		fact.Value, fact.Unit, ok = f.readNumber(text)
	case WordShape:
		fact.Value, ok = oneOf(f.Words, text)
	case WordsShape:
		fact.Value, ok = f.readWords(text)
	case GasShape:
		if fact.Value, ok = oneOf(f.Words, text); !ok {
			fact.Value, ok = text, fit.ReadsAsGas(text)
		}
	case GasUseShape:
		fact.Value, fact.Note, ok = f.readGasUse(text)
	case DryingShape:
		fact.Value, ok = f.readDrying(text)
	case TestedShape:
		fact.Value, ok = fit.ReadTestedExposure(text)
	}
	return ok
}

// oneOf finds text among the terms, whatever its case. "N" in a term stands
// for a whole number from 2 to 99.
func oneOf(ts []Term, text string) (word string, ok bool) {
	for _, t := range ts {
		for _, spelling := range append([]string{t.Word}, t.Synonyms...) {
			if strings.EqualFold(spelling, text) {
				return t.Word, true
			}
		}
		before, after, counted := strings.Cut(t.Word, " N ")
		if !counted || len(text) < len(before)+len(after)+3 || !strings.EqualFold(text[:len(before)+1], before+" ") {
			continue
		}
		number, rest, _ := strings.Cut(text[len(before)+1:], " ")
		if n, err := strconv.Atoi(number); err == nil && n >= 2 && n <= 99 && strings.EqualFold(rest, after) {
			return before + " " + strconv.Itoa(n) + " " + after, true
		}
	}
	return "", false
}

// readWords reads "flat, horizontal" as "flat|horizontal", in the table's
// order. "all" stands alone.
func (f SheetFact) readWords(text string) (string, bool) {
	var found []string
	for one := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '|' || r == ',' }) {
		word, ok := oneOf(f.Words, strings.TrimSpace(one))
		if !ok || slices.Contains(found, word) {
			return "", false
		}
		found = append(found, word)
	}
	var out []string
	for _, t := range f.Words {
		if slices.Contains(found, t.Word) {
			out = append(out, t.Word)
		}
	}
	if slices.Contains(out, "all") && len(out) > 1 {
		return "", false
	}
	return strings.Join(out, "|"), len(out) > 0
}

var (
	numeral   = `(?:\d+ \d+/\d+|\d+/\d+|\d*\.\d+|\d+)`
	oneNumber = regexp.MustCompile(`^(-?` + numeral + `) ?([^\d\s.].*)$`)
	spanOfTwo = regexp.MustCompile(`^(` + numeral + `)(?: ?([^\d\s.–-][^\d–-]*?))?(?: ?[-–] ?| to )(` + numeral + `) ?([^\d\s.].*)$`)
)

// readNumber reads one number, or a range, with a unit that f takes.
func (f SheetFact) readNumber(text string) (value, of string, ok bool) {
	if m := spanOfTwo.FindStringSubmatch(text); m != nil && f.Shape == RangeShape {
		of, ok = oneOf(f.Units, m[4])
		if first, known := oneOf(f.Units, m[2]); m[2] != "" && (!known || first != of) {
			return "", "", false
		}
		low, high := rational(m[1]), rational(m[3])
		return m[1] + "-" + m[3], of, ok && f.allows(low) && f.allows(high) && low.Cmp(high) < 0
	}
	m := oneNumber.FindStringSubmatch(text)
	if m == nil {
		return "", "", false
	}
	of, ok = oneOf(f.Units, m[2])
	return m[1], of, ok && f.allows(rational(m[1]))
}

// allows reports whether a number is one that f may have.
func (f SheetFact) allows(n *big.Rat) bool {
	switch {
	case n == nil:
		return false
	case (f.Shape == WholeShape || f.Shape == SignedShape) && !n.IsInt():
		return false
	case f.Shape != SignedShape && n.Sign() <= 0:
		return false
	case f.Most > 0 && n.Cmp(big.NewRat(int64(f.Most), 1)) > 0:
		return false
	}
	return n.Cmp(big.NewRat(1_000_000, 1)) < 0
}

// rational reads "8", ".5", "3/8" or "1 1/2"; nil if it is none of these.
func rational(text string) *big.Rat {
	whole, fraction, mixed := strings.Cut(text, " ")
	n, ok := new(big.Rat).SetString(whole)
	if !ok || !mixed {
		if !ok {
			return nil
		}
		return n
	}
	part, ok := new(big.Rat).SetString(fraction)
	if !ok {
		return nil
	}
	return n.Add(n, part)
}

// readGasUse reads "CO2: 17-21 L/min, globular" as a gas and how it is used.
// Flow and mode may be left out.
func (f SheetFact) readGasUse(text string) (gas, use string, ok bool) {
	gas, rest, _ := strings.Cut(text, ":")
	gas = strings.TrimSpace(gas)
	if strings.EqualFold(gas, "none") || !fit.ReadsAsGas(gas) {
		return "", "", false
	}
	var parts []string
	for one := range strings.FieldsFuncSeq(rest, func(r rune) bool { return r == ',' }) {
		one = strings.TrimSpace(one)
		flow := SheetFact{Shape: RangeShape, Units: f.Units}
		if value, of, isFlow := flow.readNumber(one); isFlow && len(parts) == 0 {
			parts = append(parts, value+" "+of)
			continue
		}
		mode, isMode := oneOf(f.Words, strings.TrimSuffix(one, " transfer"))
		if !isMode || len(parts) > 1 {
			return "", "", false
		}
		parts = append(parts, mode)
	}
	return gas, strings.Join(parts, ", "), true
}

var drying = regexp.MustCompile(`^(\d{1,3}) h at (.+?)(?:, at most (\d{1,2}) times)?$`)

// readDrying reads "4 h at 260-290 degC, at most 2 times", or a word such as
// "not allowed".
func (f SheetFact) readDrying(text string) (string, bool) {
	if word, ok := oneOf(f.Words, text); ok {
		return word, true
	}
	m := drying.FindStringSubmatch(text)
	if m == nil || strings.Trim(m[1], "0") == "" {
		return "", false
	}
	heat := SheetFact{Shape: RangeShape, Units: f.Units}
	value, of, ok := heat.readNumber(m[2])
	if !ok {
		return "", false
	}
	out := fmt.Sprintf("%s h at %s %s", m[1], value, of)
	if m[3] != "" {
		out += ", at most " + m[3] + " times"
	}
	return out, strings.Trim(m[3], "0") != "" || m[3] == ""
}

// canonical returns facts as they are kept: each one read by its row of the
// table. The error is [Invalid] and names the fact.
func canonical(facts filler.Facts) (filler.Facts, error) {
	out := make(filler.Facts, 0, len(facts))
	for _, fact := range facts {
		f, ok := SheetFactNamed(fact.Name)
		if !ok {
			return nil, Invalidf(fact.Name, "no data sheet or shop fact is called %q", clip(fact.Name))
		}
		if fact.Provenance != filler.DataSheet && fact.Provenance != filler.Shop {
			return nil, Invalidf(fact.Name, "%s: a fact of a wire comes from its data sheet or the shop, not from %q", f.Label, fact.Provenance)
		}
		if strings.TrimSpace(fact.Source) == "" {
			return nil, Invalidf(fact.Name, "%s: say where it comes from", f.Label)
		}
		read, err := f.Read(f.Text(filler.Facts{fact}))
		if err != nil {
			return nil, err
		}
		for _, r := range read {
			r.Provenance, r.Source = fact.Provenance, fact.Source
			if f.Shape != GasUseShape {
				r.Note = fact.Note
			}
			out = append(out, r)
		}
	}
	return out, nil
}
