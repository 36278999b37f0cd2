package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/server"
)

// TestNothingMovesASpoolPastAStop tries every address of pages and API that
// writes, in the name of an attendant and of the welding engineer alone, on two
// spools that are stopped for a job: one by rules that nobody may waive, one by
// a rule that is asked to be waived by the same person. Neither may go out, by
// the address itself or by an issue after it.
func TestNothingMovesASpoolPastAStop(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	writes := writingRoutes(t, site)
	bodies := requestBodies(t, site)
	described := 0
	for _, r := range writes {
		if _, ok := bodies[r]; ok {
			described++
		}
	}
	if described != len(bodies) || len(bodies) < 20 || len(writes)-described < 10 {
		t.Fatalf("%d addresses write, %d of them in the API, which describes %d", len(writes), described, len(bodies))
	}
	for _, role := range []inventory.Role{inventory.Attendant, inventory.Engineer} {
		for _, r := range writes {
			t.Run(string(role)+" "+r.Method+" "+r.Path, func(t *testing.T) {
				t.Parallel()
				newAttempt(t, role).try(r, bodies[r])
			})
		}
	}
}

// mayChangeTheJob are the addresses that change what a job demands or what a
// wire is: a spool may fit afterwards, because the demand is another.
func mayChangeTheJob(r server.Route) bool {
	for _, part := range []string{"/jobs", "/procedures", "/wires", "/lots", "/feeders"} {
		if strings.HasPrefix(strings.TrimPrefix(r.Path, "/api/v1"), part) {
			return true
		}
	}
	return false
}

// writingRoutes are the addresses of the whole site that may write.
func writingRoutes(t *testing.T, s *siteFixture) (out []server.Route) {
	t.Helper()
	for _, r := range must(server.Routes(s.deps))(t) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			out = append(out, r)
		}
	}
	return out
}

// requestBodies returns the schema of what each writing operation of the API
// takes, every reference replaced.
func requestBodies(t *testing.T, s *siteFixture) map[server.Route]map[string]any {
	t.Helper()
	_, _, text := s.do(t, "GET", "/api/openapi.json", "", "")
	var doc struct {
		Paths      map[string]map[string]json.RawMessage
		Components struct{ Schemas map[string]any }
	}
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	out := map[server.Route]map[string]any{}
	for path, operations := range doc.Paths {
		for method, operation := range operations {
			if slices.Contains([]string{"get", "head", "parameters"}, method) {
				continue
			}
			var of struct {
				RequestBody struct {
					Content map[string]struct{ Schema map[string]any }
				}
			}
			if err := json.Unmarshal(operation, &of); err != nil {
				t.Fatalf("%s %s: %v", method, path, err)
			}
			schema := map[string]any{"type": "object", "properties": map[string]any{}}
			for _, content := range of.RequestBody.Content {
				schema = resolved(content.Schema, doc.Components.Schemas).(map[string]any)
			}
			pattern := strings.NewReplacer("{", ":", "}", "").Replace(path)
			out[server.Route{Method: strings.ToUpper(method), Path: pattern}] = schema
		}
	}
	return out
}

func resolved(v any, schemas map[string]any) any {
	switch v := v.(type) {
	case map[string]any:
		if ref, ok := v["$ref"].(string); ok {
			return resolved(schemas[ref[strings.LastIndex(ref, "/")+1:]], schemas)
		}
		out := map[string]any{}
		for key, value := range v {
			out[key] = resolved(value, schemas)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, value := range v {
			out[i] = resolved(value, schemas)
		}
		return out
	}
	return v
}

// TestTheGateTestCanGetASpoolOut holds the attempts of the test above against
// what must succeed: a spool that fits, and one with a waiver that somebody
// else granted, go out by the very same requests.
func TestTheGateTestCanGetASpoolOut(t *testing.T) {
	t.Parallel()
	page := server.Route{Method: "POST", Path: "/counter/issue"}
	issue := server.Route{Method: "POST", Path: "/api/v1/spools/:code/issue"}
	for _, r := range []server.Route{page, issue} {
		for _, waived := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, waived %t", r.Path, waived), func(t *testing.T) {
				t.Parallel()
				a := newAttempt(t, inventory.Attendant)
				spool := a.spoolOf(t, "Amber Kestrel 71M")
				if waived {
					spool = a.waivable
					must(a.ledger.GrantWaiver(t.Context(), inventory.WaiverDecision{ID: a.asked, Person: a.withRole(inventory.Engineer)[0].Code,
						Reason: "seen", Until: today.Add(time.Hour), RequestKey: "grant"}))(t)
				}
				if schema := requestBodies(t, a.siteFixture)[r]; schema != nil {
					body := must(json.Marshal(a.value("", schema, spool)))(t)
					a.send(r.Method, a.paths(r.Path, spool)[0], "application/json", string(body))
				} else {
					a.send(r.Method, r.Path, "application/x-www-form-urlencoded", a.form(spool).Encode())
				}
				if s := must(a.store.Catalog(t.Context()).SpoolLine(spool))(t); s.Job != a.job.Code {
					t.Errorf("spool %s did not go out by %s", spool, r.Path)
				}
			})
		}
	}
}
