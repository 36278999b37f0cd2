package pages

import (
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
)

// ClimatesPage lists every place that is dry-kept or has a logger.
type ClimatesPage struct {
	Base
	Dry, Other []ClimateStand
}

// ClimateStand is how a place stands now.
type ClimateStand struct {
	Code   inventory.Code
	Name   string
	Word   string // "dry", "not dry: too damp", "dry by declaration"
	Tone   string // safe, caution or stop
	Limits string
	Latest []LatestReading
}

// LatestReading is what a logger said last, as a page shows it.
type LatestReading struct {
	Logger      string
	At          time.Time
	Temperature string // "21.5 °C"
	Fahrenheit  string // "70.7 °F"
	Humidity    string
	DewPoint    string // empty where the formula does not hold
	Water       string // in a cubic metre
	Breaks      string // which limits it breaks; empty if none
	Silent      string // that it says nothing any more, where others may speak for its place; empty if it does
}

// climates answers GET /climate.
func (p *Pages) climates(c *gin.Context) error {
	places, err := p.Catalog(c.Request.Context()).PlaceClimates()
	if err != nil {
		return err
	}
	page := ClimatesPage{Base: p.base(c, "Climate", "climate")}
	for _, place := range places {
		stand := climateStand(place, p.Now())
		if place.DryKept {
			page.Dry = append(page.Dry, stand)
		} else {
			page.Other = append(page.Other, stand)
		}
	}
	return p.show(c, http.StatusOK, "climates", page)
}

// climateStand says how a place stands at the instant.
func climateStand(place inventory.PlaceClimate, at time.Time) ClimateStand {
	limits := place.InForce(at)
	s := ClimateStand{Code: place.Code, Name: place.Name, Limits: limits.String(), Tone: "safe", Word: "dry"}
	switch cause := place.CauseAt(at); {
	case !place.DryKept:
		s.Word, s.Tone, s.Limits = "not dry-kept", "", ""
	case limits.Declared():
		s.Word, s.Tone = "dry by declaration", "caution"
	case cause != 0:
		s.Word, s.Tone = "not dry: "+cause.String(), "stop"
	}
	for i, r := range place.Latest {
		latest := latestReading(r, limits.Limits)
		if place.Mute(i, at) {
			latest.Silent = "silent: " + gapText(limits.MaxGap) + " is allowed"
			latest.Breaks = "" // it speaks no more
		}
		s.Latest = append(s.Latest, latest)
	}
	return s
}

func latestReading(r exposure.Reading, limits exposure.Limits) LatestReading {
	out := LatestReading{Logger: r.Logger, At: r.At, Temperature: r.Air.Temperature.Tenth(), Fahrenheit: r.Air.Temperature.Fahrenheit(), Humidity: r.Air.Humidity.Tenth(), Breaks: limits.Breaks(r.Air).String()}
	if dew, err := r.Air.DewPoint(); err == nil {
		out.DewPoint = dew.Tenth()
	}
	if water, err := r.Air.AbsoluteHumidity(); err == nil {
		out.Water = water.String()
	}
	return out
}

// ClimatePage is the climate of one place.
type ClimatePage struct {
	Base
	ClimateStand
	Source  string // of the limits, with its provenance
	Since   time.Time
	DryKept bool
	Place   string // address of its own page
	Plot    string // address of what the plot draws; empty where there is nothing
	Range   string // what the tables and the plot are of
	Ranges  []NavItem
	Undry   []UndryRow
	More    int    // spans that are not shown
	Total   string // how long it was not dry
	Sums    []SumRow
	Formula string
	Deeds   []Deed
	Example ClimateExample
}

// UndryRow is a stretch in which the place was not dry.
type UndryRow struct {
	From, To time.Time
	Still    bool // it goes on
	Length   string
	Cause    string
}

// SumRow is one day of one logger.
type SumRow struct {
	Day, Logger string
	Readings    int
	Temperature string // lowest to highest
	Humidity    string
}

// ClimateExample is how a logger sends a reading.
type ClimateExample struct{ Address, Body string }

// climateRanges are the stretches that the page offers.
var climateRanges = [...]struct {
	key, label string
	length     time.Duration
}{{"week", "7 days", 7 * inventory.ByDay}, {"month", "31 days", 31 * inventory.ByDay}, {"year", "1 year", 366 * inventory.ByDay}, {"decade", "10 years", 3653 * inventory.ByDay}}

// climateRange returns the stretch that is asked for: its key, label and
// length.
func climateRange(c *gin.Context) (key, label string, length time.Duration) {
	for _, r := range climateRanges {
		if r.key == c.Query("range") {
			return r.key, r.label, r.length
		}
	}
	return climateRanges[0].key, climateRanges[0].label, climateRanges[0].length
}

// mostUndryRows and mostSumRows are how many lines a page shows.
const mostUndryRows, mostSumRows = 50, 62

// climate answers GET /climate/:code.
func (p *Pages) climate(c *gin.Context) error {
	page, err := p.climatePage(c)
	if err != nil {
		return err
	}
	switch done := c.Query("done"); {
	case done == "limits":
		page.Flash = "The limits are set. They hold from now on, and the place's history keeps who set them."
	case done != "":
		page.Flash = "Kept: " + done + "."
	}
	return p.show(c, http.StatusOK, "climate", page)
}

func (p *Pages) climateAt(c *gin.Context) (inventory.PlaceClimate, error) {
	code, err := inventory.ParseCode(c.Param("code"))
	if err != nil {
		return inventory.PlaceClimate{}, err
	}
	return p.Catalog(c.Request.Context()).PlaceClimate(code)
}

func (p *Pages) climatePage(c *gin.Context) (*ClimatePage, error) {
	place, err := p.climateAt(c)
	if err != nil {
		return nil, err
	}
	key, label, length := climateRange(c)
	now := p.Now().UTC().Truncate(time.Second)
	path := "/climate/" + string(place.Code)
	page := &ClimatePage{Base: p.base(c, "Climate of "+place.Name, "climate"), ClimateStand: climateStand(place, now), DryKept: place.DryKept,
		Place: placePath(place.Code), Range: label, Formula: exposure.Formula, Example: p.climateExample(place.Code)}
	if limits := place.InForce(now); limits.Source != "" {
		page.Source, page.Since = limits.Source+" ("+string(limits.Provenance)+")", limits.From
	}
	for _, r := range climateRanges {
		page.Ranges = append(page.Ranges, NavItem{Href: path + "?range=" + r.key, Label: r.label, Current: r.key == key})
	}
	if err := p.addUndry(c, page, place, now.Add(-length), now); err != nil {
		return nil, err
	}
	if len(place.Latest) > 0 {
		page.Plot = path + "/plot?range=" + key
		if err := p.addSums(c, page, now.Add(-length), now); err != nil {
			return nil, err
		}
	}
	page.Deeds = p.climateDeeds(c, place)
	return page, nil
}

func placePath(code inventory.Code) string {
	if code.Kind() == inventory.FeederCode {
		return "/feeders/" + string(code)
	}
	return "/places/" + string(code)
}

// addUndry adds when the place was not dry, the latest first.
func (p *Pages) addUndry(c *gin.Context, page *ClimatePage, place inventory.PlaceClimate, from, to time.Time) error {
	if !place.DryKept {
		return nil
	}
	undry, err := p.Catalog(c.Request.Context()).Undry(place.Code, from, to)
	if err != nil {
		return err
	}
	total := exposure.Length(exposure.Spans(undry), to)
	if total > 0 {
		page.Total = hoursText(total)
	}
	page.More = max(len(undry)-mostUndryRows, 0)
	for i := len(undry) - 1; i >= page.More; i-- {
		u := undry[i]
		page.Undry = append(page.Undry, UndryRow{u.From, u.To, u.To.Equal(to), hoursText(u.To.Sub(u.From)), sentence(u.Cause.String())})
	}
	return nil
}

// addSums adds the days, the latest first.
func (p *Pages) addSums(c *gin.Context, page *ClimatePage, from, to time.Time) error {
	if shown := to.Add(-mostSumRows * inventory.ByDay); from.Before(shown) {
		from = shown // there are no more rows than days in it
	}
	days, err := p.Catalog(c.Request.Context()).ClimateMeans(page.Code, inventory.ByDay, from.Truncate(inventory.ByDay), to)
	if err != nil {
		return err
	}
	for i := len(days) - 1; i >= 0 && len(page.Sums) < mostSumRows; i-- {
		d := days[i]
		page.Sums = append(page.Sums, SumRow{d.From.Format("2006-01-02"), d.Logger, d.Readings, spread(d.Lowest.Tenth(), d.Highest.Tenth()), spread(d.Driest.Tenth(), d.Dampest.Tenth())})
	}
	return nil
}

// spread writes "20.1 to 23.4 °C" of two quantities of one unit.
func spread(low, high string) string {
	number, _, _ := strings.Cut(low, " ")
	if low == high {
		return high
	}
	return number + " to " + high
}

// hoursText writes a length of time as hours and minutes.
func hoursText(d time.Duration) string {
	if d < time.Hour {
		return durationText(d.Truncate(time.Second))
	}
	d = d.Truncate(time.Minute)
	if d%time.Hour == 0 {
		return durationHours(d)
	}
	return durationHours(d) + " " + durationText(d%time.Hour)
}
