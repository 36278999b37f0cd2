package pages

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// ClockView is a spool's exposure clock in words.
type ClockView struct {
	inventory.Exposure
	Exposed string // "62 h 5 min", or that nobody knows
	State   string // "The clock runs", "The clock stands"
	Limits  []ClockLimit
	Spans   []ClockSpan // the latest first
}

// ClockLimit is one limit on exposure.
type ClockLimit struct {
	Allowed, Past, Left string
	RunsOut             time.Time
	Passed, Known       bool
	Source              string
}

// ClockSpan is one interval of the clock.
type ClockSpan struct {
	exposure.Interval
	Place, Long string
}

// newClock writes the clock; nil of a sealed spool whose package is whole.
func newClock(e inventory.Exposure, n names) *ClockView {
	if e.OpenedAt.IsZero() && !e.Unknown {
		return nil
	}
	v := &ClockView{Exposure: e, Exposed: inventory.HoursText(e.Exposed), State: "The clock stands"}
	switch {
	case e.Unknown:
		v.Exposed, v.State = "not known", "The package was damaged while it was sealed: the exposure meets no limit. Take a fresh spool. "+strings.TrimSuffix(e.Remedy, ".")
	case e.Runs:
		v.State = "The clock runs"
	}
	for _, l := range e.Limits {
		limit := ClockLimit{Allowed: inventory.HoursText(l.After), Past: "cautions", Left: inventory.HoursText(l.Left), RunsOut: l.RunsOut, Passed: l.Left < 0, Known: !e.Unknown,
			Source: string(l.Demanded.Provenance) + ": " + l.Demanded.Source}
		if l.Outcome == fit.Stops {
			limit.Past = "stops"
		}
		v.Limits = append(v.Limits, limit)
	}
	for _, in := range e.Intervals {
		place := "out of the store"
		if in.Place != "" {
			place = name(n.places, inventory.Code(in.Place))
		}
		v.Spans = append([]ClockSpan{{in, place, inventory.HoursText(in.To.Sub(in.From))}}, v.Spans...)
	}
	return v
}

// dryFields are those of a drying of the wire.
func dryFields(w inventory.Wire, places []inventory.Place) []Field {
	material := Field{Name: "material", Label: "The spool itself is of", Type: "select", Required: true, Options: options("Look at the spool", inventory.SpoolMaterials()), Hint: "Plastic and fibre are not heated"}
	if known := w.SpoolMaterial(); known.Material != "" {
		material.Required = false
		material.Options[0].Label = sentence(string(known.Material)) + ", as is known of it"
		material.Hint = "Known: " + known.Source + ". Say so if the spool is of something else"
	}
	oven, then := placeField(places, "", true), placeField(places, "", false)
	oven.Name, oven.Label, oven.Hint = "oven", "Oven", "The place where it was dried"
	then.Hint = "Where it was put then. Left open, it is still in the oven"
	return []Field{oven,
		{Name: "dried_from", Label: "Into the oven at", Type: "datetime-local", Required: true},
		{Name: "effective_at", Label: "Out of the oven at", Type: "datetime-local", Hint: "Leave empty for now"},
		{Name: "heat", Label: "Temperature that it held", Type: "text", Required: true, Hint: "With its scale: 110 °C or 230 °F"},
		{Name: "held_h", Label: "Hours at that temperature", Type: "text", Required: true, Hint: "Such as 6 or 6.5, without the heating up"},
		material,
		{Name: "confirmed", Label: "Who says that it may be dried", Type: "text", Hint: "Only where the data sheet does not say how often"},
		then}
}

// redryFields are those of a drying that is set right.
func redryFields(w inventory.Wire, places []inventory.Place, history []HistoryLine) []Field {
	wrong := Field{Name: "corrects", Label: "The drying that was entered wrong", Type: "select", Required: true}
	for _, h := range history {
		if h.Type == inventory.Dried {
			wrong.Options = append(wrong.Options, Option{Value: strconv.FormatInt(h.Seq, 10), Label: fmt.Sprintf("%d: %s", h.Seq, h.Says)})
		}
	}
	if len(wrong.Options) == 0 {
		return nil
	}
	fields := dryFields(w, places)
	fields = fields[:len(fields)-1] // where it was put then is corrected by itself
	for i := range fields {
		if fields[i].Name == "effective_at" {
			fields[i].Name, fields[i].Hint, fields[i].Required = "dried_until", "", true
		}
	}
	return append(append([]Field{wrong}, fields...), reasonField("What was wrong and how you know. Both entries are kept. The welding engineer decides"))
}

// redry reads how a drying really was.
func (in *input) redry() *inventory.Dry {
	d := in.dry(inventory.Entry{})
	d.At, d.Place = in.when("dried_until"), ""
	if d.At.IsZero() {
		in.fault("dried_until", "give when it came out of the oven")
	}
	return &d
}

// dry reads a drying.
func (in *input) dry(e inventory.Entry) inventory.Dry {
	d := inventory.Dry{Entry: e, From: in.when("dried_from"), Oven: in.code("oven", inventory.PlaceCode), Place: in.code("place", inventory.PlaceCode),
		Material: inventory.SpoolMaterial(in.get("material")), Confirmed: in.get("confirmed")}
	var err error
	if d.Heat, err = unit.ParseCelsius(in.get("heat")); err != nil {
		in.fault("heat", err.Error())
	}
	hours, err := strconv.ParseFloat(strings.Replace(in.get("held_h"), ",", ".", 1), 64)
	if err != nil || hours <= 0 || hours > 1000 {
		in.fault("held_h", "give the hours, such as 6 or 6.5")
	} else {
		d.Held = time.Duration(hours * float64(time.Hour)).Truncate(time.Second)
	}
	return d
}
