package inventory

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory/unit"
)

// readingColumn is a column of a table of readings.
type readingColumn string

// The columns.
const (
	columnAt         readingColumn = "at"
	columnCelsius    readingColumn = "temperature_c"
	columnFahrenheit readingColumn = "temperature_f"
	columnHumidity   readingColumn = "rh_pct"
	columnLogger     readingColumn = "logger"
	columnPlace      readingColumn = "place"
)

// readingHeaders returns the names of the columns that are understood, folded:
// what loggers write, without the signs between the letters.
func readingHeaders() map[string]readingColumn {
	return map[string]readingColumn{
		"at": columnAt, "time": columnAt, "timestamp": columnAt, "datetime": columnAt, "date": columnAt, "measuredat": columnAt,
		"temperaturec": columnCelsius, "temperature°c": columnCelsius, "tempc": columnCelsius, "temp°c": columnCelsius, "tc": columnCelsius, "t°c": columnCelsius, "celsius": columnCelsius, "celsius°c": columnCelsius,
		"temperaturef": columnFahrenheit, "temperature°f": columnFahrenheit, "tempf": columnFahrenheit, "temp°f": columnFahrenheit, "tf": columnFahrenheit, "t°f": columnFahrenheit, "fahrenheit": columnFahrenheit,
		"rhpct": columnHumidity, "rh%": columnHumidity, "rh": columnHumidity, "humidity": columnHumidity, "humidity%": columnHumidity, "humidity%rh": columnHumidity, "relativehumidity": columnHumidity, "relativehumidity%": columnHumidity, "%rh": columnHumidity,
		"logger": columnLogger, "device": columnLogger, "sensor": columnLogger, "gauge": columnLogger,
		"place": columnPlace,
	}
}

func foldHeader(text string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "_", "", "-", "", "(", "", ")", "", "[", "", "]", "", "/", "", ".", "", ",", "").Replace(text))
}

// ReadingTable is what a table of readings would enter, or what is wrong with
// it: Readings is empty as soon as there is one fault.
type ReadingTable struct {
	Readings []PlacedReading
	Faults   []ImportFault // by line and column; at most 100
}

// Err returns the faults as one error, each under the field "file"; nil if
// there is none.
func (t ReadingTable) Err() error {
	faults := make([]FieldFault, len(t.Faults))
	for i, f := range t.Faults {
		faults[i] = FieldFault{"file", f.String()}
	}
	return faultsError(faults)
}

// ReadReadings reads a table whose first row that is not blank names the
// columns: at, temperature_c or temperature_f, rh_pct, and logger and place
// where they are not those given. Instants without a zone are of zone. All
// rows are read, or none; ReadReadings is pure.
func ReadReadings(rows []ImportRow, place Code, logger string, zone *time.Location) ReadingTable {
	for len(rows) > 0 && rows[0].blank() {
		rows = rows[1:]
	}
	if len(rows) == 0 {
		return ReadingTable{Faults: []ImportFault{{Line: 1, Detail: "there is nothing in it: the first row names the columns, each row below is a reading"}}}
	}
	r := readingRows{place: place, logger: logger, zone: zone, at: map[readingColumn]int{}}
	if r.header(rows[0]); len(r.Faults) == 0 {
		for _, row := range rows[1:] {
			if !row.blank() && len(r.Faults) < mostReadingFaults {
				r.row(row)
			}
		}
		if len(r.Readings) == 0 && len(r.Faults) == 0 {
			r.Faults = append(r.Faults, ImportFault{Line: rows[0].Line, Detail: "there is no reading below the row that names the columns"})
		}
		if n := len(r.Readings); n > MostTableReadings {
			r.Faults = append(r.Faults, ImportFault{Line: rows[len(rows)-1].Line, Detail: fmt.Sprintf("more than %d rows: cut the file in two", MostTableReadings)})
		}
	}
	if len(r.Faults) > 0 {
		r.Readings = nil
	}
	return r.ReadingTable
}

// readingRows reads the rows of a table.
type readingRows struct {
	ReadingTable
	place  Code
	logger string
	zone   *time.Location
	at     map[readingColumn]int // where each column stands
	names  []string
}

func (r *readingRows) header(row ImportRow) {
	if row.Fault != "" {
		r.Faults = append(r.Faults, ImportFault{Line: row.Line, Detail: row.Fault})
		return
	}
	known := readingHeaders()
	for i, cell := range row.Cells {
		r.names = append(r.names, strings.TrimSpace(cell.Text))
		column, ok := known[foldHeader(cell.Text)]
		if _, twice := r.at[column]; !ok || twice {
			continue // what a logger writes besides is left alone
		}
		r.at[column] = i
	}
	missing := func(detail string) { r.Faults = append(r.Faults, ImportFault{Line: row.Line, Detail: detail}) }
	if _, ok := r.at[columnAt]; !ok {
		missing(`no column says when: name one "at"`)
	}
	_, celsius := r.at[columnCelsius]
	if _, fahrenheit := r.at[columnFahrenheit]; celsius == fahrenheit {
		missing(`one column must say how warm, and in which scale: name it "temperature_c" or "temperature_f"`)
	}
	if _, ok := r.at[columnHumidity]; !ok {
		missing(`no column says how damp: name one "rh_pct"`)
	}
	if _, ok := r.at[columnLogger]; !ok && r.logger == "" {
		missing(`no column says which logger: name one "logger", or name the logger beside the file`)
	}
	if _, ok := r.at[columnPlace]; !ok && r.place == "" {
		missing(`no column says where: name one "place", with the code on its label`)
	}
}

// cell returns what stands in a column; empty if there is none.
func (r *readingRows) cell(row ImportRow, c readingColumn) string {
	i, ok := r.at[c]
	if !ok || i >= len(row.Cells) {
		return ""
	}
	return strings.TrimSpace(row.Cells[i].Text)
}

func (r *readingRows) fault(row ImportRow, c readingColumn, format string, args ...any) {
	i := r.at[c]
	r.Faults = append(r.Faults, ImportFault{Line: row.Line, Column: r.names[i], At: i + 1, Typed: clip(r.cell(row, c)), Detail: fmt.Sprintf(format, args...)})
}

func (r *readingRows) row(row ImportRow) {
	if row.Fault != "" {
		r.Faults = append(r.Faults, ImportFault{Line: row.Line, Detail: row.Fault})
		return
	}
	p := PlacedReading{Place: r.place, Where: fmt.Sprintf("line %d", row.Line)}
	p.Logger = r.logger
	if text := r.cell(row, columnLogger); text != "" {
		p.Logger = text
	} else if p.Logger == "" {
		r.fault(row, columnLogger, "say which logger measured it")
	}
	if text := r.cell(row, columnPlace); text != "" {
		code, err := ParseCode(text)
		if err != nil {
			r.fault(row, columnPlace, "%s", detail(err))
		}
		p.Place = code
	}
	at, err := readInstant(r.cell(row, columnAt), r.zone)
	if p.At = at; err != nil {
		r.fault(row, columnAt, "%s", err)
	}
	r.air(row, &p)
	r.Readings = append(r.Readings, p)
}

// air reads temperature and humidity: plain numbers, for the header has the
// unit.
func (r *readingRows) air(row ImportRow, p *PlacedReading) {
	var err error
	column, scale := columnCelsius, " C"
	if _, ok := r.at[columnFahrenheit]; ok {
		column, scale = columnFahrenheit, " F"
	}
	if p.Air.Temperature, err = unit.ParseCelsius(r.cell(row, column) + scale); err != nil {
		r.fault(row, column, "give a plain number with a point, such as 21.5")
	}
	if p.Air.Humidity, err = unit.ParseHumidity(strings.TrimSuffix(r.cell(row, columnHumidity), "%") + "%"); err != nil {
		r.fault(row, columnHumidity, "give a plain number from 0 to 100 with a point, such as 38.5")
	}
}

// readInstant reads an instant as loggers write it: with its zone (RFC 3339),
// without (then of the shop's zone), or in seconds since 1970.
func readInstant(text string, zone *time.Location) (time.Time, error) {
	if at, err := time.Parse(time.RFC3339, text); err == nil {
		return at, nil
	}
	for _, layout := range []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04:05", "2006-01-02T15:04"} {
		if at, err := time.ParseInLocation(layout, text, zone); err == nil {
			return at, nil
		}
	}
	if n, err := strconv.ParseInt(text, 10, 64); err == nil && n > 1e8 && n < 1e11 {
		return time.Unix(n, 0).UTC(), nil
	}
	return time.Time{}, fmt.Errorf("write the instant as 2026-11-25 07:10, or with its zone as 2026-11-25T07:10:00Z")
}
