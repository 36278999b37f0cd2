package labels

import (
	"strings"
	"unicode/utf8"

	"wirehold/inventory/unit"
)

// Slip is the issue slip that goes out with a spool on paper: the same numbers
// as the screen shows, for when the network is down.
type Slip struct {
	Spool   Spool // what its label says
	Job     string
	Taker   string
	Net     unit.Grams
	Package string   // "open since 2026-11-25 07:10"
	Verdict string   // of the fit check
	Checked string   // the procedure with its revision, and the profile with why it is loosened: never left off
	Waivers []string // that the issue rests on: never left off
	Entered string   // when, and by whom
}

// Label returns the slip, with frames for what is to be entered later: the
// weight that came back, and when.
func (s Slip) Label() (Label, error) {
	if err := s.Spool.check(); err != nil {
		return Label{}, err
	}
	l := Label{Kind: KindSlip, Title: "ISSUE SLIP", Code: s.Spool.Code, Aid: decides, Link: s.Spool.URL, Offline: s.Spool.facts(), Needed: 4,
		Blanks: []Blank{{"returned", "BACK", []string{"kg or lb", "date", "time"}, 2, false}}}
	l.Facts = append(s.Spool.setting(), Fact{Field: "job", Caption: "JOB", Words: said(s.Job, "not known"), Rank: Middle})
	for _, w := range s.Waivers {
		l.Facts = append(l.Facts, sentence("waiver", "WAIVER", w))
	}
	add := func(field, name, caption, words string, goes int) {
		l.Facts = append(l.Facts, Fact{Field: field, Name: name, Caption: caption, Words: said(words, "not known"), Rank: Middle, Lines: 3, Goes: goes})
	}
	add("net", "wire on it", "ON IT", s.Net.String()+" ("+s.Net.Pounds()+")", 0)
	add("taker", "who took it", "TAKEN BY", s.Taker, 9)
	add("verdict", "", "VERDICT", said(s.Verdict, "not checked"), 8)
	add("package", "", "PACK", s.Package, 5)
	add("classification", "class", "CLASS", known(s.Spool.Classification), 7)
	add("diameter", "", "DIAM.", s.Spool.diameter(), 4)
	add("entered", "who issued it when", "ISSUED", s.Entered, 6)
	add("lot", "", "LOT", known(s.Spool.Lot), 3)
	l.Facts = append(l.Facts, s.checked()...)
	l.Notes = s.Spool.Cautions
	return l, nil
}

// checked is what the spool was checked against: the procedure with its revision
// on every slip, the rule profile where there is room or a limit of it is
// loosened.
func (s Slip) checked() []Fact {
	procedure, profile, _ := strings.Cut(said(s.Checked, "not known"), "; ")
	facts := []Fact{sentence("procedure", "UNDER", procedure)}
	if profile == "" {
		return facts
	}
	rules := sentence("profile", "RULES", profile)
	rules.Name = "rule profile"
	if !strings.Contains(profile, " loosened to ") { // as inventory.Check.Against writes it
		rules.Goes = 1
	}
	return append(facts, rules)
}

// sentence is a fact in words that somebody wrote, which is never left off: a
// long one has the whole width.
func sentence(field, caption, words string) Fact {
	f := Fact{Field: field, Caption: caption, Words: clean(words), Rank: Middle, Lines: 4}
	if utf8.RuneCountInString(f.Words) > 48 {
		f.Wide, f.Lines = true, mostSentenceLines
	}
	return f
}
