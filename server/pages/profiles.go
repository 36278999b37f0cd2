package pages

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// ProfilesPage lists the rule profiles that a job may name.
type ProfilesPage struct {
	Base
	Lines []ProfileLine
	Form  Form
}

// ProfileLine is a rule profile with what a list says of it.
type ProfileLine struct {
	inventory.RuleProfile
	From    string // the original's name; empty if it came with the program
	Differs int    // in how many lines from its original
	Looser  int    // of those, how many let something pass
	Open    int    // limits from memory or practice that nobody has confirmed
}

func (p *Pages) profileLine(r inventory.RuleProfile, all []inventory.RuleProfile) ProfileLine {
	line := ProfileLine{RuleProfile: r}
	if i := slices.IndexFunc(all, func(o inventory.RuleProfile) bool { return o.ID == r.Base }); i >= 0 && r.Shop() {
		line.From = all[i].Name
	}
	for _, d := range p.Ledger.ProfileDifferences(r) {
		line.Differs++
		if d.Looser {
			line.Looser++
		}
	}
	for _, l := range r.Limits {
		if unconfirmed(l) {
			line.Open++
		}
	}
	return line
}

// unconfirmed reports whether a limit is one that somebody in the shop should
// look up and confirm.
func unconfirmed(l fit.Limit) bool {
	return l.Parameter != waiverLine && l.ConfirmedBy == "" && (l.Provenance == filler.Memory || l.Provenance == filler.Practice)
}

const waiverLine = "waiver"

// profiles answers GET /profiles.
func (p *Pages) profiles(c *gin.Context) error {
	page, err := p.profilesPage(c)
	if err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "profiles", page)
}

func (p *Pages) profilesPage(c *gin.Context) (*ProfilesPage, error) {
	all, err := p.Ledger.Profiles(c.Request.Context())
	if err != nil {
		return nil, err
	}
	page := &ProfilesPage{Base: p.base(c, "Rule profiles", "waivers")}
	options := []Option{{Label: "Choose a profile"}}
	for _, r := range all {
		page.Lines = append(page.Lines, p.profileLine(r, all))
		options = append(options, Option{Value: r.ID, Label: r.Name, Chosen: r.ID == c.Query("from")})
	}
	page.Form = Form{Name: "copy", Action: "/profiles", Submit: "Copy it", Hidden: []Hidden{{"request_key", p.NewKey()}}}.fields(
		badgeField(""), Field{Name: "from", Label: "Copy of", Type: "select", Required: true, Options: options},
		Field{Name: "name", Label: "Name", Type: "text", Required: true, Hint: "The shop's own, such as \"Structural steel, our limits\""})
	return page, nil
}

// copyProfile answers POST /profiles.
func (p *Pages) copyProfile(c *gin.Context) error {
	in := p.posted(c)
	e := inventory.ProfileEntry{Profile: in.get("from"), Person: in.badge(), RequestKey: in.get("request_key")}
	if e.Profile == "" {
		in.fault("from", "choose the profile to copy")
	}
	err := in.err()
	var copied inventory.RuleProfile
	if err == nil {
		copied, err = p.Ledger.CopyProfile(c.Request.Context(), e, in.get("name"))
	}
	if err == nil {
		return seeOther(c, "/profiles/"+copied.ID+"?done=copied")
	}
	if !again(err) {
		return err
	}
	page, errPage := p.profilesPage(c)
	if errPage != nil {
		return errPage
	}
	page.Trouble, page.Form = trouble(c, err), page.Form.filled(in.get, err)
	return p.show(c, page.Trouble.status(), "profiles", page)
}

// ProfilePage is one rule profile: its limits, how it differs from its
// original, and who changed what.
type ProfilePage struct {
	Base
	Profile     ProfileLine
	Differences []fit.Difference
	Limits      []LimitRow
	Waivers     []LimitRow // the lines that say what may be waived
	Usual       fit.Limit  // who says so of most of them
	Changes     []inventory.ProfileChange
	Chosen      string // which line is being changed; empty if none is
	Limit       *Form  // of the chosen line, or of a new one
	Confirm     *Form  // where the chosen line can be confirmed
	Settings    *Form  // nil where the profile came with the program
	Days        int    // the longest waiver
}

// LimitRow is one line of a rule profile.
type LimitRow struct {
	fit.Limit
	Line   int
	Change string // the address where it is changed; empty where it is not
	Open   bool   // nobody in the shop has confirmed it
}

// Does says what going past the limit does.
func (l LimitRow) Does() string {
	switch {
	case l.Parameter == waiverLine && l.Value == "yes":
		return "may be waived"
	case l.Parameter == waiverLine:
		return "is never waived"
	case l.Action == fit.Caution:
		return "caution"
	case l.Open:
		return "caution, until the shop confirms it"
	}
	return "stops"
}

// profile answers GET /profiles/:id.
func (p *Pages) profile(c *gin.Context) error {
	page, err := p.profilePage(c, c.Query("line"))
	if err != nil {
		return err
	}
	if done := c.Query("done"); done != "" {
		page.Flash = page.Profile.Title() + " is kept."
	}
	return p.show(c, http.StatusOK, "profile", page)
}

func (p *Pages) profilePage(c *gin.Context, chosen string) (*ProfilePage, error) {
	ctx, id := c.Request.Context(), c.Param("id")
	all, err := p.Ledger.Profiles(ctx)
	if err != nil {
		return nil, err
	}
	r, err := p.Ledger.Profile(ctx, id)
	if err != nil {
		return nil, err
	}
	page := &ProfilePage{Base: p.base(c, r.Name, "waivers"), Profile: p.profileLine(r, all), Differences: p.Ledger.ProfileDifferences(r),
		Days: int(r.LongestWaiver().Hours() / 24)}
	if page.Changes, err = p.Catalog(ctx).ProfileChanges(id, 100); err != nil {
		return nil, err
	}
	for i, l := range r.Limits {
		row := LimitRow{Limit: l, Line: i, Open: unconfirmed(l)}
		if r.Shop() {
			row.Change = fmt.Sprintf("/profiles/%s?line=%d#change", id, i)
		}
		if l.Parameter == waiverLine {
			page.Waivers = append(page.Waivers, row)
			continue
		}
		page.Limits = append(page.Limits, row)
	}
	page.Usual = usual(page.Waivers)
	if r.Shop() {
		p.addProfileForms(page, r, all, chosen)
	}
	return page, nil
}

// usual returns the authority that most of the lines share, so that it is said
// once.
func usual(rows []LimitRow) (l fit.Limit) {
	count := map[string]int{}
	for _, r := range rows {
		if count[r.Source]++; count[r.Source] > count[l.Source] || l.Source == "" {
			l = r.Limit
		}
	}
	return l
}

// addProfileForms adds what changes a profile of the shop.
func (p *Pages) addProfileForms(page *ProfilePage, r inventory.RuleProfile, all []inventory.RuleProfile, chosen string) {
	form := func(name, path, submit string, fields ...Field) *Form {
		f := Form{Name: name, Action: "/profiles/" + r.ID + path, Submit: submit,
			Hidden: []Hidden{{"request_key", p.NewKey()}, {"version", strconv.Itoa(r.Version)}, {"line", chosen}}}.fields(append([]Field{badgeField("")}, fields...)...)
		return &f
	}
	page.Settings = form("settings", "", "Keep it", Field{Name: "name", Label: "Name", Type: "text", Value: r.Name, Required: true},
		Field{Name: "waiver_days", Label: "Longest waiver, in days", Type: "text", Value: strconv.Itoa(page.Days), Required: true, Hint: "1 to 30; 30 days is common practice, no code's figure"})
	n, err := strconv.Atoi(chosen)
	switch {
	case chosen == "new":
		page.Chosen = "a further limit"
		page.Limit = form("limit", "/limits", "Add the limit", append([]Field{kindField(all)}, limitFields(fit.Limit{})...)...)
	case err == nil && n >= 0 && n < len(r.Limits):
		l := r.Limits[n]
		page.Chosen = l.About()
		page.Limit = form("limit", "/limits", "Set the limit", limitFields(l)...)
		if unconfirmed(l) {
			page.Confirm = form("confirm", "/confirm", "I have looked it up: it holds here")
		}
	}
}

// kindField asks which limit is added: one of those that some profile has.
func kindField(all []inventory.RuleProfile) Field {
	f := Field{Name: "kind", Label: "Limit", Type: "select", Required: true, Options: []Option{{Label: "Choose what it limits"}}}
	seen := map[string]bool{waiverLine: true}
	for _, r := range all {
		for _, l := range r.Limits {
			kind := string(l.Rule) + " " + l.Parameter
			if l.Parameter == waiverLine || seen[kind] {
				continue
			}
			seen[kind] = true
			f.Options = append(f.Options, Option{Value: kind, Label: fmt.Sprintf("%s, such as %s", l.About(), l.Value)})
		}
	}
	return f
}

// limitFields ask for what a line of a profile says.
func limitFields(l fit.Limit) []Field {
	reason := Field{Name: "reason", Label: "Reason", Type: "text", Hint: "Only where it is looser than the original: the welding engineer gives it, and it goes on every issue slip"}
	if l.Parameter == waiverLine {
		return []Field{{Name: "value", Label: "May be waived", Type: "select", Required: true, Options: []Option{{"yes", "yes, by the welding engineer", l.Value == "yes"}, {"no", "no, never", l.Value == "no"}}}, reason}
	}
	conditions := []Option{{"", "always", l.Condition == ""}}
	for _, condition := range knownConditions(l.Condition) {
		conditions = append(conditions, Option{condition, "only: " + condition, l.Condition == condition})
	}
	value := Field{Name: "value", Label: "Value", Type: "text", Value: l.Value, Required: true, Hint: "With its unit, as 5 mph, 72 h or 12 months"}
	switch {
	case l.Value == "":
		value.Hint += "; or in the words of those that are there"
	case inWordsAlone(l.Parameter):
		value = Field{Name: "value", Label: "Value", Type: "select", Required: true, Options: []Option{{l.Value, l.Value, true}}, Hint: "It has no figure: what going past it does is what can be changed"}
	}
	return []Field{
		value,
		{Name: "condition", Label: "When it holds", Type: "select", Options: conditions},
		{Name: "action", Label: "Going past it", Type: "select", Required: true, Options: []Option{
			{string(fit.Stops), "stops", l.Action != fit.Caution}, {string(fit.Caution), "is a caution", l.Action == fit.Caution}}},
		reason}
}

// inWordsAlone reports whether a limit is written in words that are always the same.
func inWordsAlone(parameter string) bool {
	_, plates := fit.PlateWords(parameter, fit.Stops)
	return plates || slices.Contains([]string{"prequalified_single_pass", "intermix_proof", "certificate", "matching"}, parameter)
}

// knownConditions lists the conditions of one word, and own if it is longer.
func knownConditions(own string) []string {
	out := []string{fit.OnlyFluxCored, fit.AllButSolid, fit.OnlySolid, fit.OnlyStainless, fit.AllButStainless, fit.OnlyInFoil, fit.AllButInFoil, fit.OnlyPrequalified, fit.OnlyToughness, fit.OnlyDated}
	if own != "" && !slices.Contains(out, own) {
		out = append([]string{own}, out...)
	}
	return out
}
