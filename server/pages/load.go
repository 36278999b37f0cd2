package pages

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/labels"
)

// LoadPage is the load check at the feeder: may this spool go on it, and how is
// the machine set.
type LoadPage struct {
	Base
	Desk    Desk
	Feeder  *OnFeeder  // nil until one is scanned
	Load    *LoadView  // nil until feeder and spool are known
	Feeders []OnFeeder // all of them, while none is scanned

	Languages Languages
}

// OnFeeder is a feeder with what is on it.
type OnFeeder struct {
	inventory.Feeder
	On     *inventory.SpoolLine // nil if nothing is
	Clock  *CardClock           // of what is on it; nil where it is not asked
	Unload *Form                // takes it off; nil where it is not asked
}

// LoadView is the answer at the feeder with all that is to be set.
type LoadView struct {
	Verdict Verdict
	Bar     string     // why it cannot be loaded whatever the rules say; empty if it can
	Checked string     // job, procedure and rule profile; empty if no job is known
	Clock   *CardClock // how long the spool may stay out; nil if it is not known
	Form    *LoadForm
}

// LoadForm is the form that loads a spool: a tick for each setting.
type LoadForm struct {
	Heading string
	Lang    fit.Language // of heading and submit; empty is the page's own, English
	Hidden  []Hidden
	Ticks   []Tick
	Badge   *Field // nil if a badge was scanned
	Submit  string
	Wrong   bool
}

// Tick is a setting that the welder makes and confirms.
type Tick struct {
	fit.Setting             // in English: what is ticked, and kept
	Shown       fit.Setting // the same in the reader's language
	PartName    string
	Known       string       // "data sheet", "memory"
	Lang        fit.Language // of Shown; empty is the page's own, English
	Name        string
	Checked     bool
	Fault       string
}

// load answers GET /load.
func (p *Pages) load(c *gin.Context) error {
	s, moved, err := p.scanned(c)
	if moved {
		return seeOther(c, "/load"+s.query())
	}
	if err != nil && !again(err) {
		return err
	}
	page, errPage := p.loadPage(c, s)
	if errPage != nil {
		return errPage
	}
	if err != nil {
		page.Desk.Fault = detailOf(err)
		return p.show(c, trouble(c, err).status(), "load", page)
	}
	if page.Flash, err = p.loadedNow(c, c.Query("done")); err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "load", page)
}

// loadedNow says where the spool is whose code is given; empty if text names
// none.
func (p *Pages) loadedNow(c *gin.Context, text string) (string, error) {
	code, err := labels.ReadCode(inventory.SpoolCode, text)
	if err != nil {
		return "", nil // no code in the address: nothing to tell
	}
	line, err := p.Catalog(c.Request.Context()).SpoolLine(code)
	switch {
	case inventory.KindOf(err) == inventory.NotFound:
		return "", nil
	case err != nil:
		return "", err
	case line.Loaded():
		return "Spool " + string(code) + " is on " + line.PlaceName + ". Its set-up is confirmed and kept.", nil
	}
	return "Spool " + string(code) + " is off the feeder. It stays out for job " + line.JobNumber + " until it is returned.", nil
}

// loadPage returns the page with the slots s on it.
func (p *Pages) loadPage(c *gin.Context, s slots) (*LoadPage, error) {
	s.Place, s.Welder = "", ""
	cat := p.Catalog(c.Request.Context())
	t, err := s.lookUp(cat)
	if err != nil {
		return nil, err
	}
	page := &LoadPage{Base: p.base(c, "Load check", "load"), Desk: loadDesk(s, t), Languages: languages(c, "/load", s)}
	on, err := loadedOn(cat)
	if err != nil {
		return nil, err
	}
	if t.feeder == nil {
		feeders, err := cat.Feeders()
		for _, f := range feeders {
			page.Feeders = append(page.Feeders, OnFeeder{Feeder: f, On: on[f.Code]})
		}
		return page, err
	}
	page.Feeder = &OnFeeder{Feeder: *t.feeder, On: on[s.Feeder]}
	if now := page.Feeder.On; now != nil {
		form := p.unloadForm(s, now.Code)
		page.Feeder.Unload = &form
		if page.Feeder.Clock, err = p.cardClock(c, now.Code); err != nil {
			return nil, err
		}
	}
	if t.spool != nil {
		page.Load, err = p.loadView(c, s, t)
	}
	return page, err
}

// loadedOn returns the spools that are on feeders, by feeder.
func loadedOn(cat Catalog) (map[inventory.Code]*inventory.SpoolLine, error) {
	lines, err := cat.LoadedSpools()
	on := make(map[inventory.Code]*inventory.SpoolLine, len(lines))
	for i := range lines {
		on[lines[i].Feeder] = &lines[i]
	}
	return on, err
}

// loadDesk is the desk of the load check: feeder and spool are due; a job is
// scanned only to make sure.
func loadDesk(s slots, t things) Desk {
	d := newDesk("/load", s, t, "feeder", "spool", "job", "badge")
	d.Due, d.Next = false, Tag{}
	for i := range d.Tags {
		tag := &d.Tags[i]
		tag.Due = i < 2
		switch i {
		case 0:
			tag.Help = "The code on the machine begins with F. Scan the spool before or after it."
		case 2:
			tag.Help = "Without one, it is the job that the spool is out for."
		case 3:
			tag.Label = "Loaded by"
		}
		if tag.Due && tag.Code == "" && !d.Due {
			d.Next, d.Due = *tag, true
		}
	}
	return d
}

// loadView returns the load check of spool and feeder.
func (p *Pages) loadView(c *gin.Context, s slots, t things) (*LoadView, error) {
	l, of := language(c), "Spool "+string(s.Spool)+" on "+t.feeder.Name
	barred := Verdict{Word: strings.ToUpper(l.ToLoad(false)), Tone: "stop", Of: of, Barred: true, Lang: langOf(l)}
	check, err := p.Ledger.LoadCheck(c.Request.Context(), s.Feeder, s.Spool, s.Job)
	if inventory.KindOf(err) == inventory.Refused || inventory.KindOf(err) == inventory.NotFound {
		return &LoadView{Verdict: barred, Bar: sentence(detailOf(err))}, nil
	}
	if err != nil {
		return nil, err
	}
	v := &LoadView{Verdict: newVerdictIn(l, check.Verdict), Clock: newCardClock(check.Card)}
	v.Verdict.Of = of
	if check.Job.Code != "" {
		v.Checked = "job " + check.Job.Number + ", " + check.Procedure.Name() + ", " + check.Profile.Name
	}
	if check.Bar != nil {
		v.Bar, v.Verdict.Why = sentence(detailOf(check.Bar)), "" // rules come after what bars it
	}
	if !check.May() {
		v.Verdict.Word, v.Verdict.Tone, v.Verdict.Barred = barred.Word, barred.Tone, true
		return v, nil
	}
	v.Verdict.Word = strings.ToUpper(l.ToLoad(true))
	v.Form = p.loadForm(l, s, t, check)
	return v, nil
}

func (p *Pages) loadForm(l fit.Language, s slots, t things, check inventory.LoadCheck) *LoadForm {
	f := &LoadForm{Hidden: append(s.hidden(), Hidden{"request_key", p.NewKey()}), Lang: langOf(l)}
	f.Heading, f.Submit = l.SetUp()
	for _, setting := range check.Settings {
		f.Ticks = append(f.Ticks, Tick{Setting: setting, Shown: setting.In(l), PartName: setting.Part.In(l), Known: l.Known(setting.Provenance), Lang: langOf(l), Name: inventory.SettingField(setting.Part)})
	}
	if t.badge == nil {
		badge := badgeField("")
		badge.Form = "load"
		f.Badge = &badge
	}
	return f
}

func (p *Pages) unloadForm(s slots, spool inventory.Code) Form {
	f := Form{Name: "unload", Action: "/load/unload", Submit: "Unload " + string(spool),
		Hidden: []Hidden{{"off", string(spool)}, {"feeder", string(s.Feeder)}, {"spool", string(s.Spool)}, {"request_key", p.NewKey()}}}
	if s.Badge != "" {
		f.Hidden = append(f.Hidden, Hidden{"badge", string(s.Badge)})
		return f
	}
	return f.fields(badgeField(""))
}
