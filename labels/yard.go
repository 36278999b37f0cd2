package labels

import (
	"strings"

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
			{Field: "name", Words: said(p.Name, string(p.Code)), Rank: Huge},
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
			{Field: "name", Words: said(f.Name, string(f.Code)), Rank: Huge},
			{Field: "polarities", Caption: "GIVES", Words: said(strings.Join(gives, ", "), "not known"), Rank: Big, Goes: 1, Small: true},
		}}
}

// Badge returns the badge of a person.
func (s Shop) Badge(p inventory.Person) Label {
	return Label{Kind: KindBadge, Title: "BADGE", Code: string(p.Code), bars: true,
		Offline: []string{string(p.Code)}, Needed: 1, // a badge says nothing more to a phone
		Facts: []Fact{
			{Field: "name", Words: said(p.Name, string(p.Code)), Rank: Huge},
			{Field: "role", Words: clean(string(p.Role)), Rank: Big, Goes: 1, Small: true},
		}}
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
		Facts: []Fact{{Field: "number", Words: said(j.Number, string(j.Code)), Beside: j.Name, Rank: Huge}}}
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
	add("polarity", "", "POLARITY", asked["polarity"], Big, 6)
	add("gas", "", "GAS", gas, Big, 5)
	add("passes", "", "PASSES", asked["passes"], Big, 4)
	add("classification", "class", "CLASS", asked["classification"], Middle, 3)
	add("diameter", "", "DIAM.", asked["diameter"], Middle, 2)
	add("positions", "", "POS.", asked["positions"], Middle, 1)
	return l
}
