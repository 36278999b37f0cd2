package fit

import (
	"regexp"
	"slices"
	"strings"
	"sync"
)

// The designations of ASTM, ASME and API as they are written on drawings:
// A572, A 36, ASTM A572/A572M, SA-516, API 5L.
var (
	ownSpec   = regexp.MustCompile(`(?i)^(?:(?:ASTM|ASME)[ -]+)?(S?)([AB])[ -]?(\d{1,4})(?:(M)| ?/ ?S?[AB]?[ -]?(\d{1,4})M)?`)
	apiSpec   = regexp.MustCompile(`(?i)^API[ -]+(?:spec[ -]+)?5L`)
	afterSpec = regexp.MustCompile(`(?i)^([ ,-]+)(.*)$|^()(gr.*)$|^()()$`)
	gradeWord = regexp.MustCompile(`(?i)\b(?:grade|gr)\b\.?[ -]*|\b(?:grade|gr)(\d)`)
)

// MetalName writes the name of a base metal in one spelling: "ASTM A 572
// Grade 50", "a572 gr.50" and "A572-50" are "A572 Gr 50". ASME's SA-36 stays
// apart from ASTM's A36, and A572M, whose grades are in MPa, from A572. A
// grade that follows without the word is taken for one only where AWS D1.1 has
// the specification with that grade (testdata/base_metal_match.csv): "A36-19"
// names a year. A name of another body is left as it is but for its spaces.
func MetalName(name string) string {
	if tableMetals()[name] {
		return name
	}
	name = strings.Join(strings.Fields(name), " ")
	spec, rest := cutSpec(name)
	after := afterSpec.FindStringSubmatch(rest)
	if spec == "" || after == nil {
		return name
	}
	gap, rest := after[1], after[2]+after[4]
	rest = strings.TrimSpace(gradeWord.ReplaceAllString(rest, "Gr $1"))
	if grade, ok := knownGrade(spec, rest); ok {
		rest = "Gr " + grade
	}
	if gap = strings.TrimLeft(gap, " ,"); gap == "" || strings.HasPrefix(rest, "Gr ") {
		gap = " "
	}
	return strings.TrimSpace(spec + gap + rest)
}

// cutSpec splits a name after its specification, which it writes in one
// spelling; spec is empty if the name begins with none.
func cutSpec(name string) (spec, rest string) {
	if m := apiSpec.FindString(name); m != "" {
		return "API 5L", name[len(m):]
	}
	m := ownSpec.FindStringSubmatch(name)
	if m == nil || m[5] != "" && m[5] != m[3] {
		return "", name
	}
	spec = m[2] + m[3] + m[4]
	if m[1] != "" {
		spec = "S" + m[2] + "-" + m[3] + m[4]
	}
	return strings.ToUpper(spec), name[len(m[0]):]
}

// knownGrade returns rest, with or without the word, in the spelling of the
// table if its specification has such a grade there. A grade of ASME's SA-516
// is written as that of A516.
func knownGrade(spec, rest string) (string, bool) {
	grade, ok := tableGrades()[strings.Replace(spec, "SA-", "A", 1)][strings.ToUpper(strings.TrimPrefix(rest, "Gr "))]
	return grade, ok
}

// tableGrades are the grades of each specification of AWS D1.1, in capitals, and
// as they are written.
var tableGrades = sync.OnceValue(func() map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, g := range steelGroups() {
		grades := g.grades
		if _, grade, one := strings.Cut(g.stem, g.spec+" Gr "); one && grades == nil {
			grades = []string{grade}
		}
		for _, grade := range grades {
			if out[g.spec] == nil {
				out[g.spec] = map[string]string{}
			}
			out[g.spec][strings.ToUpper(grade)] = grade
		}
	}
	return out
})

// tableMetals are the metals of AWS D1.1 as its table writes them.
var tableMetals = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, g := range steelGroups() {
		out[g.stem] = g.grades == nil
		for _, grade := range g.grades {
			out[g.spec+" Gr "+grade] = true
		}
	}
	return out
})

// metalWords takes a name apart for comparison: case, dots, commas and hyphens
// do not tell two metals apart.
func metalWords(name string) []string {
	words := strings.FieldsFunc(strings.ToUpper(MetalName(name)), func(r rune) bool { return strings.ContainsRune(" .,-", r) })
	if len(words) > 1 && words[0] == "ASTM" {
		return words[1:]
	}
	return words
}

// sameMetal reports whether two names are one but for how they are written. A
// name that says more than the other is another metal.
func sameMetal(a, b string) bool {
	return strings.EqualFold(a, b) || slices.Equal(metalWords(a), metalWords(b))
}

// saysMore returns what longer says beyond shorter, "Gr 50" of "A572 Gr 50"
// against "A572"; false where it does not begin with it.
func saysMore(longer, shorter string) (more string, ok bool) {
	long, short := metalWords(longer), metalWords(shorter)
	if len(short) == 0 || len(long) <= len(short) || !slices.Equal(long[:len(short)], short) {
		return "", false
	}
	more = strings.Join(long[len(short):], " ")
	if long[len(short)] == "GR" {
		return "a grade", true
	}
	return more, true
}
