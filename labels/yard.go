package labels

import (
	"strings"
	"unicode/utf8"

	"wirehold/inventory"
)

// Place returns the label of a shelf, cabinet or rack.
func (s Shop) Place(p inventory.Place) Label {
	dry := "not dry-kept: the exposure clock runs"
	if p.DryKept {
		dry = "dry-kept"
	}
	return Label{Kind: KindPlace, Title: "PLACE", Code: string(p.Code), bars: true, Link: s.link("/places/" + string(p.Code)),
		Offline: []string{string(p.Code), "place: " + clean(p.Name), string(p.Kind), dry}, Needed: 1,
		Facts: []Fact{
			heading("name", said(p.Name, string(p.Code))),
			{Field: "kind", Words: clean(string(p.Kind) + ", " + dry), Rank: Big, Goes: 1, Small: true},
		}}
}

// Feeder returns the label of a machine that welds. How it stands is not
// printed: it is set otherwise tomorrow.
func (s Shop) Feeder(f inventory.Feeder) Label {
	var gives []string
	for _, p := range f.Polarities {
		gives = append(gives, string(p))
	}
	return Label{Kind: KindFeeder, Title: "FEEDER", Code: string(f.Code), bars: true, Link: s.link("/feeders/" + string(f.Code)), Aid: "Set polarity and gas by the spool's label, each time.",
		Offline: []string{string(f.Code), "feeder: " + clean(f.Name)}, Needed: 1,
		Facts: []Fact{
			heading("name", said(f.Name, string(f.Code))),
			{Field: "polarities", Caption: "GIVES", Words: said(strings.Join(gives, ", "), "not known"), Rank: Big, Goes: 1, Small: true},
		}}
}

// Badge returns the badge of a person.
func (s Shop) Badge(p inventory.Person) Label {
	return Label{Kind: KindBadge, Title: "BADGE", Code: string(p.Code), bars: true,
		Offline: []string{string(p.Code)}, Needed: 1, // a badge says nothing more to a phone
		Facts: []Fact{
			heading("name", said(p.Name, string(p.Code))),
			{Field: "role", Words: clean(string(p.Role)), Rank: Big, Goes: 1, Small: true},
		}}
}

// How long a name may be, in characters, that heads a label in the largest type
// or the next; and how long one of its words, which nothing parts. mostBeside is
// for what stands beside it.
const (
	mostHuge, mostHugeWord = 40, 16
	mostBigWord            = 24
	mostBeside             = 50
)

// heading is what somebody called a thing, at the head of its label. A long name
// is set smaller, over more lines, rather than that the thing has no label.
func heading(field, words string) Fact {
	words = clean(words)
	longest := 0
	for word := range strings.FieldsSeq(words) {
		longest = max(longest, utf8.RuneCountInString(word))
	}
	switch {
	case utf8.RuneCountInString(words) <= mostHuge && longest <= mostHugeWord:
		return Fact{Field: field, Words: words, Rank: Huge}
	case longest <= mostBigWord:
		return Fact{Field: field, Words: words, Rank: Big, Lines: 4}
	}
	return Fact{Field: field, Words: words, Rank: Middle, Lines: mostSentenceLines, Wide: true}
}

// byProcedure stands for a demand in which the procedures of a job differ.
const byProcedure = "by WPS"

// asked returns what the procedures demand, by its label; [byProcedure] where
// they differ.
func asked(ps []inventory.Procedure) map[string]string {
	out := map[string]string{}
	for i, p := range ps {
		demands := p.Demands()
		if p.Gas != nil && p.Gas.IsNone() {
			demands = append(demands, inventory.Difference{Label: "shielding gas", After: "no gas"})
		}
		own := map[string]string{}
		for _, d := range demands {
			own[d.Label] = d.After
		}
		for label, says := range own {
			if before := out[label]; i > 0 && before != says {
				says = byProcedure
			}
			out[label] = says
		}
	}
	return out
}

// Job returns the traveller of a job welded to the procedures: it goes with the
// work, and what they demand of the wire stands on it.
func (s Shop) Job(j inventory.Job, ps ...inventory.Procedure) Label {
	names := make([]string, len(ps))
	for i, p := range ps {
		names[i] = p.Name()
	}
	procedures := strings.Join(names, ", ")
	l := Label{Kind: KindJob, Title: "JOB", Code: string(j.Code), bars: true, Link: s.link("/jobs/" + string(j.Code)), Aid: decides,
		Facts: []Fact{heading("number", said(j.Number, string(j.Code)))}}
	if work := clean(j.Name); l.Facts[0].Rank == Huge && utf8.RuneCountInString(work) <= mostBeside {
		l.Facts[0].Beside = work
	} else if work != "" {
		l.Facts = append(l.Facts, Fact{Field: "name", Caption: "WORK", Words: work, Rank: Middle, Lines: mostSentenceLines, Wide: true, Goes: 1})
	}
	l.Offline, l.Needed = []string{string(j.Code), "job: " + clean(j.Number), "procedure: " + procedures}, 1
	asked := asked(ps)
	gas := inventory.Spoken(asked["shielding gas"])
	add := func(field, name, caption, words string, r Rank, goes int) {
		if words = clean(words); words != "" {
			l.Facts = append(l.Facts, Fact{Field: field, Name: name, Caption: caption, Words: words, Rank: r, Goes: goes})
			l.Offline = append(l.Offline, field+": "+words)
		}
	}
	add("procedure", "", "WPS", procedures, Big, 7)
	if f := &l.Facts[len(l.Facts)-1]; f.Field == "procedure" && utf8.RuneCountInString(f.Words) > mostHuge {
		f.Rank, f.Wide, f.Lines = Middle, true, mostSentenceLines
	}
	add("polarity", "", "POLARITY", asked["polarity"], Big, 6)
	add("gas", "", "GAS", gas, Big, 5)
	add("passes", "", "PASSES", asked["passes"], Big, 4)
	add("classification", "class", "CLASS", asked["classification"], Middle, 3)
	add("diameter", "", "DIAM.", asked["diameter"], Middle, 2)
	add("positions", "", "POS.", asked["positions"], Middle, 1)
	return l
}
