package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// PlacesPage lists places, feeders and people with their codes, so that each
// can be typed where there is no label to scan.
type PlacesPage struct {
	Base
	Places  []inventory.Place
	Feeders []FeederLine
	People  []inventory.Person
}

// FeederLine is a feeder in words.
type FeederLine struct {
	inventory.Feeder
	Gives string // polarities; "not known"
	Runs  string // gas
	Takes string // diameters
}

// places answers GET /places.
func (p *Pages) places(c *gin.Context) error {
	cat := p.Catalog(c.Request.Context())
	page := PlacesPage{Base: p.base(c, "Places and people", "places")}
	all, err := cat.Places()
	if err != nil {
		return err
	}
	for _, place := range all {
		if place.Kind != inventory.AtFeeder {
			page.Places = append(page.Places, place)
		}
	}
	feeders, err := cat.Feeders()
	if err != nil {
		return err
	}
	for _, f := range feeders {
		page.Feeders = append(page.Feeders, feederLine(f))
	}
	if page.People, err = cat.People(); err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "places", page)
}

func feederLine(f inventory.Feeder) FeederLine {
	line := FeederLine{Feeder: f, Gives: joined(f.Polarities), Runs: gasWords(f.Gas)}
	for i, d := range f.Diameters {
		if i > 0 {
			line.Takes += ", "
		}
		line.Takes += d.Inches()
	}
	if line.Gives == "" {
		line.Gives = "not known"
	}
	if line.Takes == "" {
		line.Takes = "not known"
	}
	return line
}
