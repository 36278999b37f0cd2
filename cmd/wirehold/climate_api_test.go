package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
)

// TestClimateAPI sends limits and readings as a logger would, and asks what
// became of the place.
func TestClimateAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	cabinet := must(s.deps.Ledger.AddPlace(t.Context(), inventory.Place{Name: "Cabinet of this test", Kind: inventory.DryCabinet, DryKept: true}))(t)
	place, engineer := string(cabinet.Code), string(s.withRole(inventory.Engineer)[0].Code)
	at := func(hours int) string { return today.Add(time.Duration(hours) * time.Hour).UTC().Format(time.RFC3339) }
	one := func(hours int, degrees, percent float64) string {
		return fmt.Sprintf(`{"place":%q,"logger":"L1","at":%q,"temperature_c":%g,"rh_pct":%g}`, place, at(hours), degrees, percent)
	}
	send := func(readings ...string) string {
		return fmt.Sprintf(`{"person":%q,"readings":[%s]}`, engineer, strings.Join(readings, ","))
	}
	limits := fmt.Sprintf(`{"person":%q,"request_key":"limits-1","version":1,"max_rh_pct":40,"lowest_c":15,"highest_c":45,"max_gap_s":3600,"source":"manual of the cabinet","in_force_from":%q}`, engineer, at(-8))
	tests := []struct {
		name, method, path, media, body string
		status                          int
		holds                           string
	}{
		{"limits", "PUT", "/api/v1/climate/" + place + "/limits", "application/json", limits, 200, `"max_rh_pct":40`},
		{"the same request again", "PUT", "/api/v1/climate/" + place + "/limits", "application/json", limits, 200, `"version":2`},
		{"limits on a version that is gone", "PUT", "/api/v1/climate/" + place + "/limits", "application/json", strings.Replace(limits, "limits-1", "limits-2", 1), 409, "was changed by"},
		{"a batch", "POST", "/api/v1/climate/readings", "application/json", send(one(-8, 20, 30), one(-7, 20, 52.5), one(-6, 20, 30)), 200, `{"kept":3,"known":0}`},
		{"the same batch and one more", "POST", "/api/v1/climate/readings", "application/json", send(one(-8, 20, 30), one(-7, 20, 52.5), one(-1, 21, 33)), 200, `{"kept":1,"known":2}`},
		{"another value for an instant", "POST", "/api/v1/climate/readings", "application/json", send(one(-8, 20, 31)), 409, `"#/readings/0/at"`},
		{"one that is faulty among good ones", "POST", "/api/v1/climate/readings", "application/json", send(one(-2, 20, 30), one(9, 20, 30)), 422, `"#/readings/1/at"`},
		{"a table", "POST", "/api/v1/climate/readings/import?person=" + engineer + "&place=" + place + "&logger=L1", "text/csv", "Time;Temp (F);RH\n" + at(-5) + ";68;30\n", 200, `{"kept":1,"known":0}`},
		{"a table with faults", "POST", "/api/v1/climate/readings/import?person=" + engineer + "&place=" + place, "text/csv", "time;t_c;rh;logger\nnow;20;30;L1\n", 422, `line 2, column \"time\" (A)`},
		{"what became of it", "GET", "/api/v1/climate/" + place + "?from=" + at(-8) + "&to=" + at(0), "", "", 200,
			fmt.Sprintf(`"not_dry":[{"from":%q,"to":%q,"cause":"too damp"},{"from":%q,"to":%q,"cause":"no reading"}]`, at(-7), at(-6), at(-4), at(-1))},
		{"its dew point", "GET", "/api/v1/climate/" + place, "", "", 200, `"dew_point_c":4.1`},
		{"its hours", "GET", "/api/v1/climate/" + place, "", "", 200, `"highest_rh_pct":52.5`},
		{"all places", "GET", "/api/v1/climate", "", "", 200, `"dry":false,"cause":"no reading"`},
		{"a place that is none", "GET", "/api/v1/climate/nowhere", "", "", 422, "is not a Wirehold code"},
	}
	for _, tt := range tests {
		status, _, body := s.do(t, tt.method, tt.path, tt.media, tt.body)
		if status != tt.status || !strings.Contains(body, tt.holds) {
			t.Errorf("%s: %s %s %s: got %d %s, want %d and %s", tt.name, tt.method, tt.path, tt.body, status, body, tt.status, tt.holds)
		}
	}
}
