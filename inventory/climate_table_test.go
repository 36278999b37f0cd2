package inventory

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// tableOf makes the rows of a table from lines with commas.
func tableOf(lines ...string) (rows []ImportRow) {
	for i, line := range lines {
		row := ImportRow{Line: i + 1}
		for text := range strings.SplitSeq(line, ",") {
			row.Cells = append(row.Cells, ImportCell{Text: text})
		}
		rows = append(rows, row)
	}
	return rows
}

func TestReadReadings(t *testing.T) {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name   string
		rows   []ImportRow
		logger string
		want   []string // "instant logger temperature humidity" of each reading
		faults []string // or what each fault says
	}{
		{"as a logger writes it", tableOf("Date/Time,Temperature (°C),Humidity (%),Battery", "2026-03-02 07:00,21.5,38.5,90"), "L1", []string{"2026-03-02T13:00:00Z L1 21.5 °C 38.5 %RH"}, nil},
		{"with its own names", tableOf("at,logger,temperature_f,rh_pct", "2026-03-02T07:00:00Z,L2,77,40%", "1772434860,L2,77,41"), "", []string{"2026-03-02T07:00:00Z L2 25 °C 40 %RH", "2026-03-02T07:01:00Z L2 25 °C 41 %RH"}, nil},
		{"blank rows are passed over", tableOf("", "at,t_c,rh", "", "2026-03-02T07:00:00Z,20,30"), "L1", []string{"2026-03-02T07:00:00Z L1 20 °C 30 %RH"}, nil},
		{"each fault by line and column", tableOf("at,t_c,rh,logger", "yesterday,20,30,L1", "2026-03-02T07:00:00Z,warm,130,L1", "2026-03-02T07:00:00Z,20,30,"), "", nil,
			[]string{`line 2, column "at" (A): write the instant`, `line 3, column "t_c" (B): give a plain number`, `line 3, column "rh" (C): give a plain number`, `line 4, column "logger" (D): say which`}},
		{"a short row", tableOf("at,t_c,rh", "2026-03-02T07:00:00Z"), "L1", nil, []string{`column "t_c" (B)`, `column "rh" (C)`}},
		{"columns that are missing", tableOf("when,what", "1,2"), "", nil, []string{"no column says when", "how warm", "how damp", "which logger"}},
		{"both scales", tableOf("at,t_c,t_f,rh", "2026-03-02T07:00:00Z,20,68,30"), "L1", nil, []string{"in which scale"}},
		{"nothing below the header", tableOf("at,t_c,rh"), "L1", nil, []string{"there is no reading below"}},
		{"nothing at all", nil, "L1", nil, []string{"there is nothing in it"}},
	}
	for _, tt := range tests {
		got := ReadReadings(tt.rows, "K2222-2", tt.logger, zone)
		var have []string
		for _, r := range got.Readings {
			have = append(have, strings.Join([]string{r.At.UTC().Format(time.RFC3339), r.Logger, r.Air.Temperature.String(), r.Air.Humidity.String()}, " "))
		}
		if diff := cmp.Diff(tt.want, have); diff != "" {
			t.Errorf("%s: ReadReadings (-want +got):\n%s", tt.name, diff)
		}
		if len(got.Faults) != len(tt.faults) {
			t.Errorf("%s: ReadReadings: faults %v, want %q", tt.name, got.Faults, tt.faults)
			continue
		}
		for i, f := range got.Faults {
			if !strings.Contains(f.String(), tt.faults[i]) {
				t.Errorf("%s: fault %d: got %q, want %q in it", tt.name, i, f, tt.faults[i])
			}
		}
	}
}

// TestATableOfACardIsRead holds that the readings of a winter fit into one
// table, and that one row more than may be is said.
func TestATableOfACardIsRead(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	rows := []ImportRow{{Line: 1, Cells: []ImportCell{{Text: "at"}, {Text: "temperature_c"}, {Text: "rh_pct"}}}}
	for n := range MostTableReadings + 1 {
		rows = append(rows, ImportRow{Line: n + 2, Cells: []ImportCell{{Text: at.Add(time.Duration(n) * 10 * time.Minute).Format(time.RFC3339)}, {Text: "20"}, {Text: "30"}}})
	}
	if got := ReadReadings(rows[:182*24*6+1], "K2222-2", "card", time.UTC); got.Err() != nil || len(got.Readings) != 182*24*6 {
		t.Errorf("half a year of ten-minute readings: %d readings, %v", len(got.Readings), got.Err())
	}
	if got := ReadReadings(rows, "K2222-2", "card", time.UTC); got.Err() == nil || len(got.Readings) != 0 || !strings.Contains(got.Faults[0].Detail, "more than 30000 rows") {
		t.Errorf("a row too many: %d readings, %v, want a fault that says so", len(got.Readings), got.Err())
	}
}
