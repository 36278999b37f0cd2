package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// AlertsPage lists what somebody must see to, then what was seen to.
type AlertsPage struct {
	Base
	Standing []AlertLine
	Cleared  []AlertLine
}

// AlertLine is an alert with the page of what it is about.
type AlertLine struct {
	inventory.Alert
	Href string
}

// alerts answers GET /alerts.
func (p *Pages) alerts(c *gin.Context) error {
	all, err := p.Catalog(c.Request.Context()).Alerts(true)
	if err != nil {
		return err
	}
	page := AlertsPage{Base: p.base(c, "Alerts", "alerts")}
	for _, a := range all {
		line := AlertLine{a, subjectPage(a)}
		if a.ClearedAt.IsZero() {
			page.Standing = append(page.Standing, line)
		} else {
			page.Cleared = append(page.Cleared, line)
		}
	}
	return p.show(c, http.StatusOK, "alerts", page)
}

// subjectPage returns the address of what the alert is about.
func subjectPage(a inventory.Alert) string {
	switch a.Kind {
	case inventory.ReorderAlert:
		return "/wires/" + a.Subject
	case inventory.WaiverAlert:
		return "/waivers?state=standing"
	}
	return "/spools/" + a.Subject
}
