package pages_test

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
	"golang.org/x/net/html"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
	"wirehold/server/pages"
)

// site is the pages over a database of their own, with a small store in it.
type site struct {
	t      testing.TB
	store  *store.Store
	ledger *inventory.Ledger
	h      http.Handler
	now    time.Time

	attendant, welder, engineer inventory.Person
	shelf, cabinet              inventory.Place
	feeder                      inventory.Feeder
	gasless, gassed             inventory.Wire
	job                         inventory.Job // takes gasless, not gassed
	lot                         inventory.Lot // of gasless
	good, other                 inventory.Spool
	wrong                       inventory.Spool // of gassed
}

// newSite returns a site whose clock stands at a time that only tick moves.
func newSite(t testing.TB) *site {
	t.Helper()
	s := &site{t: t, now: time.Date(2026, 11, 25, 7, 10, 0, 0, time.UTC)}
	quiet := slog.New(slog.NewTextHandler(io.Discard, nil))
	db, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "wirehold.db"), quiet)
	if err != nil {
		t.Fatalf("store.Open: %v", err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	profiles := []fit.Profile{{ID: inventory.GeneralProfile, Name: "General shop"}}
	s.store = db
	s.ledger = inventory.NewLedger(db, profiles, func() time.Time { return s.now })
	s.serve()
	s.fill()
	return s
}

// serve makes the pages over the site's ledger.
func (s *site) serve() {
	s.t.Helper()
	keys := 0
	site, err := pages.New(pages.Deps{
		Ledger:  s.ledger,
		Catalog: func(ctx context.Context) pages.Catalog { return s.store.Catalog(ctx) },
		Log:     slog.New(slog.DiscardHandler),
		Now:     func() time.Time { return s.now },
		NewKey:  func() string { keys++; return "key-" + strconv.Itoa(keys) },
		Base:    "https://wire.example",
	})
	if err != nil {
		s.t.Fatalf("pages.New: %v", err)
	}
	gin.SetMode(gin.TestMode)
	r := gin.New()
	r.Use(func(c *gin.Context) { c.Set("request_id", "REQUEST7") })
	site.Register(r)
	s.h = r
}

// fill enters people, places, two wires, a job for one of them and spools.
func (s *site) fill() {
	s.t.Helper()
	ctx := s.t.Context()
	s.attendant = must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Ada Counter", Role: inventory.Attendant}))(s.t)
	s.welder = must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Wil Bead", Role: inventory.Welder}))(s.t)
	s.engineer = must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Eva Root", Role: inventory.Engineer}))(s.t)
	s.shelf = must(s.ledger.AddPlace(ctx, inventory.Place{Name: "Shelf A1", Kind: inventory.Shelf}))(s.t)
	s.cabinet = must(s.ledger.AddPlace(ctx, inventory.Place{Name: "Cabinet 1", Kind: inventory.DryCabinet, DryKept: true}))(s.t)
	s.feeder = must(s.ledger.AddFeeder(ctx, inventory.Feeder{Place: inventory.Place{Name: "Feeder 3"}, Polarities: []fit.Polarity{fit.DCEN, fit.DCEP}, Gas: &fit.Gas{}}))(s.t)
	s.gasless = s.wire("Greyline 11", "E71T-11")
	s.gassed = s.wire("Redline 1C", "E71T-1C")
	procedure := must(s.ledger.AddProcedure(ctx, inventory.Procedure{Number: "WPS-14", Revision: "C", Classifications: []string{"E71T-11"}, Polarity: fit.DCEN, Gas: &fit.Gas{}}))(s.t)
	s.job = must(s.ledger.AddJob(ctx, inventory.Job{Number: "2207", Name: "Gate posts", Procedures: []int64{procedure.ID}, ProfileID: inventory.GeneralProfile}))(s.t)
	var spools []inventory.Spool
	s.lot, spools = s.receive(s.gasless, "GL-1", 2)
	s.good, s.other = spools[0], spools[1]
	_, spools = s.receive(s.gassed, "RL-1", 1)
	s.wrong = spools[0]
}

func (s *site) wire(name, class string) inventory.Wire {
	return must(s.ledger.AddWire(s.t.Context(), inventory.Wire{Maker: "Testmaker", TradeName: name, Classifications: []string{class},
		Diameter: 45 * unit.Inch / 1000, Marked: ".045 in", Package: "12 in spool", Net: 15000, Tare: 700}))(s.t)
}

func (s *site) receive(w inventory.Wire, number string, n int) (inventory.Lot, []inventory.Spool) {
	s.t.Helper()
	lot, spools, err := s.ledger.Receive(s.t.Context(), inventory.Receipt{Person: s.attendant.Code, RequestKey: "receive " + number,
		WireID: w.ID, LotNumber: number, Certificate: "C-" + number, Place: s.shelf.Code, Spools: n})
	if err != nil {
		s.t.Fatalf("Receive(%s): %v", number, err)
	}
	return lot, spools
}

// must unwraps a value that has to be there.
func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatalf("fill the store: %v", err)
		}
		return v
	}
}

// answer is a response, parsed.
type answer struct {
	status   int
	location string
	header   http.Header
	body     string
	doc      *html.Node
}

func (s *site) get(target string) answer {
	s.t.Helper()
	return s.do(httptest.NewRequest(http.MethodGet, target, nil))
}

func (s *site) post(target string, form url.Values) answer {
	s.t.Helper()
	r := httptest.NewRequest(http.MethodPost, target, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return s.do(r)
}

func (s *site) do(r *http.Request) answer {
	s.t.Helper()
	w := httptest.NewRecorder()
	s.h.ServeHTTP(w, r)
	doc, err := html.Parse(strings.NewReader(w.Body.String()))
	if err != nil {
		s.t.Fatalf("%s %s: not HTML: %v", r.Method, r.URL, err)
	}
	return answer{w.Code, w.Header().Get("Location"), w.Header(), w.Body.String(), doc}
}

// all returns the elements with the class; every element if class is empty.
func (a answer) all(class string) (out []*html.Node) {
	for n := range a.doc.Descendants() {
		if n.Type == html.ElementNode && (class == "" || strings.Contains(" "+attr(n, "class")+" ", " "+class+" ")) {
			out = append(out, n)
		}
	}
	return out
}

// text returns the words of the elements with the class, a line each.
func (a answer) text(class string) string {
	var out []string
	for _, n := range a.all(class) {
		out = append(out, words(n))
	}
	return strings.Join(out, "\n")
}

// field returns the form field of that name; nil if there is none.
func (a answer) field(name string) *html.Node {
	for _, n := range a.all("") {
		if (n.Data == "input" || n.Data == "select") && attr(n, "name") == name && attr(n, "id") != "find-q" {
			return n
		}
	}
	return nil
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func words(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
