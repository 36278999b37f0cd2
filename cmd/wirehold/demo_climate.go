package main

import (
	"fmt"
	"math"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

// demoWeeks is how long the demo's loggers have been sending.
const demoWeeks = 4

// readClimate gives the dry cabinets limits and a few weeks of invented hourly
// readings: the first was left open one evening and lost its logger for a day,
// and of its two loggers one fell silent; the second behaves. A cold shelf and a warm bay have loggers too, so that a
// spool of that shelf is cautioned against.
func (h *history) readClimate() error {
	end := h.end.Truncate(time.Hour)
	start := end.Add(-demoWeeks * 7 * inventory.ByDay)
	engineer, attendant := h.yard.withRole(inventory.Engineer)[0], h.yard.withRole(inventory.Attendant)[0]
	h.clock = h.end
	for _, place := range h.yard.places {
		if place.Kind != inventory.DryCabinet {
			continue
		}
		damp, low, high := 40*unit.Percent, 20*unit.Degree, 45*unit.Degree
		if _, err := h.yard.ledger.SetClimateLimits(h.ctx, inventory.ClimateLimitsEntry{Place: place.Code,
			Edit:   inventory.Edit{Person: engineer.Code, RequestKey: "demo-limits-" + string(place.Code), Version: 1},
			Limits: inventory.ClimateLimits{Source: "invented manual of the cabinet", Limits: exposure.Limits{From: start, MaxHumidity: &damp, Lowest: &low, Highest: &high, MaxGap: 24 * time.Hour}}}); err != nil {
			return fmt.Errorf("limits of %s: %w", place.Name, err)
		}
	}
	for i, of := range []struct {
		place  inventory.Code
		logger string
		air    func(hour int) (exposure.Air, bool)
	}{
		{h.yard.placeNamed("Dry cabinet 1"), "logger D1", h.troubled},
		{h.yard.placeNamed("Dry cabinet 2"), "logger D2", h.calm},
		{h.yard.placeNamed("Dry cabinet 1"), "logger D3", h.silent},
		{h.yard.placeNamed("Shelf B2"), "logger S4", func(hour int) (exposure.Air, bool) { return h.air(hour, 9, 64), true }},
		{h.yard.feeders[0].Code, "logger F1", func(hour int) (exposure.Air, bool) { return h.air(hour, 23, 58), true }},
	} {
		var readings []inventory.PlacedReading
		for hour := range demoWeeks*7*24 + 1 {
			if air, sent := of.air(hour); sent {
				readings = append(readings, inventory.PlacedReading{Place: of.place, Where: fmt.Sprint("reading ", hour), Reading: exposure.Reading{Logger: of.logger, At: start.Add(time.Duration(hour) * time.Hour), Air: air}})
			}
		}
		if _, err := h.yard.ledger.TakeReadings(h.ctx, inventory.ReadingsEntry{Person: attendant.Code, Way: inventory.ByAPI, Readings: readings}); err != nil {
			return fmt.Errorf("readings %d: %w", i, err)
		}
	}
	return nil
}

// troubled is the air of a cabinet whose door stood open for nine hours, six
// days ago, and whose logger was flat for 40 hours, twelve days ago.
func (h *history) troubled(hour int) (exposure.Air, bool) {
	left := demoWeeks*7*24 - hour
	air, _ := h.calm(hour)
	switch {
	case left >= 140 && left < 149:
		air = h.air(hour, 24, 56)
	case left >= 280 && left < 320:
		return air, false
	}
	return air, true
}

// silent is the second logger of that cabinet: it was hung up eight days
// ago and its battery ran out two days ago.
func (h *history) silent(hour int) (exposure.Air, bool) {
	left := demoWeeks*7*24 - hour
	air, _ := h.troubled(hour)
	return air, left >= 50 && left < 200
}

func (h *history) calm(hour int) (exposure.Air, bool) { return h.air(hour, 32, 24), true }

// air is air about a mean, warmer by day, with a little noise.
func (h *history) air(hour int, degrees, percent float64) exposure.Air {
	day := math.Sin(2 * math.Pi * float64(hour%24-9) / 24)
	t, _ := unit.CelsiusOf(math.Round(10*(degrees+1.5*day+h.rand.Float64()-0.5)) / 10)
	rh, _ := unit.HumidityOf(math.Round(10*(percent-3*day+2*h.rand.Float64()-1)) / 10)
	return exposure.Air{Temperature: t, Humidity: rh}
}

// placeNamed returns the code of a place; empty if there is none.
func (y *yard) placeNamed(name string) inventory.Code {
	for _, p := range y.places {
		if p.Name == name {
			return p.Code
		}
	}
	return ""
}
