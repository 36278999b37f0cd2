package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/spreadsheet"
	"wirehold/inventory/unit"
)

// mostReadingsBody is the most that a batch of readings may hold, in bytes.
const mostReadingsBody = 2 << 20

func (h *handlers) registerClimate(a huma.API) {
	huma.Get(a, "/api/v1/climate", func(ctx context.Context, _ *struct{}) (*bodyOf[listOf[ClimateView]], error) {
		places, err := h.Catalog(ctx).PlaceClimates()
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return list(places, func(p inventory.PlaceClimate) ClimateView { return viewClimate(p, h.Now()) }), nil
	})
	huma.Get(a, "/api/v1/climate/{code}", h.climate)
	huma.Put(a, "/api/v1/climate/{code}/limits", h.setLimits, func(o *huma.Operation) {
		o.Summary = "Set what a dry-kept place has to keep"
		o.Description = "From an instant on. With no humidity and no temperature the place is dry by declaration. The version is the place's."
		o.MaxBodyBytes = MaxBody
	})
	huma.Post(a, "/api/v1/climate/readings", h.takeReadings, func(o *huma.Operation) {
		o.Summary = "Send readings, one or up to 10,000"
		o.Description = "In any order and however late, up to 400 days: a logger's card of a winter is taken. A reading is known by its place, logger and instant: one that is there already changes nothing, and with other values it is a conflict. All are kept, or none."
		o.MaxBodyBytes = mostReadingsBody
	})
	huma.Post(a, "/api/v1/climate/readings/import", h.importReadings, func(o *huma.Operation) {
		o.Summary = "Send a logger's table"
		o.Description = "The body is the file itself: CSV in UTF-8 or XLSX, at most 5 MB and 30,000 rows. Columns: at, temperature_c or temperature_f, rh_pct, and logger and place where the query does not name them. All rows are kept, or none: then each fault names its line and column."
		o.MaxBodyBytes = mostImportBody
		table := &huma.MediaType{Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}
		o.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{
			"text/csv": table, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": table}}
	})
}

// LimitsFields is what a place has to keep. It is exported because the
// description of the API is derived from exported fields alone.
type LimitsFields struct {
	MaxRHPct   *float64 `json:"max_rh_pct,omitempty" minimum:"0" maximum:"100"`
	LowestC    *float64 `json:"lowest_c,omitempty"`
	HighestC   *float64 `json:"highest_c,omitempty"`
	MaxGapS    int64    `json:"max_gap_s" minimum:"0" doc:"How long one reading speaks for the place: 60 to 604800."`
	Source     string   `json:"source" maxLength:"120" doc:"Where the limits come from."`
	Provenance string   `json:"provenance,omitempty" enum:"published,memory,practice,data sheet,shop" doc:"Left out for the shop's own."`
}

type limitsEdit struct {
	EditSeen
	LimitsFields
	From *time.Time `json:"in_force_from,omitempty" doc:"Since when; left out for now."`
}

func (b limitsEdit) entryOf(f *faults, code inventory.Code) inventory.ClimateLimitsEntry {
	e := inventory.ClimateLimitsEntry{Edit: b.read(f, b.Version), Place: code}
	if b.From != nil {
		e.Limits.From = *b.From
	}
	e.Limits.MaxGap, e.Limits.Source, e.Limits.Provenance = time.Duration(b.MaxGapS)*time.Second, b.Source, filler.Provenance(b.Provenance)
	e.Limits.MaxHumidity = plain(f, "max_rh_pct", b.MaxRHPct, unit.HumidityOf)
	e.Limits.Lowest = plain(f, "lowest_c", b.LowestC, unit.CelsiusOf)
	e.Limits.Highest = plain(f, "highest_c", b.HighestC, unit.CelsiusOf)
	return e
}

// setLimits answers PUT /climate/{code}/limits, of a place or a feeder.
func (h *handlers) setLimits(ctx context.Context, in *changes[limitsEdit]) (*bodyOf[ClimateView], error) {
	var f faults
	code, err := inventory.ParseCode(in.Code)
	f.add("code", err)
	e := in.Body.entryOf(&f, code)
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	if _, err := h.Ledger.SetClimateLimits(ctx, e); err != nil {
		return nil, h.fail(ctx, err)
	}
	p, err := h.Catalog(ctx).PlaceClimate(code)
	return answered(ctx, h, p, err, func(p inventory.PlaceClimate) ClimateView { return viewClimate(p, h.Now()) })
}

// plain reads a plain number whose field names its unit; nil for none.
func plain[T any](f *faults, field string, v *float64, of func(float64) (T, bool)) *T {
	if v == nil {
		return nil
	}
	q, ok := of(*v)
	if !ok {
		f.add(field, inventory.Invalidf(field, "there is no such value"))
	}
	return &q
}

type limitsView struct {
	LimitsFields
	From time.Time `json:"in_force_from"`
}

func viewLimits(l inventory.ClimateLimits) limitsView {
	v := limitsView{From: l.From, LimitsFields: LimitsFields{MaxGapS: int64(l.MaxGap / time.Second), Source: l.Source, Provenance: string(l.Provenance)}}
	if l.MaxHumidity != nil {
		percent := l.MaxHumidity.Percents()
		v.MaxRHPct = &percent
	}
	if l.Lowest != nil {
		degrees := l.Lowest.Degrees()
		v.LowestC = &degrees
	}
	if l.Highest != nil {
		degrees := l.Highest.Degrees()
		v.HighestC = &degrees
	}
	return v
}

type readingBody struct {
	Place        string    `json:"place" doc:"The code of the place or feeder."`
	Logger       string    `json:"logger" minLength:"1" maxLength:"60" doc:"Which logger or gauge measured it."`
	At           time.Time `json:"at" doc:"When it was measured."`
	TemperatureC float64   `json:"temperature_c"`
	RHPct        float64   `json:"rh_pct" minimum:"0" maximum:"100"`
}

func (h *handlers) takeReadings(ctx context.Context, in *struct {
	Body struct {
		Person   string        `json:"person" doc:"The badge code of whoever sends them: of a logger, whoever answers for it."`
		Readings []readingBody `json:"readings" minItems:"1" maxItems:"10000"`
	}
}) (*bodyOf[takenView], error) {
	var f faults
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	f.add("person", err)
	e := inventory.ReadingsEntry{Person: person, Way: inventory.ByAPI, Readings: make([]inventory.PlacedReading, len(in.Body.Readings))}
	for i, r := range in.Body.Readings {
		e.Readings[i] = r.reading(&f, "readings/"+itoa(i))
	}
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	taken, err := h.Ledger.TakeReadings(ctx, e)
	return answered(ctx, h, taken, err, viewTaken)
}

// reading reads the body; where says which of the batch it is.
func (b readingBody) reading(f *faults, where string) inventory.PlacedReading {
	out := inventory.PlacedReading{Where: where, Reading: exposure.Reading{Logger: b.Logger, At: b.At}}
	code, err := inventory.ParseCode(b.Place)
	if out.Place = code; err != nil {
		*f = append(*f, inventory.FieldFault{Field: where + "/place", Detail: err.Error()})
	}
	var warm, damp bool
	if out.Air.Temperature, warm = unit.CelsiusOf(b.TemperatureC); !warm {
		*f = append(*f, inventory.FieldFault{Field: where + "/temperature_c", Detail: "there is no such temperature"})
	}
	if out.Air.Humidity, damp = unit.HumidityOf(b.RHPct); !damp {
		*f = append(*f, inventory.FieldFault{Field: where + "/rh_pct", Detail: "a relative humidity is between 0 and 100"})
	}
	return out
}

type takenView struct {
	Kept  int `json:"kept" doc:"How many were new."`
	Known int `json:"known" doc:"How many were there already."`
}

func viewTaken(t inventory.ReadingsTaken) takenView { return takenView{t.Kept, t.Known} }

func (h *handlers) importReadings(ctx context.Context, in *struct {
	Person  string `query:"person" required:"true" doc:"The badge code of whoever sends it."`
	Place   string `query:"place" doc:"The place of rows that name none."`
	Logger  string `query:"logger" maxLength:"60" doc:"The logger of rows that name none."`
	Zone    string `query:"zone" default:"UTC" doc:"Of instants without a zone: Europe/Lisbon."`
	File    string `query:"file" maxLength:"100" doc:"The file's name."`
	RawBody []byte `contentType:"text/csv"`
}) (*bodyOf[takenView], error) {
	var f faults
	person, err := codeOf(inventory.PersonCode, "person", in.Person)
	f.add("person", err)
	var place inventory.Code
	if in.Place != "" {
		place, err = inventory.ParseCode(in.Place)
		f.add("place", err)
	}
	zone, err := time.LoadLocation(in.Zone)
	if err != nil {
		f.add("zone", inventory.Invalidf("zone", "there is no such time zone: give one such as Europe/Lisbon"))
	}
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	file, err := spreadsheet.ReadUpTo(in.RawBody, inventory.MostTableReadings)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	table := inventory.ReadReadings(file.Rows, place, in.Logger, zone)
	if err := table.Err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	taken, err := h.Ledger.TakeReadings(ctx, inventory.ReadingsEntry{Person: person, Way: inventory.ByFile, File: in.File, SHA256: file.SHA256, Readings: table.Readings})
	return answered(ctx, h, taken, err, viewTaken)
}
