package filler

import (
	"slices"
	"strings"
)

// specName reads the name of a specification before the designation: "AWS",
// "A5.20", "AWS A5.20/A5.20M:2005:", "SFA-5.20", "EN ISO 17632-A:2015 -". It
// returns the short name, empty if there was none.
func (s *scanner) specName(l *shelf) (string, *SyntaxError) {
	start := s.pos
	s.word("BS")
	s.word("DIN")
	s.word("EN")
	if s.word("ISO") {
		return s.isoName(l)
	}
	s.pos = start
	return s.awsName(l)
}

// isoName reads what follows ISO: number, system and year, in either order.
func (s *scanner) isoName(l *shelf) (string, *SyntaxError) {
	start := s.pos
	number, ok := s.digits(4, 5)
	if !ok {
		return "", s.fail("the number of the ISO standard stands here")
	}
	name := "ISO " + number
	name += s.isoSystem()
	s.edition()
	if name == "ISO "+number {
		name += s.isoSystem()
	}
	switch {
	case number == "14175":
		return "", s.failAt(s.at[start], "ISO 14175 is about gases: this is no wire")
	case len(l.called(name)) == 0:
		return "", s.failAt(s.at[start], name+" is not read; the specifications that are: "+l.allNames())
	}
	if !s.eat(':') {
		s.eat('-')
	}
	return name, nil
}

// isoSystem reads "-A" or "-B", or the letter alone behind the number.
func (s *scanner) isoSystem() string {
	start := s.pos
	s.eat('-')
	if c := s.peek(); c == 'A' || c == 'B' {
		s.pos++
		return "-" + string(c)
	}
	s.pos = start
	return ""
}

// called returns the names of the grammars that a label means by a name: of
// "ISO 17632" both systems.
func (l *shelf) called(name string) []string {
	var out []string
	for _, n := range l.names {
		if n == name || strings.HasPrefix(n, name+"-") {
			out = append(out, n)
		}
	}
	return out
}

func (l *shelf) allNames() string {
	var names []string
	for _, n := range l.names {
		names = append(names, fullName(n))
	}
	return oneOf(names)
}

// awsName reads the name of a specification of AWS or ASME.
func (s *scanner) awsName(l *shelf) (string, *SyntaxError) {
	if !s.word("AWS/ASME") && !s.word("AWS") {
		s.word("ASME")
	}
	start := s.pos
	if !s.specNumber("") {
		s.pos = start
		return "", nil
	}
	_, number, _ := strings.Cut(string(s.norm[start:s.pos]), "5.")
	name := "A5." + number
	if !slices.Contains(l.names, name) {
		s.pos = start
		return "", s.fail("AWS " + name + " is not read; the specifications that are: " + l.allNames())
	}
	s.eat('M')
	if slash := s.pos; s.eat('/') && (!s.specNumber(number) || !s.eat('M')) {
		s.pos = slash
		return "", s.fail("write " + name + ", or " + name + "/" + name + "M")
	}
	s.edition()
	if !s.eat(':') {
		s.eat('-')
	}
	return name, nil
}

// fullName is a specification's short name as it is cited: "AWS A5.20".
func fullName(short string) string {
	if strings.HasPrefix(short, "A5.") {
		return "AWS " + short
	}
	return short
}

// specNumber reads "A5.20", "SFA-5.20" or "SFA5.20", of any number or the one given.
func (s *scanner) specNumber(number string) bool {
	switch {
	case s.word("SFA"):
		s.eat('-')
	case s.eat('A'):
	default:
		return false
	}
	if !s.word("5.") {
		return false
	}
	got, ok := s.digits(1, 2)
	return ok && (number == "" || got == number)
}

// edition reads ":2005", "-2005" or "-05". The facts are those of the tables'
// edition whichever it is.
func (s *scanner) edition() {
	start := s.pos
	if !s.eat(':') && !s.eat('-') {
		return
	}
	if year, ok := s.digits(2, 4); !ok || len(year) == 3 {
		s.pos = start
	}
}
