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
	Nav       []NavGroup
	Here      NavGroup // the group of this page, or the first: its pages stand under the menu
	Search    string   // what the search box in the header holds
	Demo      string   // shown on top where the data are not real
	RequestID string
	Flash     string   // what was just done; empty if nothing
	Trouble   *Trouble // what went wrong with the last input; nil if nothing
}

// Trouble is an error as a page shows it above its form.
type Trouble struct {
	problem.Problem
	Kind     inventory.Kind
	Code     string
	Findings *Verdict // of a refused issue; nil otherwise
}

// base returns the base of a page titled title, in the part of the menu called
// active; empty if it is in none.
func (p *Pages) base(c *gin.Context, title, active string) Base {
	groups, here := menu(active)
	return Base{Title: title, Nav: groups, Here: here, Demo: p.Demo, RequestID: c.GetString("request_id")}
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
