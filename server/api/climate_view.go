package api

import (
	"context"
	"strconv"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
)

// ClimateView is how a place stands now.
type ClimateView struct {
	Code    string       `json:"code"`
	Name    string       `json:"name"`
	DryKept bool         `json:"dry_kept"`
	Version int          `json:"version" doc:"Of the place: setting its limits names it."`
	Dry     bool         `json:"dry" doc:"Whether it is dry now. A dry-kept place without limits is dry by declaration."`
	Cause   string       `json:"cause,omitempty" doc:"Why a dry-kept place is not dry."`
	Limits  *limitsView  `json:"limits,omitempty" doc:"In force now; left out where the place is dry by declaration, or not dry-kept."`
	Latest  []latestView `json:"latest" doc:"What each logger said last."`
}

type latestView struct {
	Logger       string    `json:"logger"`
	At           time.Time `json:"at"`
	TemperatureC float64   `json:"temperature_c"`
	RHPct        float64   `json:"rh_pct"`
	DewPointC    *float64  `json:"dew_point_c,omitempty" doc:"Left out where the formula does not hold."`
}

func viewClimate(p inventory.PlaceClimate, at time.Time) ClimateView {
	cause := p.CauseAt(at)
	v := ClimateView{Code: string(p.Code), Name: p.Name, DryKept: p.DryKept, Version: p.Version, Dry: p.DryKept && cause == 0, Cause: cause.String(), Latest: make([]latestView, len(p.Latest))}
	if l := p.InForce(at); !l.Declared() {
		limits := viewLimits(l)
		v.Limits = &limits
	}
	for i, r := range p.Latest {
		v.Latest[i] = latestView{r.Logger, r.At, r.Air.Temperature.Degrees(), r.Air.Humidity.Percents(), nil}
		if dew, err := r.Air.DewPoint(); err == nil {
			degrees := dew.Degrees()
			v.Latest[i].DewPointC = &degrees
		}
	}
	return v
}

type climateSpans struct {
	ClimateView
	Formula string      `json:"formula" doc:"By which the dew points are computed."`
	From    time.Time   `json:"from"`
	To      time.Time   `json:"to"`
	NotDry  []undryView `json:"not_dry" doc:"When it was not dry, in order."`
	Means   []meanView  `json:"means" doc:"Readings summed up: by the hour up to 31 days, beyond by the day."`
}

type undryView struct {
	From  time.Time `json:"from"`
	To    time.Time `json:"to"`
	Cause string    `json:"cause"`
}

func viewUndry(u exposure.Undry) undryView { return undryView{u.From, u.To, u.Cause.String()} }

type meanView struct {
	Logger       string    `json:"logger"`
	From         time.Time `json:"from"`
	Readings     int       `json:"readings"`
	LowestC      float64   `json:"lowest_c"`
	MeanC        float64   `json:"mean_c"`
	HighestC     float64   `json:"highest_c"`
	LowestRHPct  float64   `json:"lowest_rh_pct"`
	MeanRHPct    float64   `json:"mean_rh_pct"`
	HighestRHPct float64   `json:"highest_rh_pct"`
}

func viewMean(m inventory.ClimateMean) meanView {
	return meanView{m.Logger, m.From, m.Readings, m.Lowest.Degrees(), m.Mean.Degrees(), m.Highest.Degrees(), m.Driest.Percents(), m.MeanHum.Percents(), m.Dampest.Percents()}
}

// hoursUpTo is how long a stretch may be that is answered by the hour.
const hoursUpTo = 31 * 24 * time.Hour

// climate answers GET /climate/{code}: the last seven days, if nothing else is
// asked.
func (h *handlers) climate(ctx context.Context, in *struct {
	Code string    `path:"code"`
	From time.Time `query:"from" doc:"Left out: seven days before the end."`
	To   time.Time `query:"to" doc:"Left out: now."`
}) (*bodyOf[climateSpans], error) {
	code, err := inventory.ParseCode(in.Code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	to := in.To
	if to.IsZero() {
		to = h.Now().UTC().Truncate(time.Second)
	}
	from := in.From
	if from.IsZero() {
		from = to.Add(-7 * 24 * time.Hour)
	}
	length := inventory.ByHour
	if to.Sub(from) > hoursUpTo {
		length = inventory.ByDay
	}
	c := h.Catalog(ctx)
	p, err := c.PlaceClimate(code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	undry, err := c.Undry(code, from, to)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	means, err := c.ClimateMeans(code, length, from, to)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := climateSpans{ClimateView: viewClimate(p, h.Now()), Formula: exposure.Formula, From: from, To: to, NotDry: make([]undryView, len(undry)), Means: make([]meanView, len(means))}
	for i, u := range undry {
		v.NotDry[i] = viewUndry(u)
	}
	for i, m := range means {
		v.Means[i] = viewMean(m)
	}
	return body(v), nil
}

func itoa(n int) string { return strconv.Itoa(n) }
