package pages

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/spreadsheet"
	"wirehold/inventory/unit"
)

// byHand is the logger of a reading that somebody takes off a gauge.
const byHand = "gauge, read by hand"

// climateExample says how a logger sends readings.
func (p *Pages) climateExample(code inventory.Code) ClimateExample {
	base := p.Base
	if base == "" {
		base = "http://127.0.0.1:8080"
	}
	return ClimateExample{"POST " + base + "/api/v1/climate/readings",
		fmt.Sprintf(`{"person": "BADGE", "readings": [{"place": %q, "logger": "L1", "at": %q, "temperature_c": 22.5, "rh_pct": 31.0}]}`, code, p.Now().UTC().Format(time.RFC3339))}
}

// climateDeeds are the forms of the page: a reading by hand, a table, limits.
func (p *Pages) climateDeeds(c *gin.Context, place inventory.PlaceClimate) []Deed {
	path, badge := "/climate/"+string(place.Code), badgeField(c.Query("badge"))
	hand := Form{Name: "readings", Action: path + "/readings", Submit: "Keep the reading"}.fields(badge,
		Field{Name: "temperature", Label: "Temperature", Type: "text", Required: true, Hint: "With its scale: 22.5 C or 72 F"},
		Field{Name: "rh", Label: "Relative humidity", Type: "text", Required: true, Hint: "In percent: 31"},
		Field{Name: "logger", Label: "Gauge or logger", Type: "text", Suggest: loggerNames(place), Hint: "Leave empty for a gauge that hangs there"},
		Field{Name: "at", Label: "When it was read", Type: "datetime-local", Hint: "Leave empty for now"})
	table := Form{Name: "import", Action: path + "/import", Submit: "Keep the readings", Upload: true}.fields(badge,
		Field{Name: "file", Label: "Table of readings", Type: "file", Required: true, Accept: ".csv,.tsv,.txt,.xlsx", Hint: "CSV or XLSX, at most 30,000 rows. Columns: at, temperature_c or temperature_f, rh_pct, and logger where there are several"},
		Field{Name: "logger", Label: "Logger", Type: "text", Suggest: loggerNames(place), Hint: "Where no column names it"})
	deeds := []Deed{{Name: "readings", Title: "Enter a reading by hand", Form: hand}, {Name: "import", Title: "Upload a logger's table", Form: table}}
	if place.DryKept {
		deeds = append(deeds, Deed{Name: "limits", Title: "Set its limits", Form: p.limitsForm(c, place)})
	}
	return deeds
}

func loggerNames(place inventory.PlaceClimate) (names []string) {
	for _, r := range place.Latest {
		names = append(names, r.Logger)
	}
	return names
}

// limitsForm asks what the place has to keep. Limits that somebody prints are
// offered to start from: each is a link to the same page with the form filled
// in, so that it works without script.
func (p *Pages) limitsForm(c *gin.Context, place inventory.PlaceClimate) Form {
	path := "/climate/" + string(place.Code)
	form := p.recordForm("limits", path+"/limits", "Set the limits", place.Version)
	now, gap := place.InForce(p.Now()), "24 h"
	chosen := c.Query("fill")
	for _, o := range inventory.LimitOffers() {
		if o.Row == chosen {
			now, form.Open = o.Limits, true
		}
		q := url.Values{"fill": {o.Row}}
		for _, keep := range []string{"range", "badge"} {
			if v := c.Query(keep); v != "" {
				q.Set(keep, v)
			}
		}
		form.Offers = append(form.Offers, FormOffer{sentence(o.Limits.String()), o.Limits.Source, path + "?" + q.Encode() + "#limits-max_rh_pct"})
	}
	form.Note = "Printed for stores of unopened wire. The maker of the wire or of the cabinet may ask for more."
	if !now.Declared() {
		gap = gapText(now.MaxGap)
	}
	return form.fields(workBadge(c),
		Field{Name: "max_rh_pct", Label: "Highest relative humidity", Type: "text", Value: quantity(now.MaxHumidity), Hint: "In percent: 40. Leave all three empty to declare the place dry without a logger"},
		Field{Name: "lowest", Label: "Lowest temperature", Type: "text", Value: quantity(now.Lowest), Hint: "With its scale: 15 C or 60 F"},
		Field{Name: "highest", Label: "Highest temperature", Type: "text", Value: quantity(now.Highest), Hint: "With its scale: 45 C or 110 F"},
		Field{Name: "max_gap", Label: "Longest gap between readings", Type: "text", Value: gap, Required: true, Hint: "Silence beyond it counts as exposure: 90 min or 24 h"},
		Field{Name: "source", Label: "Where the limits come from", Type: "text", Value: now.Source, Required: true, Hint: "The maker's sheet, the cabinet's manual, or the shop's own rule"})
}

// quantity writes a limit as it is typed; empty for none.
func quantity[T fmt.Stringer](v *T) string {
	if v == nil {
		return ""
	}
	return strings.TrimSuffix((*v).String(), " %RH")
}

// gapText writes a gap as it is typed.
func gapText(d time.Duration) string {
	if d%time.Hour == 0 {
		return durationHours(d)
	}
	return strconv.Itoa(int(d/time.Minute)) + " min"
}

func durationHours(d time.Duration) string { return strconv.Itoa(int(d/time.Hour)) + " h" }

// humidity reads a relative humidity, with or without the sign; nil if the
// field is empty.
func (in *input) humidity(field string) *unit.Humidity {
	text := in.get(field)
	if text == "" {
		return nil
	}
	h, err := unit.ParseHumidity(strings.TrimSuffix(text, "%") + "%")
	if err != nil {
		in.fault(field, "give a number from 0 to 100, such as 40")
	}
	return &h
}

// celsius reads a temperature with its scale; nil if the field is empty.
func (in *input) celsius(field string) *unit.Celsius {
	text := in.get(field)
	if text == "" {
		return nil
	}
	t, err := unit.ParseCelsius(text)
	if err != nil {
		in.fault(field, "give a number with its scale, such as 22.5 C or 72 F")
	}
	return &t
}

// gap reads a length of time: "90 min" or "24 h".
func (in *input) gap(field string) time.Duration {
	text := strings.ToLower(strings.ReplaceAll(in.get(field), " ", ""))
	for _, u := range []struct {
		word   string
		length time.Duration
	}{{"minutes", time.Minute}, {"min", time.Minute}, {"hours", time.Hour}, {"hour", time.Hour}, {"h", time.Hour}, {"days", inventory.ByDay}, {"d", inventory.ByDay}} {
		if number, ok := strings.CutSuffix(text, u.word); ok {
			if n, err := strconv.Atoi(number); err == nil && n > 0 && n < 100_000 {
				return time.Duration(n) * u.length
			}
		}
	}
	in.fault(field, "give a length of time such as 90 min or 24 h")
	return 0
}

// saveLimits answers POST /climate/:code/limits.
func (p *Pages) saveLimits(c *gin.Context) error {
	place, err := p.climateAt(c)
	if err != nil {
		return err
	}
	in := p.posted(c)
	e := inventory.ClimateLimitsEntry{Edit: in.edit(), Place: place.Code, Limits: inventory.ClimateLimits{Provenance: filler.Shop, Source: in.get("source"),
		Limits: exposure.Limits{MaxHumidity: in.humidity("max_rh_pct"), Lowest: in.celsius("lowest"), Highest: in.celsius("highest"), MaxGap: in.gap("max_gap")}}}
	if inventory.IsOffered(e.Limits) {
		e.Limits.Provenance = filler.Published
	}
	if err = in.err(); err == nil {
		if _, err = p.Ledger.SetClimateLimits(c.Request.Context(), e); err == nil {
			return seeOther(c, "/climate/"+string(place.Code)+slots{Badge: e.Person}.query("done", "limits"))
		}
	}
	return p.climateAgain(c, "limits", in, err)
}

// saveReading answers POST /climate/:code/readings: one, by hand.
func (p *Pages) saveReading(c *gin.Context) error {
	place, err := p.climateAt(c)
	if err != nil {
		return err
	}
	in := p.posted(c)
	r := inventory.PlacedReading{Place: place.Code, Where: "reading", Reading: exposure.Reading{Logger: in.get("logger"), At: in.when("at")}}
	if r.Logger == "" {
		r.Logger = byHand
	}
	if r.At.IsZero() {
		r.At = p.Now()
	}
	t, h, badge := in.celsius("temperature"), in.humidity("rh"), in.badge()
	if t == nil {
		in.fault("temperature", "give the temperature")
	}
	if h == nil {
		in.fault("rh", "give the relative humidity")
	}
	if err = in.err(); err == nil {
		r.Air = exposure.Air{Temperature: *t, Humidity: *h}
		err = p.takeReadings(c, badge, inventory.ByHand, upload{}, "", []inventory.PlacedReading{r})
	}
	if err == nil {
		return nil
	}
	return p.climateAgain(c, "readings", in, named(err, map[string]string{"reading/temperature_c": "temperature", "reading/rh_pct": "rh", "reading/at": "at", "reading/logger": "logger"}))
}

// importReadings answers POST /climate/:code/import.
func (p *Pages) importReadings(c *gin.Context) error {
	place, err := p.climateAt(c)
	if err != nil {
		return err
	}
	in, up := p.importUpload(c)
	badge := in.badge()
	if err = in.err(); err == nil {
		var file spreadsheet.File
		if file, err = spreadsheet.ReadUpTo(up.content, inventory.MostTableReadings); err == nil {
			table := inventory.ReadReadings(file.Rows, place.Code, in.get("logger"), p.Zone)
			if err = table.Err(); err == nil {
				err = p.takeReadings(c, badge, inventory.ByFile, up, file.SHA256, table.Readings)
			}
		}
	}
	if err == nil {
		return nil
	}
	return p.climateAgain(c, "import", in, fileFault(err))
}

// takeReadings keeps the readings and leads back to the page.
func (p *Pages) takeReadings(c *gin.Context, badge inventory.Code, way inventory.ReadingWay, up upload, sum string, readings []inventory.PlacedReading) error {
	taken, err := p.Ledger.TakeReadings(c.Request.Context(), inventory.ReadingsEntry{Person: badge, Way: way, File: up.name, SHA256: sum, Readings: readings})
	if err != nil {
		return err
	}
	done := fmt.Sprintf("%d new", taken.Kept)
	if taken.Known > 0 {
		done += fmt.Sprintf(", %d there already", taken.Known)
	}
	return seeOther(c, "/climate/"+c.Param("code")+slots{Badge: badge}.query("done", done))
}

// named gives the faults of err the names that the form has.
func named(err error, names map[string]string) error {
	e, ok := asError(err)
	if !ok {
		return err
	}
	out := *e
	out.Fields = nil
	for _, f := range e.Fields {
		if name := names[f.Field]; name != "" {
			f.Field = name
		}
		out.Fields = append(out.Fields, f)
	}
	return &out
}

// fileFault puts every fault of a table under the file, each with its line.
func fileFault(err error) error {
	e, ok := asError(err)
	if !ok || len(e.Fields) == 0 {
		return err
	}
	const most = 5
	var says []string
	rest := []inventory.FieldFault{}
	for _, f := range e.Fields {
		line, column, of := strings.Cut(f.Field, "/")
		switch {
		case f.Field == "person":
			rest = append(rest, f)
		case of:
			says = append(says, line+", "+column+": "+f.Detail)
		default:
			says = append(says, f.Detail)
		}
	}
	out := *e
	out.Fields = rest
	if n := len(says); n > most {
		says = append(says[:most], fmt.Sprintf("and %d more", n-most))
	}
	if len(says) > 0 {
		out.Fields = append(out.Fields, inventory.FieldFault{Field: "file", Detail: strings.Join(says, "; ")})
		out.Detail = "Nothing was kept. " + says[0]
	}
	return &out
}

// climateAgain shows the page once more with what was wrong with a form.
func (p *Pages) climateAgain(c *gin.Context, deed string, in *input, err error) error {
	if !again(err) {
		return err
	}
	page, errPage := p.climatePage(c)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	refill(page.Deeds, deed, in, err)
	return p.show(c, page.Trouble.status(), "climate", page)
}
