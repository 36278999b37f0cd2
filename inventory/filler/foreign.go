package filler

import (
	"regexp"
	"slices"
	"sync"
)

// foreign tells to which specification a text belongs that no grammar reads,
// so that the message can say more than which character is wrong.
type foreign struct {
	aluminium map[string]struct{} // alloy numbers of A5.10
	noTubular string              // the tables' word on tubular aluminium wire
}

// foreignShape is how designations begin that no grammar reads. The group is
// the text up to the character that gives them away.
type foreignShape struct {
	shape *regexp.Regexp
	says  string
}

// foreignShapes are tried in order; the first that matches speaks. They are the
// designation schemes of the specifications named.
var foreignShapes = sync.OnceValue(func() []foreignShape {
	return []foreignShape{
		{regexp.MustCompile(`^(E(?:70|48))S`), "a solid wire is ER70S, with the R"},
		{regexp.MustCompile(`^()(?:M[123]\d|I[123]|C[12]|R[12]|N[1-5]|O1)(?:-|$)`), "this looks like a gas of ISO 14175 and no wire"},
	}
})

func newForeign(b book) *foreign {
	f := &foreign{aluminium: map[string]struct{}{}, noTubular: b.of("A5.10").first("rule", "aluminium", "tubular_flux_cored_class")}
	for _, alloy := range newA510(b.of("A5.10")).(*a510).alloys.list {
		f.aluminium[alloy] = struct{}{}
	}
	return f
}

// recognise returns the error that names the other specification, nil if the
// text looks like none. Its place is the character that gives it away.
func (f *foreign) recognise(s *scanner) *SyntaxError {
	if bad := f.tubularAluminium(s); bad != nil {
		return bad
	}
	start := s.pos
	defer func() { s.pos = start }()
	for _, shape := range foreignShapes() {
		if m := shape.shape.FindSubmatchIndex(s.rest()); m != nil {
			return s.failAt(s.at[start+m[3]], shape.says)
		}
	}
	return nil
}

// tubularAluminium refuses an aluminium alloy number as a flux cored wire.
func (f *foreign) tubularAluminium(s *scanner) *SyntaxError {
	digits := s.rest()
	if len(digits) < 6 || digits[0] != 'E' || !slices.Contains([]byte("TC"), digits[5]) {
		return nil
	}
	if _, alloy := f.aluminium[string(digits[1:5])]; !alloy {
		return nil
	}
	return s.failAt(s.at[s.pos+5], string(digits[1:5])+" is an aluminium alloy; tubular aluminium class: "+f.noTubular)
}
