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
	l.Facts = append([]Fact{{Field: "job", Caption: "JOB", Words: said(s.Job, "not known"), Beside: clean(s.Taker), Rank: Huge}}, s.Spool.setting()...)
	l.Facts[1].Rank, l.Facts[1].Words, l.Facts[1].Beside = Big, clean(l.Facts[1].Words+" "+l.Facts[1].Beside), ""
	for _, w := range s.Waivers {
		l.Facts = append(l.Facts, Fact{Field: "waiver", Caption: "WAIVER", Words: clean(w), Rank: Big, Lines: 4})
	}
	l.Facts = append(l.Facts,
		Fact{Field: "net", Name: "wire on it", Caption: "ON IT", Words: s.Net.String() + " (" + s.Net.Pounds() + ")", Rank: Middle},
		Fact{Field: "package", Caption: "PACK", Words: said(s.Package, "not known"), Rank: Middle, Goes: 5},
		Fact{Field: "classification", Name: "class", Caption: "CLASS", Words: known(s.Spool.Classification), Rank: Middle, Goes: 7, Small: true},
		Fact{Field: "diameter", Caption: "DIAM.", Words: s.Spool.diameter(), Rank: Middle, Goes: 4},
		Fact{Field: "verdict", Caption: "VERDICT", Words: said(s.Verdict, "not checked"), Rank: Middle, Lines: 4, Goes: 8, Small: true},
		Fact{Field: "checked", Name: "what it was checked against", Caption: "BY", Words: said(s.Checked, "not known"), Rank: Middle, Lines: 4, Goes: 1},
		Fact{Field: "entered", Name: "who issued it when", Caption: "ISSUED", Words: said(s.Entered, "not known"), Rank: Low, Lines: 2, Goes: 6},
		Fact{Field: "lot", Caption: "LOT", Words: known(s.Spool.Lot), Rank: Low, Lines: 1, Goes: 3})
	l.Notes = s.Spool.Cautions
	return l, nil
}
