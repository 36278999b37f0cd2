package main

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wirehold/inventory/fit"
)

// command runs the program and returns what it printed.
func command(t *testing.T, args ...string) (stdout string, err error) {
	t.Helper()
	var out, errOut bytes.Buffer
	err = run(t.Context(), args, func(string) string { return "" }, &out, &errOut, clock)
	return out.String(), err
}

func TestDecodePrintsFacts(t *testing.T) {
	t.Parallel()
	out, err := command(t, "decode", "--json", "E71T-11", "E309LT1-1/4")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if len(lines) != 2 {
		t.Fatalf("decode of two designations printed %d lines", len(lines))
	}
	var got struct {
		Designation, Spec string
		Facts             []struct{ Fact, Value, Unit, From, Provenance, Source string }
	}
	d := json.NewDecoder(strings.NewReader(lines[0]))
	if err := d.Decode(&got); err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, f := range got.Facts {
		found[f.Fact] = f.Value
	}
	// ISO 17632:2015 Table 5B and AWS D1.1:2020 Table M.1, by way of testdata/a5_20_usability.csv.
	for fact, want := range map[string]string{"polarity": "DCEN", "shielding": "self", "gas": "none", "passes": "single and multiple"} {
		if found[fact] != want {
			t.Errorf("decode E71T-11: %s is %q, want %q", fact, found[fact], want)
		}
	}
	if got.Designation != "E71T-11" || got.Spec != "AWS A5.20/A5.20M" {
		t.Errorf("decode E71T-11: designation %q, spec %q", got.Designation, got.Spec)
	}
	plain, err := command(t, "decode", "E71T-1C")
	if err != nil || !strings.Contains(plain, "CO2 100 %") {
		t.Errorf("decode E71T-1C printed %q, %v", plain, err)
	}
}

func TestDecodeNamesTheCharacterAtFault(t *testing.T) {
	t.Parallel()
	out, err := command(t, "decode", "E71T-1C", "E71X-1C")
	if err == nil || !strings.Contains(err.Error(), `"X"`) {
		t.Errorf("decode E71X-1C: error %v, want one that names the X", err)
	}
	if out != "" {
		t.Errorf("decode printed %q before it failed", out)
	}
}

func TestCheckPrintsTheVerdict(t *testing.T) {
	t.Parallel()
	path, y := demoCopy(t)
	s := siteOn(t, path, y)
	wrong, right := string(s.spoolOf(t, "Cobalt Wren 14")), string(s.spoolOf(t, "Amber Kestrel 71M"))

	out, err := command(t, "check", "--db", path, wrong, "2201")
	if err != nil || !strings.HasPrefix(out, "DOES NOT FIT") {
		t.Fatalf("check: %q, %v", out, err)
	}
	for _, rule := range []string{"process", "polarity", "gas", "passes"} {
		if !strings.Contains(out, "stops    "+rule) {
			t.Errorf("check lacks a stop by %s:\n%s", rule, out)
		}
	}
	out, err = command(t, "check", "--db", path, right, "2201", "--feeder", string(y.feeders[0].Code), "--json")
	var v struct {
		Verdict  string
		Findings []struct{ Rule, Outcome string }
	}
	if err != nil || json.Unmarshal([]byte(out), &v) != nil || v.Verdict != "fits" || len(v.Findings) != len(fit.Rules()) {
		t.Errorf("check --json: %v, %s", err, out)
	}
	if strings.Contains(out, "demanded:") {
		t.Errorf("a plain check explains:\n%s", out)
	}
	out, err = command(t, "check", "--db", path, right, "2216", "--procedure", "wps-11", "--explain")
	if err != nil || strings.Count(out, " demanded: ") != len(fit.Rules()) || strings.Count(out, " offered: ") != len(fit.Rules()) || !strings.Contains(out, "[procedure WPS-11 rev C]") {
		t.Errorf("check --explain: %v, want %d rules with both sides:\n%s", err, len(fit.Rules()), out)
	}
	out, err = command(t, "check", "--db", path, wrong, "2201", "--explain", "--language", "es")
	for _, want := range []string{"NO SIRVE: ", "detiene      polaridad ", " se pide: ", " se ofrece: ", "electrodo negativo (DCEN, polaridad directa)", fit.NotReviewed, fit.Spanish.NotReviewed(), fit.Aid} {
		if err != nil || !strings.Contains(out, want) {
			t.Errorf("check --language es: %v, want %q:\n%s", err, want, out)
		}
	}
	for name, args := range map[string][]string{
		"--language":                   {right, "2201", "--language", "fi"},
		"spool":                        {"W9", "2201"},
		"job":                          {right, "none"},
		"WPS-31 rev B or WPS-11 rev C": {right, "2216"},
		"--procedure":                  {right, "2216", "--procedure", "WPS-12"},
	} {
		if _, err := command(t, append([]string{"check", "--db", path}, args...)...); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("check %v: error %v, want one that names %s", args, err, name)
		}
	}
}

func TestVerifyProvesTheDemoAndFindsTampering(t *testing.T) {
	t.Parallel()
	path, _ := demoCopy(t)
	out, err := command(t, "verify", "--db", path)
	if err != nil || !strings.Contains(out, "the ledger is whole") {
		t.Fatalf("verify: %q, %v", out, err)
	}
	db, err := sql.Open(sqlDriver, "file:"+path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.ExecContext(t.Context(), "UPDATE movements SET entered_at = entered_at + 1 WHERE seq = 900"); err != nil {
		t.Fatal(err)
	}
	out, err = command(t, "verify", "--db", path)
	if err == nil || !strings.Contains(out, "movement 900") {
		t.Errorf("verify of a changed ledger: %q, %v, want movement 900 named and an error", out, err)
	}
}

func TestACommandOnNoDatabaseSaysSo(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "none.db")
	for _, args := range [][]string{{"verify", "--db", path}, {"check", "--db", path, "W", "1"}} {
		if _, err := command(t, args...); err == nil || !strings.Contains(err.Error(), "there is no database") {
			t.Errorf("%v: error %v, want one that says there is no database", args, err)
		}
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%v made a database", args)
		}
	}
}

func TestTheDemoIsASmallYardWithAHistory(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	c := s.store.Catalog(t.Context())
	v, err := s.ledger.Verify(t.Context())
	if err != nil || len(v.Faults) > 0 {
		t.Fatalf("Verify() = %v, %v", v, err)
	}
	if v.Movements < 1500 || v.Spools < 400 || len(s.wires) < 25 || len(s.jobs) != 13 || len(s.feeders) != 8 || len(s.people) != 9 {
		t.Errorf("the demo has %d movements, %d spools, %d wires, %d jobs, %d feeders, %d people", v.Movements, v.Spools, len(s.wires), len(s.jobs), len(s.feeders), len(s.people))
	}
	first, err := c.Ledger(0, 1)
	if err != nil || today.Sub(first[0].EffectiveAt) < 180*24*time.Hour {
		t.Errorf("the ledger begins at %v, want six months before %v", first[0].EffectiveAt, today)
	}
	path := filepath.Join(t.TempDir(), "again.db")
	again, err := makeDemo(&program{ctx: context.Background(), now: clock}, path, quiet)
	if err != nil {
		t.Fatal(err)
	}
	twin := siteOn(t, path, again)
	if w, err := twin.ledger.Verify(t.Context()); err != nil || w.Head != v.Head {
		t.Errorf("two demos of one instant end in %q and %q, %v", v.Head, w.Head, err)
	}
	things, err := s.things(c)
	if err != nil || !strings.Contains(things, string(s.spoolOf(t, "Cobalt Wren 14"))) {
		t.Errorf("things to try: %q, %v", things, err)
	}
}
