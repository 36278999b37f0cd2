package pages_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// in is s.get with what a browser says of languages.
func (s *site) in(target, accept, cookie string) answer {
	r := httptest.NewRequest(http.MethodGet, target, nil)
	if accept != "" {
		r.Header.Set("Accept-Language", accept)
	}
	if cookie != "" {
		r.Header.Set("Cookie", "language="+cookie)
	}
	return s.do(r)
}

// TestFindingsAreSaidInTheReadersLanguage holds which language the counter and
// the load check speak, and that a translation says what it is worth.
func TestFindingsAreSaidInTheReadersLanguage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	positive := must(s.ledger.AddFeeder(t.Context(), inventory.Feeder{Place: inventory.Place{Name: "Feeder 4"}, Polarities: []fit.Polarity{fit.DCEP}, Gas: &fit.Gas{}}))(t)
	counter := "/counter?job=" + string(s.job.Code) + "&spool=" + string(s.other.Code)
	load, stopped := s.atFeeder(s.good.Code), s.atFeeder(s.good.Code, "feeder", string(positive.Code))
	tests := []struct {
		name, path, accept, cookie string
		spanish                    bool
		class                      string
		says                       []string
	}{
		{"English where nothing is asked", load, "", "", false, "verdict", []string{"LOAD"}},
		{"Spanish where the browser asks for it", load, "es-MX,es;q=0.9", "", true, "verdict", []string{"CARGUE"}},
		{"what to set is shown in Spanish, with the English", load, "es", "", true, "ticks", []string{"Ponga la máquina en electrodo negativo (DCEN, polaridad directa).", "Set the machine to electrode negative (DCEN).", "Está ajustado así: cárguelo"}},
		{"a stop too", stopped, "es", "", true, "verdict", []string{"NO CARGUE", "Detiene: polaridad"}},
		{"with both sides", stopped, "es", "", true, "finding-stop", []string{"Este carrete se debe usar con electrodo negativo (DCEN, polaridad directa). El alimentador 4 solo da DCEP.", "Se pide", "Se ofrece"}},
		{"the choice outweighs the browser", load, "es", "en", false, "verdict", []string{"LOAD"}},
		{"and holds where the browser asks for nothing", load, "", "es", true, "verdict", []string{"CARGUE"}},
		{"a link outweighs the choice", load + "&language=es", "", "en", true, "verdict", []string{"CARGUE"}},
		{"a language that is not there is English", load + "&language=fi", "fi", "fi", false, "verdict", []string{"LOAD"}},
		{"the counter in English", counter, "", "", false, "verdict", []string{"FITS"}},
		{"the counter in Spanish", counter, "es", "", true, "fold", []string{"5 reglas cumplen", "Use este alambre con electrodo negativo (DCEN, polaridad directa), como pide el procedimiento."}},
	}
	for _, tt := range tests {
		got := s.in(tt.path, tt.accept, tt.cookie)
		for _, says := range tt.says {
			if !strings.Contains(got.text(tt.class), says) {
				t.Errorf("%s: GET %s: %s says %q, want %q", tt.name, tt.path, tt.class, got.text(tt.class), says)
			}
		}
		note := got.text("languages")
		if both := strings.Contains(note, fit.NotReviewed) && strings.Contains(note, fit.Spanish.NotReviewed()); both != tt.spanish {
			t.Errorf("%s: GET %s: beside it stands %q, want a word on the translation: %t", tt.name, tt.path, note, tt.spanish)
		}
		if kept := got.header.Get("Set-Cookie"); strings.HasPrefix(kept, "language=es") != strings.Contains(tt.path, "language=es") {
			t.Errorf("%s: GET %s: keeps %q", tt.name, tt.path, kept)
		}
	}
}

// TestASpanishTickIsKeptInEnglish loads a spool as a welder does who reads
// Spanish: the ledger keeps the English words, as of everybody.
func TestASpanishTickIsKeptInEnglish(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	english, spanish := s.in(s.atFeeder(s.good.Code), "", ""), s.in(s.atFeeder(s.good.Code), "es", "")
	if english.ticks().Encode() != spanish.ticks().Encode() {
		t.Errorf("ticked in Spanish: %v, want what English has: %v", spanish.ticks(), english.ticks())
	}
	form := spanish.filled("/load")
	for name, says := range spanish.ticks() {
		form[name] = says
	}
	if got := s.post("/load", form); got.status != http.StatusSeeOther {
		t.Fatalf("POST /load %v: %d, want 303\n%s", form, got.status, got.text("notice"))
	}
	history := s.history(s.good.Code)
	if last := history[len(history)-1]; !strings.Contains(last.Reason, "Set the machine to electrode negative (DCEN).") || strings.Contains(last.Reason, "máquina") {
		t.Errorf("the ledger keeps %q, want it in English", last.Reason)
	}
}
