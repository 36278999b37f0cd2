package filler

import (
	"strings"
	"sync"
)

// Decoded is a designation taken apart. It is a value of its own: changing it
// changes nothing else.
type Decoded struct {
	Designation string // as the standard prints it: "E71T-1C-H8", "E309LT1-1/4", "EC409"
	Spec        string // the specification as the tables name it: "AWS A5.20/A5.20M"
	Edition     string // the edition that the tables hold, not the label's
	Parts       []Part // in order; together they are the Designation
	Facts       Facts
	NotFixed    []NotFixed // facts that the classification leaves open; they are not in Facts, unless as a value that says nothing
	Notes       []string   // what a person must know before trusting the facts
}

// Part is a run of characters of a designation and what it means.
type Part struct {
	Text  string
	At    int // byte offset in the designation
	Means string
}

// String returns the canonical designation, which Decode reads back to d. A
// fixed class of AWS A5.36 has the specification before it, for by itself it
// is a designation of A5.20 or A5.18.
func (d Decoded) String() string {
	if shortSpec(d.Spec) == "A5.36" && d.fixed() {
		return "AWS A5.36: " + d.Designation
	}
	return d.Designation
}

// fixed tells whether a hyphen stands right behind the T or C of a cored wire.
func (d Decoded) fixed() bool {
	for i, p := range d.Parts[1:] {
		if p.Text == "-" {
			return d.Parts[i].Text == "T" || d.Parts[i].Text == "C"
		}
	}
	return false
}

// Decode takes a designation apart that a box or a person spells: in any case,
// with or without the name of its specification ("AWS A5.20: E71T-1C"), with
// any kind of dash. It never guesses: a character that the tables do not know,
// or that two specifications read differently, is a [*SyntaxError].
//
// Decode is pure and safe for concurrent use.
func Decode(text string) (Decoded, error) {
	s, bad := scan(text)
	if bad != nil {
		return Decoded{}, bad
	}
	lib := library()
	if s.named, bad = s.specName(lib); bad != nil {
		return Decoded{}, bad
	}
	if s.end() {
		return Decoded{}, s.fail("write the designation, such as E71T-1C")
	}
	d, bad := lib.decode(s)
	if bad != nil {
		return Decoded{}, bad
	}
	return d, nil
}

// grammar reads the designations of one specification.
type grammar interface {
	// read decodes all that s has left.
	read(s *scanner) (Decoded, *SyntaxError)
}

// shelf is the tables with the grammars that read by them.
type shelf struct {
	names    []string // short names of the specifications that are read, in the order they are tried
	grammars map[string]grammar
	begin    map[string][]string // names by the letters a designation begins with: "E", "ER"
	exact    []exactFact         // what single designations give besides
	foreign  *foreign
}

// entry is a grammar with the letters that its designations begin with.
type entry struct {
	name  string
	leads []string
	grammar
}

// exactFact is what a table says of one designation, whichever specification
// it belongs to: "E71T8-K6".
type exactFact struct {
	designation string
	facts       []Fact
}

// library is built once; nothing changes it afterwards.
var library = sync.OnceValue(func() *shelf {
	b := readBook()
	l := &shelf{grammars: map[string]grammar{}, begin: map[string][]string{}, exact: exactFacts(b), foreign: newForeign(b)}
	for _, e := range []entry{
		{"A5.20", []string{"E"}, newA520(b.of("A5.20"))},
		{"A5.18", []string{"E", "ER"}, newA518(b.of("A5.18"))},
		{"A5.22", []string{"E", "R"}, newA522(b.of("A5.22"))},
		{"A5.36", []string{"E"}, newA536(b)},
		{"A5.29", []string{"E"}, newA529(b.of("A5.29"))},
		{"A5.28", []string{"E", "ER"}, newA528(b.of("A5.28"))},
		{"A5.9", []string{"ER"}, newA59(b.of("A5.9"))},
		{"A5.10", []string{"ER", "R"}, newA510(b.of("A5.10"))},
		{"A5.1", []string{"E"}, newCovered(b.of("A5.1"))},
		{"A5.5", []string{"E"}, newCovered(b.of("A5.5"))},
		{"ISO 17632-A", []string{"T"}, newISO17632A(b)},
		{"ISO 17632-B", []string{"T"}, newISO17632B(b)},
		{"ISO 17633-A", []string{"T"}, newISO17633A(b)},
		{"ISO 17633-B", []string{"T"}, newISO17633B(b)},
		{"ISO 18276-A", []string{"T"}, newISO18276A(b)},
		{"ISO 14341-A", []string{"G"}, newISO14341A(b)},
	} {
		l.names, l.grammars[e.name] = append(l.names, e.name), e.grammar
		for _, lead := range e.leads {
			l.begin[lead] = append(l.begin[lead], e.name)
		}
	}
	return l
})

// candidates are the specifications whose designations begin as the text does;
// all, if none does.
func (l *shelf) candidates(s *scanner) []string {
	for n := min(2, len(s.rest())); n > 0; n-- {
		if names := l.begin[string(s.rest()[:n])]; names != nil {
			return names
		}
	}
	return l.names
}

// exactFacts reads the rows of API 1104 groups, which stand in the table of
// AWS A5.29 and name designations of A5.20 too.
func exactFacts(b book) []exactFact {
	var out []exactFact
	t := b.of("A5.29")
	for _, key := range t.keys("api_1104_group") {
		for one := range strings.SplitSeq(key, "|") {
			out = append(out, exactFact{one, t.at("api_1104_group", key)})
		}
	}
	return out
}

// complete adds what the tables say of just this designation, be it followed
// by supplementary designators or not, and what its class does not fix.
func (l *shelf) complete(d Decoded) Decoded {
	for _, e := range l.exact {
		if rest, ok := strings.CutPrefix(d.Designation, e.designation); ok && (rest == "" || rest[0] == '-') {
			d.Facts = d.Facts.with(e.facts, span{e.designation, 0})
		}
	}
	d.NotFixed = d.notFixed()
	return d
}

// decode reads by the grammar of the specification that is named, or else tries
// all in turn. Of their errors the one furthest along the text wins, if none is
// sure of its specification.
func (l *shelf) decode(s *scanner) (Decoded, *SyntaxError) {
	start := s.pos
	if s.named != "" {
		return l.decodeNamed(s)
	}
	var worst *SyntaxError
	for _, name := range l.candidates(s) {
		s.pos = start
		d, bad := l.grammars[name].read(s)
		switch {
		case bad == nil:
			return l.complete(d), nil
		case worst == nil || !worst.sure && (bad.sure || bad.At > worst.At):
			worst = bad
		}
	}
	s.pos = start
	if other := l.foreign.recognise(s); other != nil && !worst.sure && other.At >= worst.At {
		worst = other
	}
	return Decoded{}, worst
}

// decodeNamed reads what a label gives as a designation of the named
// specification; if it is one of another, the error says so.
func (l *shelf) decodeNamed(s *scanner) (Decoded, *SyntaxError) {
	start, named := s.pos, s.named
	var bad *SyntaxError
	for _, name := range l.called(named) {
		s.pos = start
		d, worse := l.grammars[name].read(s)
		if worse == nil {
			return l.complete(d), nil
		}
		bad = furthest(bad, worse)
	}
	s.pos, s.named = start, ""
	if d, other := l.decode(s); other == nil {
		detail := "the label says " + fullName(named) + ", but " + d.Designation + " is a designation of " + d.Spec
		if bad.At == s.at[start] && strings.HasPrefix(bad.Detail, d.Designation) {
			detail += "; " + bad.Detail
		}
		return Decoded{}, s.failAt(s.at[start], detail)
	}
	s.pos = start
	if other := l.foreign.recognise(s); other != nil && other.At >= bad.At {
		bad = other
	}
	return Decoded{}, bad
}
