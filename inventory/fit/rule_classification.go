package fit

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// mark is one designation taken apart: what must be the same, and the extras
// that may be more.
type mark struct {
	base     string
	extras   string // of J, D and Q, in that order
	hydrogen int    // mL/100 g; 0 if the mark promises nothing
}

var (
	hydrogenMark = regexp.MustCompile(`[- ]?(J?)[- ]?H(\d+)R?$`)
	extraMarks   = regexp.MustCompile(`(?:([CM0-9])|-)([JDQ]+)$`)
)

// parseMarks takes a canonical designation apart; "E71T-1C/-1M" and
// "E309LT1-1/4" are two marks,
// and what follows the second, as in "E71T-1C/-1M-H8", holds for both.
func parseMarks(designation string) []mark {
	text, m := strings.TrimSpace(designation), mark{}
	if h := findIn(hydrogenMark, "H", text); h != nil {
		m.hydrogen, _ = strconv.Atoi(h[2])
		m.extras += h[1]
		text = strings.TrimSuffix(text, h[0])
	}
	if x := findIn(extraMarks, "JDQ", text); x != nil && strings.HasPrefix(text, "E") {
		m.extras += x[2]
		text = strings.TrimSuffix(text, x[0]) + x[1]
	}
	first, second, dual := strings.Cut(text, "/")
	second = strings.TrimPrefix(second, "-")
	if !dual {
		m.base = text
		return []mark{m}
	}
	other := m
	m.base = first
	other.base = second
	if stem := strings.LastIndex(first, "-"); stem >= 0 {
		other.base = first[:stem+1] + second
	}
	return []mark{m, other}
}

// findIn is FindStringSubmatch of a pattern that wants one of some characters:
// most texts have none, and to look for them is quicker.
func findIn(pattern *regexp.Regexp, oneOf, text string) []string {
	if !strings.ContainsAny(text, oneOf) {
		return nil
	}
	return pattern.FindStringSubmatch(text)
}

// meets reports whether a wire with mark m is one that want asks for: the same
// base, every extra that is asked for, and no more hydrogen.
func (m mark) meets(want mark) bool {
	if m.base != want.base || want.hydrogen > 0 && (m.hydrogen == 0 || m.hydrogen > want.hydrogen) {
		return false
	}
	return strings.Trim(want.extras, m.extras) == ""
}

// checkClassification: one of the wire's classifications must be one the
// procedure lists.
func (c *comparison) checkClassification() Finding {
	offered := unknown()
	if len(c.offer.Classifications) > 0 {
		offered = c.record(strings.Join(slices.Sorted(slices.Values(c.offer.Classifications)), ", "))
	}
	wants := c.demand.Classifications
	if len(wants) == 0 {
		return c.open(offered, topic("the classification"))
	}
	demanded := c.procedure(list(wants))
	if len(c.offer.Classifications) == 0 {
		return stop(demanded, offered, "Nobody has recorded this wire's classification: read the box. The procedure lists %s.", demanded.said())
	}
	for _, have := range c.offer.Classifications {
		for _, want := range wants {
			if anyMeets(parseMarks(have), parseMarks(want)) {
				return pass(demanded, offered, "This wire is %s, which the procedure lists.", offered.said())
			}
		}
	}
	return stop(demanded, offered, "This wire is %s. The procedure lists %s.", offered.said(), demanded.said())
}

// anyMeets reports whether one of the marks on offer is one of those wanted: a
// procedure that lists a dual class takes either.
func anyMeets(have, want []mark) bool {
	return slices.ContainsFunc(have, func(m mark) bool { return slices.ContainsFunc(want, m.meets) })
}
