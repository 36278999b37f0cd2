package pages

import (
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// profileEntry reads what every change of a rule profile has in common.
func (in *input) profileEntry(c *gin.Context) inventory.ProfileEntry {
	return inventory.ProfileEntry{Profile: c.Param("id"), Seen: int(in.whole("version")), Person: in.badge(), RequestKey: in.get("request_key")}
}

// editProfile answers POST /profiles/:id.
func (p *Pages) editProfile(c *gin.Context) error {
	in := p.posted(c)
	e, days := in.profileEntry(c), int(in.whole("waiver_days"))
	err := in.err()
	if err == nil {
		_, err = p.Ledger.EditProfile(c.Request.Context(), e, in.get("name"), days)
	}
	return p.profileDone(c, in, err, func(page *ProfilePage) *Form { return page.Settings })
}

// setLimit answers POST /profiles/:id/limits.
func (p *Pages) setLimit(c *gin.Context) error {
	in := p.posted(c)
	change := inventory.LimitChange{ProfileEntry: in.profileEntry(c), Value: in.get("value"), Condition: in.get("condition"), Action: fit.Outcome(in.get("action")), Reason: in.get("reason")}
	err := in.err()
	if err == nil {
		change.Line, err = p.lineOf(c, in, &change)
	}
	if err == nil {
		_, err = p.Ledger.SetLimit(c.Request.Context(), change)
	}
	return p.profileDone(c, in, err, func(page *ProfilePage) *Form { return page.Limit })
}

// lineOf reads which line is set; a new one stands after the last.
func (p *Pages) lineOf(c *gin.Context, in *input, change *inventory.LimitChange) (int, error) {
	if in.get("line") != "new" {
		n, err := strconv.Atoi(in.get("line"))
		if err != nil {
			return 0, inventory.Invalidf("value", "choose the line to change anew")
		}
		return n, nil
	}
	rule, parameter, ok := strings.Cut(in.get("kind"), " ")
	if !ok {
		return 0, inventory.Invalidf("kind", "choose what it limits")
	}
	change.Rule, change.Parameter = fit.Rule(rule), parameter
	r, err := p.Ledger.Profile(c.Request.Context(), c.Param("id"))
	change.Seen = r.Version // the line's number is that version's
	return len(r.Limits), err
}

// confirmLimit answers POST /profiles/:id/confirm.
func (p *Pages) confirmLimit(c *gin.Context) error {
	in := p.posted(c)
	e, line := in.profileEntry(c), int(in.whole("line"))
	err := in.err()
	if err == nil {
		_, err = p.Ledger.ConfirmLimit(c.Request.Context(), e, line)
	}
	return p.profileDone(c, in, err, func(page *ProfilePage) *Form { return page.Confirm })
}

// profileDone answers a change of a profile: the page with what was wrong on
// the form, or the profile as it is now.
func (p *Pages) profileDone(c *gin.Context, in *input, err error, form func(*ProfilePage) *Form) error {
	if err == nil {
		return seeOther(c, "/profiles/"+c.Param("id")+"?done=kept")
	}
	if !again(err) {
		return err
	}
	page, errPage := p.profilePage(c, in.get("line"))
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	if f := form(page); f != nil {
		*f = f.filled(in.get, err)
	}
	return p.show(c, page.Trouble.status(), "profile", page)
}
