package pages

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// AlertsPage lists what somebody must see to, then what was cleared.
type AlertsPage struct {
	Base
	Tabs     []NavItem
	Kinds    []Option
	Kind     string // the one that is shown; empty is all
	Standing []AlertLine
	More     bool // there are more that stand than are shown
	Cleared  []AlertLine
	List     List // of the cleared ones
	Dead     int  // messages that were given up
	NoShifts bool // no end of a shift is set
}

// AlertLine is an alert with the page of what it is about.
type AlertLine struct {
	inventory.Alert
	Title string
	Tone  string // of its shape: caution or stop
	Href  string
	To    string // what is there: "the spool"
}

func alertLine(a inventory.Alert) AlertLine {
	line := AlertLine{Alert: a, Title: a.Kind.Title(), Tone: "caution"}
	if a.Kind.Urgent() {
		line.Tone = "stop"
	}
	line.Href, line.To = subjectPage(a)
	return line
}

// subjectPage returns the address of what the alert is about.
func subjectPage(a inventory.Alert) (href, to string) {
	switch a.Kind.About() {
	case inventory.AboutWire:
		return "/wires/" + a.Subject, "the wire"
	case inventory.AboutLot:
		return "/lots/" + a.Subject, "the lot"
	case inventory.AboutPlace, inventory.AboutLogger:
		return "/climate/" + string(a.Place()), "its climate"
	case inventory.AboutWeek:
		return "/waivers?state=standing", "the waivers"
	}
	return "/spools/" + a.Subject, "the spool"
}

// alertTabs leads between the alerts and how they reach people.
func alertTabs(active string) []NavItem {
	tabs := []NavItem{{Key: "alerts", Href: "/alerts", Label: "Alerts"}, {Key: "messages", Href: "/messages", Label: "Messages"},
		{Key: "told", Href: "/told", Label: "Who is told"}, {Key: "webhooks", Href: "/webhooks", Label: "Webhooks"}, {Key: "shop", Href: "/shop", Label: "Shifts and hours"}}
	for i := range tabs {
		tabs[i].Current = tabs[i].Key == active
	}
	return tabs
}

// alerts answers GET /alerts.
func (p *Pages) alerts(c *gin.Context) error {
	cat, kind, after := p.Catalog(c.Request.Context()), inventory.AlertKind(c.Query("kind")), listQuery(c).After
	page := AlertsPage{Base: p.base(c, "Alerts", "alerts"), Tabs: alertTabs("alerts"), Kind: string(kind)}
	counts, err := cat.CountAlerts()
	if err != nil {
		return err
	}
	page.Kinds = alertKindOptions(kind, counts)
	standing, err := cat.Alerts(inventory.AlertQuery{Kind: kind, Limit: mostLines})
	if err != nil {
		return err
	}
	cleared, err := cat.Alerts(inventory.AlertQuery{Kind: kind, Cleared: true, Limit: perPage + 1, After: after})
	if err != nil {
		return err
	}
	for _, a := range standing {
		page.Standing = append(page.Standing, alertLine(a))
	}
	slices.SortStableFunc(page.Standing, func(a, b AlertLine) int { return strings.Compare(b.Tone, a.Tone) }) // stop before caution
	page.More = len(standing) == mostLines
	cleared, page.List = paged("/alerts", inventory.Query{After: after}, cleared)
	page.List.Prev, page.List.Next = ofKind(page.List.Prev, kind), ofKind(page.List.Next, kind)
	for _, a := range cleared {
		page.Cleared = append(page.Cleared, alertLine(a))
	}
	if _, page.Dead, err = cat.CountMessages(); err != nil {
		return err
	}
	shop, err := cat.Shop()
	if err != nil {
		return err
	}
	page.NoShifts = len(shop.ShiftEnds) == 0
	return p.show(c, http.StatusOK, "alerts", page)
}

// ofKind keeps the kind in the address of another page of the list.
func ofKind(address string, kind inventory.AlertKind) string {
	u, err := url.Parse(address)
	if err != nil || address == "" || kind == "" {
		return address
	}
	q := u.Query()
	q.Set("kind", string(kind))
	u.RawQuery = q.Encode()
	return u.String()
}

func alertKindOptions(chosen inventory.AlertKind, counts map[inventory.AlertKind]int) []Option {
	all := 0
	for _, n := range counts {
		all += n
	}
	out := []Option{{Label: "every kind (" + strconv.Itoa(all) + ")"}}
	for _, k := range inventory.AlertKinds() {
		out = append(out, Option{string(k), k.Title() + " (" + strconv.Itoa(counts[k]) + ")", k == chosen})
	}
	return out
}

// AlertPage is one alert: who saw it, and who was told.
type AlertPage struct {
	Base
	Alert    AlertLine
	Form     *Form // says that somebody saw it; nil once it is cleared
	Messages []MessageRow
}

// alert answers GET /alerts/:id.
func (p *Pages) alert(c *gin.Context) error {
	page, err := p.alertPage(c)
	if err != nil {
		return err
	}
	if c.Query("done") != "" {
		page.Flash = "It is kept that you saw it."
	}
	return p.show(c, http.StatusOK, "alert", page)
}

func (p *Pages) alertPage(c *gin.Context) (*AlertPage, error) {
	id, err := number(c, "id")
	if err != nil {
		return nil, err
	}
	cat := p.Catalog(c.Request.Context())
	a, err := cat.Alert(id)
	if err != nil {
		return nil, err
	}
	page := &AlertPage{Base: p.base(c, a.Kind.Title(), "alerts"), Alert: alertLine(a)}
	messages, err := cat.Messages(inventory.MessageQuery{Alert: id, Limit: mostLines})
	if err != nil {
		return nil, err
	}
	for _, m := range messages {
		page.Messages = append(page.Messages, messageRow(m))
	}
	if a.ClearedAt.IsZero() {
		f := Form{Name: "seen", Action: "/alerts/" + strconv.FormatInt(id, 10) + "/seen", Submit: "I have seen it"}.fields(badgeField(c.Query("badge")))
		page.Form = &f
	}
	return page, nil
}

// seeAlert answers POST /alerts/:id/seen.
func (p *Pages) seeAlert(c *gin.Context) error {
	page, err := p.alertPage(c)
	if err != nil {
		return err
	}
	in := p.posted(c)
	badge := in.badge()
	if err = in.err(); err == nil {
		if _, err = p.Ledger.SeeAlert(c.Request.Context(), page.Alert.ID, badge); err == nil {
			return saved(c, "/alerts/"+c.Param("id"), 1, badge)
		}
	}
	if !again(err) {
		return err
	}
	page.Trouble = trouble(c, err)
	if page.Form != nil {
		f := page.Form.filled(in.get, err)
		page.Form = &f
	}
	return p.show(c, page.Trouble.status(), "alert", page)
}
