package pages

import (
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// atFeeder reads the slots of a form at the feeder. Where no badge was scanned
// it was typed into the form, as person.
func (in *input) atFeeder() (slots, error) {
	s, err := readSlots(in.get)
	if s.Badge == "" {
		s.Badge = in.badge()
	}
	return s, err
}

// loadSpool answers POST /load: the spool goes on the feeder.
func (p *Pages) loadSpool(c *gin.Context) error {
	in := p.posted(c)
	s, err := in.atFeeder()
	o := inventory.Load{Entry: inventory.Entry{Spool: s.Spool, Person: s.Badge, RequestKey: in.get("request_key")}, Feeder: s.Feeder, Job: s.Job}
	for _, part := range inventory.SettingParts() {
		if says := in.get(inventory.SettingField(part)); says != "" {
			o.Confirmed = append(o.Confirmed, inventory.Confirmation{Part: part, Says: says})
		}
	}
	if err == nil {
		err = in.err()
	}
	if err == nil {
		_, err = p.Ledger.Load(c.Request.Context(), o)
	}
	if err != nil {
		return p.loadAgain(c, s, in, err)
	}
	return seeOther(c, "/load"+slots{Badge: s.Badge, Feeder: s.Feeder}.query("done", string(s.Spool)))
}

// unloadSpool answers POST /load/unload: the spool comes off the feeder, and
// the one that was scanned may go on.
func (p *Pages) unloadSpool(c *gin.Context) error {
	in := p.posted(c)
	s, err := in.atFeeder()
	off := in.code("off", inventory.SpoolCode)
	if err == nil {
		err = in.err()
	}
	if err == nil {
		_, err = p.Ledger.Unload(c.Request.Context(), inventory.Entry{Spool: off, Person: s.Badge, RequestKey: in.get("request_key")})
	}
	if err != nil {
		return p.loadAgain(c, s, in, err)
	}
	return seeOther(c, "/load"+slots{Badge: s.Badge, Feeder: s.Feeder, Spool: s.Spool}.query("done", string(off)))
}

// loadAgain answers a form at the feeder that failed: the page as it was, with
// what was ticked and why.
func (p *Pages) loadAgain(c *gin.Context, s slots, in *input, err error) error {
	if !again(err) {
		return err
	}
	if in.get("badge") == "" {
		s.Badge = "" // it was typed into the form, and stands there again
	}
	page, errPage := p.loadPage(c, s)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	if page.Load != nil && page.Load.Form != nil && in.get("off") == "" {
		page.Load.Form.filled(in.get, err)
	}
	if page.Feeder != nil && page.Feeder.Unload != nil && in.get("off") != "" {
		form := page.Feeder.Unload.filled(in.get, err)
		page.Feeder.Unload = &form
	}
	return p.show(c, page.Trouble.status(), "load", page)
}

// filled marks what was ticked and what was wrong.
func (f *LoadForm) filled(typed func(string) string, err error) {
	f.Wrong = true
	faults := faultsOf(err)
	for i := range f.Ticks {
		tick := &f.Ticks[i]
		tick.Checked = typed(tick.Name) == tick.Says
		if faults[tick.Name] != "" {
			tick.Fault = "look at the machine, then tick this"
		}
	}
	if f.Badge != nil {
		f.Badge.Value, f.Badge.Fault = typed("person"), faults["person"]
	}
	for i := range f.Hidden {
		if value := typed(f.Hidden[i].Name); value != "" {
			f.Hidden[i].Value = value
		}
	}
}
