package fit

import (
	"regexp"
	"strconv"
	"strings"
)

// span is a part of a mixture in whole per cent, both ends allowed.
type span struct{ min, max int }

func (s span) within(t span) bool { return s.min >= t.min && s.max <= t.max }

// gasRange is the mixtures a wire is classified or recommended for. The zero
// gasRange is no gas.
type gasRange struct{ argon, co2, oxygen, helium span }

// exactly is the range that holds g alone.
func exactly(g Gas) gasRange {
	one := func(n int) span { return span{n, n} }
	return gasRange{one(g.Argon), one(g.CO2), one(g.Oxygen), one(g.Helium)}
}

// within reports whether every mixture of r is one of a single range of set.
func (r gasRange) within(set []gasRange) bool {
	for _, s := range set {
		if r.argon.within(s.argon) && r.co2.within(s.co2) && r.oxygen.within(s.oxygen) && r.helium.within(s.helium) {
			return true
		}
	}
	return false
}

// onlyGas returns the one mixture that a set allows; nil if it allows several.
func onlyGas(set []gasRange) *Gas {
	if len(set) != 1 {
		return nil
	}
	g := Gas{Argon: set[0].argon.min, CO2: set[0].co2.min, Oxygen: set[0].oxygen.min, Helium: set[0].helium.min}
	if set[0] != exactly(g) {
		return nil
	}
	return &g
}

func gasWithin(r gasRange, set []gasRange) bool { return r.within(set) }

// parseGasRanges reads a gas in the reference tables' words: "75-80 % Ar +
// balance CO2", "CO2 100 % or 75-80 % Ar + balance CO2", "none", or a symbol
// of ISO 14175 such as "M21". ok is false unless all of it is understood.
func parseGasRanges(text string) (ranges []gasRange, ok bool) {
	for _, one := range strings.Split(text, " or ") {
		r, ok := parseGasRange(strings.TrimSpace(one))
		if !ok {
			return nil, false
		}
		ranges = append(ranges, r)
	}
	return ranges, true
}

var (
	balanced  = regexp.MustCompile(`^(\d+)(?:-(\d+))? ?% ?(Ar|CO2|O2|He) ?\+ ?balance (Ar|CO2|O2|He)$`)
	unbounded = regexp.MustCompile(`^(Ar|He) \+ (CO2|O2)$`)
)

func parseGasRange(text string) (gasRange, bool) {
	if r, ok := gasSymbols()[text]; ok {
		return r, true
	}
	if text == "NO" { // ISO 17632: no gas
		return gasRange{}, true
	}
	if m := unbounded.FindStringSubmatch(text); m != nil {
		return gasRange{}.put(m[1], span{1, 99}).put(m[2], span{1, 99}), true
	}
	if m := balanced.FindStringSubmatch(text); m != nil {
		low, _ := strconv.Atoi(m[1])
		high := low
		if m[2] != "" {
			high, _ = strconv.Atoi(m[2])
		}
		if low > high || high > 100 || m[3] == m[4] {
			return gasRange{}, false
		}
		return gasRange{}.put(m[3], span{low, high}).put(m[4], span{100 - high, 100 - low}), true
	}
	g, err := ParseGas(text)
	return exactly(g), err == nil
}

// put returns r with the part of the gas with this sign set to s.
func (r gasRange) put(sign string, s span) gasRange {
	switch sign {
	case "Ar":
		r.argon = s
	case "CO2":
		r.co2 = s
	case "O2":
		r.oxygen = s
	case "He":
		r.helium = s
	}
	return r
}
