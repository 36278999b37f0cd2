package fit

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wirehold/inventory/unit"
)

// Gas is a shielding gas by parts of a hundred. The zero Gas is no gas.
type Gas struct {
	Argon, CO2, Oxygen, Helium int // per cent by volume; they add up to 100, or to 0 for no gas
}

// component is one gas of a mixture, by its sign.
type component struct {
	sign    string
	percent int
}

// components returns the parts of g, argon first, absent ones too.
func (g Gas) components() []component {
	return []component{{"Ar", g.Argon}, {"CO2", g.CO2}, {"O2", g.Oxygen}, {"He", g.Helium}}
}

// String writes the mixture, the largest part first: "75 % Ar + 25 % CO2",
// "CO2 100 %", "no gas". [ParseGas] reads it back.
func (g Gas) String() string {
	parts := g.components()
	slices.SortStableFunc(parts, func(a, b component) int { return b.percent - a.percent })
	if parts[0].percent == 100 {
		return parts[0].sign + " 100 %"
	}
	var out []string
	for _, p := range parts {
		if p.percent > 0 {
			out = append(out, strconv.Itoa(p.percent)+" % "+p.sign)
		}
	}
	if out == nil {
		return "no gas"
	}
	return strings.Join(out, " + ")
}

// IsNone reports whether g is no gas at all.
func (g Gas) IsNone() bool { return g == Gas{} }

var gasWord = regexp.MustCompile(`(?i)co2|carbon dioxide|o2|oxygen|ar(?:gon)?|he(?:lium)?|\d+`)

// ParseGas reads "75 Ar 25 CO2", "75/25 Ar/CO2", "Ar 75 CO2 25", "CO2",
// "none" and what [Gas.String] writes. Parts in per cent must add up to 100;
// a mixture without its parts is no answer. The error is a [*unit.ParseError].
func ParseGas(text string) (Gas, error) {
	bad := &unit.ParseError{Text: text, Want: `gas: give its parts in per cent, such as "75 Ar 25 CO2", "CO2" or "none"`}
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "none", "no gas":
		return Gas{}, nil
	}
	if strings.Trim(gasWord.ReplaceAllString(text, ""), " %+/,-") != "" {
		return Gas{}, bad
	}
	var numbers []int
	var signs []string
	for _, w := range gasWord.FindAllString(text, -1) {
		if n, err := strconv.Atoi(w); err == nil {
			numbers = append(numbers, n)
		} else {
			signs = append(signs, w)
		}
	}
	if len(signs) == 1 && len(numbers) == 0 {
		numbers = []int{100}
	}
	g, ok := mix(signs, numbers)
	if !ok {
		return Gas{}, bad
	}
	return g, nil
}

// mix puts a gas together. ok is false unless each sign has its part and they
// add up to 100.
func mix(signs []string, percents []int) (g Gas, ok bool) {
	if len(signs) != len(percents) {
		return g, false
	}
	for i, s := range signs {
		part := g.part(s)
		if *part != 0 || percents[i] <= 0 || percents[i] > 100 {
			return Gas{}, false
		}
		*part = percents[i]
	}
	return g, g.Argon+g.CO2+g.Oxygen+g.Helium == 100
}

// part is the place of the gas that a word matched by gasWord means.
func (g *Gas) part(word string) *int {
	switch strings.ToLower(word)[0] {
	case 'a':
		return &g.Argon
	case 'c':
		return &g.CO2
	case 'o':
		return &g.Oxygen
	}
	return &g.Helium
}
