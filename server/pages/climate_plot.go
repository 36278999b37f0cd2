package pages

import (
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// climatePlot is what the plots of a place draw. Instants are seconds since
// 1970; null is no reading.
type climatePlot struct {
	Zone    string       `json:"zone,omitempty"` // of the shop; empty is the reader's own
	At      []int64      `json:"at"`
	Loggers []loggerPlot `json:"loggers"`
	MaxRH   *float64     `json:"max_rh_pct"`
	Lowest  *float64     `json:"lowest_c"`
	Highest *float64     `json:"highest_c"`
	NotDry  [][2]int64   `json:"not_dry"`
}

type loggerPlot struct {
	Name    string     `json:"name"`
	Driest  []*float64 `json:"lowest_rh_pct"`
	Dampest []*float64 `json:"highest_rh_pct"`
	Coldest []*float64 `json:"lowest_c"`
	Warmest []*float64 `json:"highest_c"`
	Dew     []*float64 `json:"dew_point_c"` // of the mean
}

// hoursPlotted is how long a stretch may be that is drawn by the hour, and
// mostPlotted how many sums of all loggers together a plot draws.
const hoursPlotted, mostPlotted = 31 * inventory.ByDay, 15_000

// plotStep returns what a plot of a stretch sums up by, for so many loggers.
func plotStep(length time.Duration, loggers int) time.Duration {
	steps := []time.Duration{inventory.ByHour, inventory.ByDay, 7 * inventory.ByDay, 28 * inventory.ByDay}
	if length > hoursPlotted {
		steps = steps[1:]
	}
	for _, step := range steps {
		if (int(length/step)+2)*loggers <= mostPlotted {
			return step
		}
	}
	return steps[len(steps)-1]
}

// plotClimate answers GET /climate/:code/plot.
func (p *Pages) plotClimate(c *gin.Context) error {
	place, err := p.climateAt(c)
	if err != nil {
		return err
	}
	_, _, length := climateRange(c)
	to, step := p.Now().UTC().Truncate(time.Second), plotStep(length, len(place.Latest))
	from := unixStep(to.Add(-length), step)
	cat := p.Catalog(c.Request.Context())
	means, err := cat.ClimateMeans(place.Code, step, from, to)
	if err != nil {
		return err
	}
	plot := climatePlot{At: []int64{}, Loggers: []loggerPlot{}, NotDry: [][2]int64{}}
	if place.DryKept {
		undry, err := cat.Undry(place.Code, from, to)
		if err != nil {
			return err
		}
		for _, u := range undry {
			plot.NotDry = append(plot.NotDry, [2]int64{u.From.Unix(), u.To.Unix()})
		}
	}
	if zone := p.Zone.String(); zone != "Local" {
		plot.Zone = zone
	}
	limits := place.InForce(to)
	if limits.MaxHumidity != nil {
		plot.MaxRH = plain(limits.MaxHumidity.Percents())
	}
	if limits.Lowest != nil {
		plot.Lowest = plain(limits.Lowest.Degrees())
	}
	if limits.Highest != nil {
		plot.Highest = plain(limits.Highest.Degrees())
	}
	plot.add(means, to, step)
	c.Header("Cache-Control", "no-store")
	c.JSON(http.StatusOK, plot)
	return nil
}

// unixStep returns the instant at which the step that holds t began, counted
// from 1970 as sums are.
func unixStep(t time.Time, step time.Duration) time.Time {
	s := int64(step / time.Second)
	return time.Unix(t.Unix()/s*s, 0).UTC()
}

// add puts the means on a grid of steps from the first of them, so that a gap
// in the readings is a gap in the line.
func (plot *climatePlot) add(means []inventory.ClimateMean, to time.Time, step time.Duration) {
	if len(means) == 0 {
		return
	}
	from := means[0].From
	n := int(to.Sub(from)/step) + 1
	for i := range n {
		plot.At = append(plot.At, from.Add(time.Duration(i)*step).Unix())
	}
	at := map[string]int{}
	for _, m := range means {
		i, seen := at[m.Logger]
		if !seen {
			i = len(plot.Loggers)
			at[m.Logger] = i
			plot.Loggers = append(plot.Loggers, loggerPlot{m.Logger, make([]*float64, n), make([]*float64, n), make([]*float64, n), make([]*float64, n), make([]*float64, n)})
		}
		l, k := &plot.Loggers[i], int(m.From.Sub(from)/step)
		l.Driest[k], l.Dampest[k] = plain(m.Driest.Percents()), plain(m.Dampest.Percents())
		l.Coldest[k], l.Warmest[k] = plain(m.Lowest.Degrees()), plain(m.Highest.Degrees())
		if dew, ok := dewOf(m); ok {
			l.Dew[k] = plain(dew.Degrees())
		}
	}
}

// dewOf returns the dew point of the mean.
func dewOf(m inventory.ClimateMean) (unit.Celsius, bool) {
	dew, err := m.Air().DewPoint()
	return dew, err == nil
}

func plain(v float64) *float64 { return &v }
