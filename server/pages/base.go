package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/server/problem"
)

// Base is what every page shows.
type Base struct {
	Title     string
	Nav       []NavItem
	Search    string // what the search box in the header holds
	Demo      string // shown on top where the data are not real
	RequestID string
	Flash     string   // what was just done; empty if nothing
	Trouble   *Trouble // what went wrong with the last input; nil if nothing
}

// NavItem is one entry of the navigation.
type NavItem struct {
	Key, Href, Label string
	Current          bool
}

// Trouble is an error as a page shows it above its form.
type Trouble struct {
	problem.Problem
	Kind     inventory.Kind
	Code     string
	Findings *Verdict // of a refused issue; nil otherwise
}

// navigation lists the pages of the menu in its order.
var navigation = [...]NavItem{
	{Key: "counter", Href: "/counter", Label: "Counter"},
	{Key: "load", Href: "/load", Label: "Load"},
	{Key: "returns", Href: "/returns", Label: "Returns"},
	{Key: "receiving", Href: "/receiving", Label: "Receiving"},
	{Key: "spools", Href: "/spools", Label: "Spools"},
	{Key: "wires", Href: "/wires", Label: "Wires"},
	{Key: "lots", Href: "/lots", Label: "Lots"},
	{Key: "jobs", Href: "/jobs", Label: "Jobs"},
	{Key: "waivers", Href: "/waivers", Label: "Waivers"},
	{Key: "procedures", Href: "/procedures", Label: "Procedures"},
	{Key: "places", Href: "/places", Label: "Places"},
	{Key: "alerts", Href: "/alerts", Label: "Alerts"},
	{Key: "decode", Href: "/decode", Label: "Decode"},
}

// base returns the base of a page titled title, in the part of the menu called
// active; empty if it is in none.
func (p *Pages) base(c *gin.Context, title, active string) Base {
	nav := navigation
	for i := range nav {
		nav[i].Current = nav[i].Key == active
	}
	return Base{Title: title, Nav: nav[:], Demo: p.Demo, RequestID: c.GetString("request_id")}
}

// trouble returns err as a page shows it.
func trouble(c *gin.Context, err error) *Trouble {
	t := &Trouble{
		Problem: problem.From(err, c.GetString("request_id")),
		Kind:    inventory.KindOf(err),
		Code:    inventory.CodeOf(err),
	}
	if findings := findingsOf(err); len(findings) > 0 {
		v := newVerdict(fit.Verdict{Answer: fit.DoesNotFit, Findings: findings})
		t.Findings = &v
	}
	return t
}

// again reports whether a form that failed with err is shown once more with
// what is wrong, rather than an error page.
func again(err error) bool {
	switch inventory.KindOf(err) {
	case inventory.Internal, inventory.Unavailable:
		return false
	}
	return true
}

// status returns the HTTP status that goes with t; 200 if nothing is wrong.
func (t *Trouble) status() int {
	if t == nil {
		return http.StatusOK
	}
	return t.Problem.Status
}
