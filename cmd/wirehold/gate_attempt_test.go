package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
	"wirehold/server"
)

// attempt is a site on which somebody tries to get stopped spools out.
type attempt struct {
	*siteFixture
	t                    *testing.T
	person               inventory.Person
	job                  inventory.Job
	hopeless, waivable   inventory.Code // spools
	asked                int64          // the waiver of the second, asked for by the same person
	place, feeder, taker inventory.Code
	profile              string // a copy of the job's, that the job does not name
	keys                 int
	shallow              []string // the answers 422 since it was last emptied
}

func newAttempt(t *testing.T, role inventory.Role) *attempt {
	t.Helper()
	s := newSite(t)
	s.runSchedule(t)
	a := &attempt{siteFixture: s, t: t, person: s.withRole(role)[0], job: s.jobNumbered(t, "2201"), place: s.places[0].Code, feeder: s.feeders[0].Code,
		taker: s.withRole(inventory.Welder)[0].Code, hopeless: s.spoolOf(t, "Cobalt Wren 14"), waivable: s.spoolOf(t, "Birch Keel 5")}
	for _, w := range must(s.store.Catalog(t.Context()).Waivers(inventory.WaiverList{At: today, Limit: 100}))(t) {
		if w.Spool == a.waivable {
			a.waivable = a.another("Birch Keel 5", w.Spool)
		}
	}
	check := must(s.ledger.CheckFit(t.Context(), a.waivable, a.job.Code, ""))(t)
	if !check.MayAsk() {
		t.Fatalf("spool %s for job %s: %s, want a stop that may be waived", a.waivable, a.job.Number, check.Verdict.Answer)
	}
	asked := must(s.ledger.AskWaiver(t.Context(), inventory.WaiverRequest{Spool: a.waivable, Job: a.job.Code, Rules: check.Waivable, Person: a.person.Code, Reason: "to get it out", RequestKey: "ask"}))(t)
	a.asked = asked[0].ID
	a.profile = must(s.ledger.CopyProfile(t.Context(), inventory.ProfileEntry{Profile: a.job.ProfileID, Person: s.withRole(inventory.Engineer)[0].Code, RequestKey: "copy"}, "A copy"))(t).ID
	a.stopped("before anything is tried")
	return a
}

// another returns a sealed spool of the wire other than one.
func (a *attempt) another(tradeName string, not inventory.Code) inventory.Code {
	a.t.Helper()
	for _, s := range must(a.store.Catalog(a.t.Context()).Spools(inventory.Query{Text: tradeName, State: string(inventory.StateSealed), Limit: 200}))(a.t) {
		if s.Code != not {
			return s.Code
		}
	}
	a.t.Fatalf("there is no other spool of %s", tradeName)
	return ""
}

// try sends a request to the address for each spool, and then tries to issue it.
func (a *attempt) try(r server.Route, schema map[string]any) {
	a.t.Helper()
	for _, spool := range []inventory.Code{a.waivable, a.hopeless} {
		for _, path := range a.paths(r.Path, spool) {
			a.shallow = nil
			if schema != nil {
				body := must(json.Marshal(a.value("", schema, spool)))(a.t)
				a.send(r.Method, path, "application/json", string(body))
			} else {
				a.send(r.Method, path, "application/x-www-form-urlencoded", a.form(spool).Encode())
			}
			a.wentDeep(r, schema)
			a.sendFile(r, path, spool)
		}
	}
	a.notOut(r.Method + " " + r.Path)
	if mayChangeTheJob(r) {
		return
	}
	a.stopped("after " + r.Method + " " + r.Path)
	for _, spool := range []inventory.Code{a.waivable, a.hopeless} {
		a.send("POST", "/counter/issue", "application/x-www-form-urlencoded", a.form(spool).Encode())
		a.send("POST", "/api/v1/spools/"+string(spool)+"/issue", "application/json", fmt.Sprintf(`{"person":%q,"request_key":%q,"job":%q,"gross_g":%d}`, a.person.Code, a.key(), a.job.Code, a.gross(spool)))
	}
	a.notOut("an issue after " + r.Method + " " + r.Path)
}

// gross is what the full spool weighs, so that no weight is in the way.
func (a *attempt) gross(spool inventory.Code) unit.Grams {
	a.t.Helper()
	s := must(a.store.Catalog(a.t.Context()).Spool(spool))(a.t)
	return s.Net + s.Tare
}

func (a *attempt) key() string { a.keys++; return fmt.Sprintf("try-%d", a.keys) }

func (a *attempt) send(method, path, media, body string) int {
	a.t.Helper()
	status, _, answer := a.do(a.t, method, path, media, body)
	if status >= 500 {
		a.t.Errorf("%s %s: status %d\n%s\n%s", method, path, status, body, answer)
	}
	if status == http.StatusUnprocessableEntity {
		a.shallow = append(a.shallow, answer)
	}
	return status
}

// sendFile uploads a table of wires where the address takes a file, as it is
// and with columns that name the spool and the job.
func (a *attempt) sendFile(r server.Route, path string, spool inventory.Code) {
	a.t.Helper()
	if !strings.Contains(path, "import") && !strings.Contains(path, "sheets") {
		return
	}
	header, line := "Maker;Product;Class;Size;Net (kg);Empty spool;Package", "Maker Birch;Birch Reed %d;E71T-1C-H8;.045 in;15;700 g;12 in spool"
	line = fmt.Sprintf(line, a.keys)
	if strings.Contains(path, "climate") {
		header, line = "at;logger;place;temperature_c;rh_pct", fmt.Sprintf("%s;L%d;%s;20;30", today.Add(-time.Hour).Format(time.RFC3339), a.keys, a.place)
	}
	for _, table := range []string{header + "\n" + line, header + ";Spool;Job;Verdict\n" + line + ";" + string(spool) + ";" + string(a.job.Code) + ";fits"} {
		form := a.form(spool)
		known := url.Values{"dry_run": {"false"}, "person": form["person"], "request_key": form["request_key"]}
		if strings.Contains(path, "climate") {
			known = url.Values{"person": form["person"], "place": form["place"]}
		}
		a.send(r.Method, path+"?"+known.Encode(), "text/csv", table)
		a.send(r.Method, path+"?dry_run=false&"+form.Encode(), "text/csv", table)
		var b bytes.Buffer
		w := multipart.NewWriter(&b)
		for name, values := range form {
			for _, v := range values {
				if err := w.WriteField(name, v); err != nil {
					a.t.Fatal(err)
				}
			}
		}
		file := must(w.CreateFormFile("file", "wires.csv"))(a.t)
		if _, err := file.Write([]byte(table)); err != nil {
			a.t.Fatal(err)
		}
		if err := w.Close(); err != nil {
			a.t.Fatal(err)
		}
		a.send(r.Method, path, w.FormDataContentType(), b.String())
	}
}

// stopped checks that both spools are still stopped for the job.
func (a *attempt) stopped(when string) {
	a.t.Helper()
	for _, spool := range []inventory.Code{a.waivable, a.hopeless} {
		if c := must(a.ledger.CheckFit(a.t.Context(), spool, a.job.Code, ""))(a.t); c.Verdict.Answer != fit.DoesNotFit {
			a.t.Fatalf("spool %s for job %s %s: %s", spool, a.job.Number, when, c.Verdict.Answer)
		}
	}
}

// notOut checks that neither spool went out, nor ever was.
func (a *attempt) notOut(by string) {
	a.t.Helper()
	for _, spool := range []inventory.Code{a.waivable, a.hopeless} {
		for _, m := range must(a.ledger.History(a.t.Context(), spool))(a.t) {
			if m.Type == inventory.Issued || m.Type == inventory.Loaded || m.Job != "" {
				a.t.Fatalf("%s got spool %s out: %s for job %s, %q", by, spool, m.Type, m.Job, m.Verdict)
			}
		}
	}
	a.movements(a.t)
}

// deeds are the words that an address may end in, those that there are and
// those that somebody might try.
var deeds = []string{"open", "weigh", "move", "hold", "release", "scrap", "correct", "dry", "damaged", "issue", "load", "unload", "return", "loaded", "issued", "grant", "refuse", "end"}

// paths fills the address in: a spool, job, place or waiver by what stands
// before it.
func (a *attempt) paths(pattern string, spool inventory.Code) []string {
	filled := []string{""}
	before := ""
	for part := range strings.SplitSeq(strings.TrimPrefix(pattern, "/"), "/") {
		values := []string{part}
		switch part {
		case ":code":
			values = []string{string(map[string]inventory.Code{"jobs": a.job.Code, "feeders": a.feeder, "places": a.place, "climate": a.place, "people": a.person.Code}[before])}
			if values[0] == "" {
				values[0] = string(spool)
			}
		case ":deed":
			values = deeds
		case ":id", ":lot", ":wire":
			values = []string{"1"}
			if before == "waivers" {
				values = []string{fmt.Sprint(a.asked)}
			}
		case ":job":
			values = []string{"exposure-sweep"}
		case ":profile":
			values = []string{a.profile}
		}
		if part == ":id" && before == "profiles" {
			values = []string{a.profile}
		}
		before = part
		var next []string
		for _, f := range filled {
			for _, v := range values {
				next = append(next, f+"/"+v)
			}
		}
		filled = next
	}
	return filled
}

// named is what a field of the name is given.
func (a *attempt) named(name string, spool inventory.Code) any {
	switch name {
	case "person", "badge":
		return a.person.Code
	case "holder", "welder":
		return a.taker
	case "spool", "code":
		return spool
	case "job":
		return a.job.Code
	case "procedure":
		return strconv.FormatInt(a.job.Procedures[0], 10)
	case "procedure_ids":
		return a.job.Procedures
	case "feeder":
		return a.feeder
	case "place":
		return a.place
	case "request_key":
		return a.key()
	case "rules":
		return []string{string(fit.RuleClassification)}
	case "reason":
		return "to get it out"
	case "until":
		return today.Add(48 * time.Hour)
	case "gross_g":
		return int64(a.gross(spool))
	case "from", "profile":
		return a.job.ProfileID
	case "value":
		return "yes"
	case "url":
		return "https://board.example/hook"
	case "secret":
		return "0123456789abcdef"
	case "kinds":
		return []string{string(inventory.ReorderAlert)}
	case "shift_ends":
		return []string{"Mon-Fri 15:30"}
	case "quiet":
		return "20:00-06:00"
	case "email":
		return "store@yard.example"
	case "corrects":
		history := must(a.ledger.History(a.t.Context(), spool))(a.t)
		return history[len(history)-1].Seq
	case "oven":
		return a.place
	case "heat_degc":
		return 110
	case "dried_from":
		return today.Add(-8 * time.Hour)
	case "effective_at", "opened_at", "at", "in_force_from":
		return today
	case "tested_on", "made_on":
		return today.Format(time.DateOnly)
	case "expires_on":
		return today.AddDate(1, 0, 0).Format(time.DateOnly)
	case "lot_class":
		return "T4"
	case "note":
		return "read again"
	case "welds":
		return []string{"12 m of 8 mm fillet"}
	case "type":
		return "3.1"
	case "schedule":
		return "H"
	case "site":
		return string(inventory.InField)
	case "wind":
		return "2 m/s"
	case "joint":
		return "tee"
	case "family":
		return "carbon steel"
	case "thickness", "plates":
		return "19 mm"
	}
	return nil
}

// value makes a value that the schema takes, by the field's name where it says
// something here.
func (a *attempt) value(name string, schema map[string]any, spool inventory.Code) any {
	if v := a.named(name, spool); v != nil {
		if text, ok := v.(string); ok && strings.Contains(fmt.Sprint(schema["type"]), "array") {
			return []any{text}
		}
		return v
	}
	if choices, ok := schema["enum"].([]any); ok {
		return choices[0]
	}
	switch kind := fmt.Sprint(schema["type"]); {
	case strings.Contains(kind, "object"):
		out := map[string]any{}
		for field, of := range schema["properties"].(map[string]any) {
			if field == "drying" { // a correction of anything but a drying is refused for it, whatever else it says
				continue
			}
			out[field] = a.value(field, of.(map[string]any), spool)
		}
		return out
	case strings.Contains(kind, "array"):
		return []any{a.value(name, schema["items"].(map[string]any), spool)}
	case strings.Contains(kind, "boolean"):
		return false
	case strings.Contains(kind, "integer"), strings.Contains(kind, "number"):
		return 1
	}
	return "x"
}

// form is everything that a form here has a field for, and what somebody might
// add to one.
func (a *attempt) form(spool inventory.Code) url.Values {
	v := url.Values{"gross": {a.gross(spool).String()}, "until": {today.Add(48 * time.Hour).Format("2006-01-02T15:04")}, "status": {"accepted"},
		"line": {"0"}, "force": {"yes"}, "verdict": {"fits"}, "waiver": {"1"}, "certificate": {"MTC-1"}, "name": {"Ours"}, "waiver_days": {"3"}, "action": {"caution"},
		"kinds_reorder": {"yes"}, "grace": {"30"}, "near_before": {"240"}, "shelf_before": {"30"}, "message": {"1"}}
	for _, name := range []string{"person", "badge", "holder", "welder", "spool", "code", "job", "feeder", "place", "request_key", "reason", "from", "profile", "value", "corrects", "url", "secret", "quiet", "email", "procedure", "site", "wind", "joint"} {
		v.Set(name, fmt.Sprint(a.named(name, spool)))
	}
	for name, value := range map[string]string{"type": "3.2", "schedule": "J", "lot_class": "T4", "tested_on": "2026-11-24", "melted_in": "Eastmark", "made_in": "Eastmark",
		"made_on": "2026-11-20", "expires_on": "2027-11-19", "sealing": "vacuum foil", "tested_exposure": "120 h, 9 mL/100 g"} {
		v.Set("papers_"+name, value)
	}
	v.Set("note", "read again")
	v.Set("off", string(spool)) // what is taken off a feeder
	v.Set("number", a.key())
	v.Set("version", "1")
	v.Set("procedure_1", fmt.Sprint(a.named("procedure", spool)))
	v.Set("metal_1", "A36")
	v.Set("family_1", "carbon steel")
	for name, value := range map[string]string{"oven": string(a.place), "dried_from": today.Add(-8 * time.Hour).Format("2006-01-02T15:04"), "dried_until": today.Add(-time.Hour).Format("2006-01-02T15:04"), "damaged": "0", "heat": "110 °C", "held_h": "6", "material": "metal", "confirmed": "the maker"} {
		v.Set(name, value)
	}
	v["rules"] = []string{string(fit.RuleClassification)}
	return v
}
