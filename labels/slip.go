package labels

import "wirehold/inventory/unit"

// Slip is the issue slip that goes out with a spool on paper: the same numbers
// as the screen shows, for when the network is down.
type Slip struct {
	Spool   Spool // what its label says
	Job     string
	Taker   string
	Net     unit.Grams
	Package string   // "open since 2026-11-25 07:10"
	Verdict string   // of the fit check
	Checked string   // what it was checked against
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
		l.Facts = append(l.Facts, Fact{Field: "waiver", Caption: "WAIVER", Words: clean(w), Rank: Middle, Lines: 4})
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
	add("checked", "what it was checked against", "BY", s.Checked, 1)
	add("entered", "who issued it when", "ISSUED", s.Entered, 6)
	add("lot", "", "LOT", known(s.Spool.Lot), 3)
	l.Notes = s.Spool.Cautions
	return l, nil
}
