package pages_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// open opens the spools, and issues every second one to the welder.
func (s *site) open(tb testing.TB, spools []inventory.Spool) {
	tb.Helper()
	for i, spool := range spools {
		e := inventory.Entry{Spool: spool.Code, Person: s.attendant.Code, RequestKey: "open " + string(spool.Code)}
		if _, err := s.ledger.Open(tb.Context(), e); err != nil {
			tb.Fatal(err)
		}
		if i%2 == 0 {
			continue
		}
		e.RequestKey = "issue " + string(spool.Code)
		gross := spool.Net + spool.Tare
		if _, err := s.ledger.Issue(tb.Context(), inventory.Issue{Entry: e, Job: s.job.Code, Holder: s.welder.Code, Gross: &gross}); err != nil {
			tb.Fatal(err)
		}
	}
}

// limited enters a wire whose sheet gives a limit on exposure.
func (s *site) limited(n, hours int) inventory.Wire {
	return must(s.ledger.AddWire(s.t.Context(), inventory.Wire{Maker: "Testmaker", TradeName: fmt.Sprintf("Greyline 11-%d", n), Classifications: []string{"E71T-11"},
		Diameter: 45 * unit.Inch / 1000, Marked: ".045 in", Package: "12 in spool", Net: 15000, Tare: 700,
		Supplied: filler.Facts{{Name: "exposure_limit", Value: fmt.Sprint(hours), Unit: "h", Provenance: filler.DataSheet, Source: "invented sheet"}}}))(s.t)
}

func TestTheBoardSaysHowEachSpoolStands(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	if got := s.get("/board"); got.status != http.StatusOK || !strings.Contains(got.text("empty"), "Nothing is out and nothing is open") {
		t.Errorf("GET /board with nothing out: status %d\n%s", got.status, got.text("main"))
	}
	_, short := s.receive(s.limited(1, 24), "S-1", 2)
	_, long := s.receive(s.limited(2, 72), "L-1", 2)
	s.open(t, []inventory.Spool{s.good}) // nobody gives its wire a limit
	s.open(t, long)
	s.open(t, short)
	tests := []struct {
		after time.Duration
		want  []string // of the rows in order, part of each
	}{
		{time.Hour, []string{"in time 23 h Thu 07:10 " + string(short[0].Code), "in time 23 h", "in time 71 h", "in time 71 h", "not known not known ask the engineer " + string(s.good.Code)}},
		{23 * time.Hour, []string{"soon 1 h 00 min 07:10", "soon 1 h 00 min", "in time 49 h", "in time 49 h", "not known"}},
		{24*time.Hour + 90*time.Second, []string{"past limit over by 1 min 07:10 it ran out", "past limit over by", "in time 47 h", "in time 47 h", "not known"}},
		{73 * time.Hour, []string{"past limit over by 49 h", "past limit", "past limit over by 1 h", "past limit", "not known"}},
	}
	start := s.now
	for _, tt := range tests {
		s.now = start.Add(tt.after)
		rows := strings.Split(s.get("/board").text("board-row"), "\n")
		if len(rows) != len(tt.want) {
			t.Errorf("after %s: %d rows, want %d:\n%s", tt.after, len(rows), len(tt.want), strings.Join(rows, "\n"))
			continue
		}
		for i, want := range tt.want {
			if !strings.Contains(rows[i], want) {
				t.Errorf("after %s row %d is %q, want %q in it", tt.after, i, rows[i], want)
			}
		}
	}
	s.now = start.Add(74 * time.Hour)
	kept := long[0]
	if _, err := s.ledger.Move(t.Context(), inventory.Entry{Spool: kept.Code, Person: s.attendant.Code, RequestKey: "into the cabinet"}, s.cabinet.Code); err != nil {
		t.Fatal(err)
	}
	s.now = start.Add(200 * time.Hour)
	if text := s.get("/board").text("board-row"); !strings.Contains(text, "over by 2 h Sat 07:10 it ran out "+string(kept.Code)) {
		t.Errorf("in a dry-kept place the clock of %s runs:\n%s", kept.Code, text)
	}
	if text := s.get("/board").text("board-row"); !strings.Contains(text, "Wil Bead job 2207") {
		t.Errorf("the board does not say who has what:\n%s", text)
	}
}

// fullBoard is a site with 100 spools on its board, of ten wires.
func fullBoard(tb testing.TB) *site {
	tb.Helper()
	s := newSite(tb)
	for n := range 10 {
		_, spools := s.receive(s.limited(n, 24+n), fmt.Sprintf("B-%d", n), 10)
		s.open(tb, spools)
	}
	return s
}

// BenchmarkBoard is what the server takes to answer with 100 rows, from the
// request to the last letter of the page.
func BenchmarkBoard(b *testing.B) {
	s := fullBoard(b)
	for b.Loop() {
		w := httptest.NewRecorder()
		s.h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/board", nil))
		if w.Code != http.StatusOK || strings.Count(w.Body.String(), `class="board-row"`) != 100 {
			b.Fatalf("status %d, %d rows", w.Code, strings.Count(w.Body.String(), `class="board-row"`))
		}
	}
}

// BenchmarkBoardDrawn is the same where the board has changed before each
// request, so that it must be read and drawn anew.
func BenchmarkBoardDrawn(b *testing.B) {
	s := fullBoard(b)
	for b.Loop() {
		s.now = s.now.Add(time.Minute)
		w := httptest.NewRecorder()
		s.h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/board", nil))
		if w.Code != http.StatusOK || strings.Count(w.Body.String(), `class="board-row"`) != 100 {
			b.Fatalf("status %d, %d rows", w.Code, strings.Count(w.Body.String(), `class="board-row"`))
		}
	}
}
