package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// schema is what the API's description says of a value, as far as is looked at.
type schema struct {
	Ref                  string             `json:"$ref"`
	Properties           map[string]*schema `json:"properties"`
	Items                *schema            `json:"items"`
	AdditionalProperties any                `json:"additionalProperties"`
}

type description struct {
	Paths map[string]map[string]struct {
		Responses map[string]struct {
			Content map[string]struct{ Schema *schema }
		}
	}
	Components struct{ Schemas map[string]*schema }
}

// missing lists the fields of an answer of which its description says nothing.
func (d description) missing(s *schema, v any, where string) (out []string) {
	if s != nil && s.Ref != "" {
		s = d.Components.Schemas[strings.TrimPrefix(s.Ref, "#/components/schemas/")]
	}
	if s == nil {
		return []string{where}
	}
	switch v := v.(type) {
	case []any:
		for i, item := range v {
			out = append(out, d.missing(s.Items, item, fmt.Sprintf("%s/%d", where, i))...)
		}
	case map[string]any:
		if free, ok := s.AdditionalProperties.(map[string]any); ok && free != nil {
			return nil // keys that the shop names
		}
		for name, field := range v {
			out = append(out, d.missing(s.Properties[name], field, where+"/"+name)...)
		}
	}
	return out
}

// TestTheDescriptionHoldsEveryFieldOfAnAnswer asks every address that is read,
// about things of the invented yard, and holds each answer against what the API
// says of itself.
func TestTheDescriptionHoldsEveryFieldOfAnAnswer(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	_, _, text := s.do(t, "GET", "/api/openapi.json", "", "")
	var d description
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		t.Fatal(err)
	}
	spool, feeder := string(s.spoolOf(t, "Amber Kestrel 71M")), string(s.feeders[0].Code)
	codes := strings.NewReplacer("spools/{code}", "spools/"+spool, "places/{code}", "places/"+string(s.places[4].Code), "climate/{code}", "climate/"+string(s.places[4].Code),
		"feeders/{code}", "feeders/"+feeder, "jobs/{code}", "jobs/"+string(s.jobs[0].Code), "people/{code}", "people/"+string(s.people[0].Code), "{id}", "1")
	query := map[string]string{"/load-check": "?spool=" + spool + "&feeder=" + feeder, "/compare": "?a=1&b=2", "/decode": "?d=E71T-1C-H8", "/choices": "?limit=3"}
	asked := 0
	for _, path := range slices.Sorted(maps.Keys(d.Paths)) {
		get, ok := d.Paths[path]["get"]
		if !ok {
			continue
		}
		address := codes.Replace(path)
		for end, q := range query {
			if strings.HasSuffix(address, end) {
				address += q
			}
		}
		status, media, body := s.do(t, "GET", address, "", "")
		if status != 200 || !strings.HasPrefix(media, "application/json") {
			continue // it asks for more than this test knows, or is no JSON
		}
		var answer any
		if err := json.Unmarshal([]byte(body), &answer); err != nil {
			t.Errorf("GET %s: %v", address, err)
			continue
		}
		asked++
		if lost := d.missing(get.Responses["200"].Content["application/json"].Schema, answer, ""); len(lost) > 0 {
			slices.Sort(lost)
			t.Errorf("GET %s answers with fields that its description does not know: %q", address, lost)
		}
	}
	if asked < 30 {
		t.Errorf("%d addresses answered, want 30 and more: give the test what they ask for", asked)
	}
	t.Logf("%d addresses answered", asked)
}
