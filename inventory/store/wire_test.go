package store_test

import (
	"bytes"
	"database/sql"
	"errors"
	"image"
	"image/png"
	"log/slog"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/pressly/goose/v3"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
	"wirehold/migrations"
)

// sheetFacts reads facts as typed, from a data sheet.
func sheetFacts(t testing.TB, source string, typed ...string) filler.Facts {
	t.Helper()
	var out filler.Facts
	for _, one := range typed {
		name, text, _ := strings.Cut(one, "=")
		f, ok := inventory.SheetFactNamed(name)
		if !ok {
			t.Fatalf("no fact %q", name)
		}
		for _, fact := range must(f.Read(text))(t) {
			fact.Provenance, fact.Source = filler.DataSheet, source
			out = append(out, fact)
		}
	}
	return out
}

// entry is a wire as the engineer enters it.
func (s *shop) wireEntry(facts filler.Facts) inventory.WireEntry {
	return inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: inventory.Wire{Maker: "Maker Cobalt", TradeName: "Cobalt Petrel 11",
		Classifications: []string{"aws a5.20 e71t-11"}, Diameter: 35 * unit.Inch / 1000, Marked: ".035", Package: "10 lb spool", Net: 4500, Tare: 250, Supplied: facts}}
}

func TestAWireIsEnteredByThoseWhoMay(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	buyer := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Tobin", Role: inventory.Buyer}))(t)
	e := s.wireEntry(sheetFacts(t, "Sheet 11 rev 2", "stick_out=10-13 mm", "travel=drag"))
	for _, person := range []inventory.Person{s.attendant, s.welder} {
		forbidden := e
		forbidden.Person = person.Code
		if _, err := s.ledger.EnterWire(ctx, forbidden); inventory.KindOf(err) != inventory.Forbidden {
			t.Errorf("EnterWire by a %s: error %v, want Forbidden", person.Role, err)
		}
	}
	e.Person = buyer.Code
	w := must(s.ledger.EnterWire(ctx, e))(t)
	again := must(s.ledger.EnterWire(ctx, e))(t)
	stored := must(s.store.Catalog(ctx).Wire(w.ID))(t)
	if diff := cmp.Diff(w, stored); diff != "" {
		t.Errorf("stored (-returned +stored):\n%s", diff)
	}
	if again.ID != w.ID || w.Version != 1 || !slices.Equal(w.Classifications, []string{"E71T-11"}) {
		t.Errorf("EnterWire sent twice: wires %d and %d, version %d, %v", w.ID, again.ID, w.Version, w.Classifications)
	}
	other := e
	other.Wire.TradeName = "Cobalt Petrel 12"
	if _, err := s.ledger.EnterWire(ctx, other); inventory.KindOf(err) != inventory.Conflict {
		t.Errorf("EnterWire of another wire by the same key: error %v, want Conflict", err)
	}
	other.RequestKey, other.Wire = s.key(), e.Wire
	if _, err := s.ledger.EnterWire(ctx, other); inventory.CodeOf(err) != "already-there" {
		t.Errorf("EnterWire of the same wire again: error %v, want it to be there already", err)
	}
	other.RequestKey, other.Wire.Package = s.key(), "drum"
	must(s.ledger.EnterWire(ctx, other))(t)
	changes := must(s.store.Catalog(ctx).WireChanges(w.ID, 10))(t)
	if len(changes) != 1 || changes[0].PersonName != "Tobin" || changes[0].Deed != inventory.WireEntered || !strings.Contains(strings.Join(changes[0].What, "\n"), "stick-out by data sheet: 10-13 mm (Sheet 11 rev 2)") {
		t.Errorf("WireChanges = %+v, want one line by Tobin with the stick-out", changes)
	}
	if title, revision := stored.SheetOf(); title != "Sheet 11" || revision != "2" {
		t.Errorf("SheetOf() = %q, %q", title, revision)
	}
}

func TestEveryFaultOfAWireIsNamedAtOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	e := s.wireEntry(filler.Facts{{Name: "stick_out", Value: "far", Provenance: filler.DataSheet, Source: "x"}})
	e.Wire.TradeName, e.Wire.Diameter, e.Wire.Net = " ", 0, 0
	e.Wire.Classifications = []string{"E71T-1C", "E71X-1C"}
	_, err := s.ledger.EnterWire(t.Context(), e)
	got, ok := errors.AsType[*inventory.Error](err)
	if !ok || got.Kind != inventory.Invalid {
		t.Fatalf("EnterWire: %v, want Invalid", err)
	}
	var fields []string
	for _, f := range got.Fields {
		fields = append(fields, f.Field)
		if f.Field == "classifications" && !strings.Contains(f.Detail, `"X"`) {
			t.Errorf("fault %q does not name the X", f.Detail)
		}
	}
	slices.Sort(fields)
	if want := []string{"classifications", "diameter", "net", "stick_out", "trade_name"}; !slices.Equal(fields, want) {
		t.Errorf("EnterWire names %v, want %v", fields, want)
	}
}

func TestTheSecondEditorIsToldWhoWasFirst(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	w := must(s.ledger.EnterWire(ctx, s.wireEntry(nil)))(t)
	first := inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: w}
	first.Wire.Minimum = 9000
	must(s.ledger.ChangeWire(ctx, first))(t)
	second := inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: w}
	second.Wire.Marked = "0.9 mm"
	_, err := s.ledger.ChangeWire(ctx, second)
	if inventory.KindOf(err) != inventory.Conflict || !strings.Contains(err.Error(), "Ilse") {
		t.Errorf("ChangeWire of an old version: %v, want Conflict that names Ilse", err)
	}
	now := must(s.store.Catalog(ctx).Wire(w.ID))(t)
	if now.Version != 2 || now.Minimum != 9000 || now.Marked != ".035" {
		t.Errorf("after that: %+v, want version 2 with the first change alone", now)
	}
	nowhere := inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: now}
	nowhere.Wire.ID = 0
	if _, err := s.ledger.ChangeWire(ctx, nowhere); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("ChangeWire of no wire: error %v, want NotFound", err)
	}
	same := inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: now}
	if after := must(s.ledger.ChangeWire(ctx, same))(t); after.Version != 2 {
		t.Errorf("ChangeWire without a change: version %d, want 2", after.Version)
	}
}

func TestADisagreementStopsTheWireUntilTheEngineerSettlesIt(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	spool := s.spools[0].Code
	edit := func(facts filler.Facts) inventory.Wire {
		t.Helper()
		w := must(s.store.Catalog(ctx).Wire(s.wire.ID))(t)
		w.Supplied = facts
		return must(s.ledger.ChangeWire(ctx, inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: w}))(t)
	}
	w := edit(sheetFacts(t, "Sheet 71M rev 1", "polarity=DCEN"))
	refused := func(when string) {
		t.Helper()
		_, err := s.ledger.Issue(ctx, s.issue(spool))
		e, ok := errors.AsType[*inventory.Error](err)
		if !ok || e.Kind != inventory.Refused || !strings.Contains(e.Detail, "polarity") {
			t.Fatalf("%s: Issue: %v, want Refused over the polarity", when, err)
		}
	}
	refused("box says DCEP, sheet says DCEN")

	settle := inventory.Settlement{Person: s.engineer.Code, RequestKey: s.key(), WireID: w.ID, Version: w.Version, Fact: "polarity", Side: "DCEP", Reason: "maker's letter"}
	tests := []struct {
		name   string
		change func(*inventory.Settlement)
		kind   inventory.Kind
	}{
		{"by the attendant", func(x *inventory.Settlement) { x.Person = s.attendant.Code }, inventory.Forbidden},
		{"without a reason", func(x *inventory.Settlement) { x.Reason = " " }, inventory.Invalid},
		{"on neither side", func(x *inventory.Settlement) { x.Side = "AC" }, inventory.Invalid},
		{"of what is no conflict", func(x *inventory.Settlement) { x.Fact = "passes" }, inventory.Conflict},
		{"of another version", func(x *inventory.Settlement) { x.Version = 1 }, inventory.Conflict},
	}
	for _, tt := range tests {
		x := settle
		x.RequestKey = s.key()
		tt.change(&x)
		if _, err := s.ledger.SettleWire(ctx, x); inventory.KindOf(err) != tt.kind {
			t.Errorf("settled %s: %v, want %s", tt.name, err, tt.kind)
		}
	}
	w = must(s.ledger.SettleWire(ctx, settle))(t)
	if got := w.Settled(); len(got) != 1 || got[0].Source != "settled by Ilse on 2026-03-02: maker's letter" {
		t.Errorf("Settled() = %+v", got)
	}
	must(s.ledger.Issue(ctx, s.issue(spool)))(t)
	gross := unit.Grams(15_000)
	must(s.ledger.Return(ctx, inventory.Return{Entry: s.entry(spool), Place: s.shelf.Code, Gross: &gross}))(t)

	if w = edit(sheetFacts(t, "Sheet 71M rev 1", "polarity=DCEN", "travel=push")); len(w.Settled()) != 1 {
		t.Errorf("another fact of the same sheet unsettles: %+v", w.Supplied)
	}
	if w = edit(sheetFacts(t, "Sheet 71M rev 2", "polarity=DCEN", "travel=push")); len(w.Settled()) != 0 {
		t.Errorf("a new revision leaves it settled: %+v", w.Supplied)
	}
	refused("the sheet has changed")
}

func TestTheShopNarrowsAndDoesNotSettleOnTheQuiet(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	buyer := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Tobin", Role: inventory.Buyer}))(t)
	shopSays := func(name, value string) filler.Facts {
		facts := sheetFacts(t, "trial 7", name+"="+value)
		facts[0].Provenance = filler.Shop
		return facts
	}
	tests := []struct {
		name   string
		person inventory.Person
		facts  filler.Facts
		kind   inventory.Kind
	}{
		{"the engineer narrows", s.engineer, shopSays("positions", "flat|horizontal"), ""},
		{"the buyer may not", buyer, shopSays("positions", "flat|horizontal"), inventory.Forbidden},
		{"a contradiction", s.engineer, shopSays("polarity", "DCEP"), inventory.Invalid},
		{"a settlement without a reason", s.engineer, append(shopSays("polarity", "DCEN"), sheetFacts(t, "sheet", "polarity=DCEP")...), inventory.Invalid},
		{"a fact that is in no table", s.engineer, filler.Facts{{Name: "colour", Value: "red", Provenance: filler.Shop, Source: "x"}}, inventory.Invalid},
		{"a fact on nobody's word", s.engineer, filler.Facts{{Name: "polarity", Value: "DCEN", Provenance: filler.Shop}}, inventory.Invalid},
		{"a fact that claims to be published", s.engineer, filler.Facts{{Name: "polarity", Value: "DCEN", Provenance: filler.Published, Source: "x"}}, inventory.Invalid},
	}
	for _, tt := range tests {
		e := s.wireEntry(tt.facts)
		e.Person, e.Wire.TradeName = tt.person.Code, tt.name
		if _, err := s.ledger.EnterWire(ctx, e); inventory.KindOf(err) != tt.kind {
			t.Errorf("%s: EnterWire: %v, want %q", tt.name, err, tt.kind)
		}
	}
	forged := s.wireEntry(filler.Facts{{Name: "polarity", Value: "DCEN", Provenance: filler.Shop, Source: "settled by nobody"}})
	forged.Wire.Package = "drum"
	if w := must(s.ledger.EnterWire(ctx, forged))(t); len(w.Supplied) != 0 {
		t.Errorf("a forged settlement is kept: %+v", w.Supplied)
	}
}

func TestASheetIsKeptByItsContent(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 3, 3))); err != nil {
		t.Fatal(err)
	}
	pdf := []byte("%PDF-1.4\n1 0 obj\nendobj\n%%EOF\n")
	attach := func(name string, content []byte) (inventory.Sheet, error) {
		return s.ledger.AttachSheet(ctx, inventory.Attachment{Person: s.engineer.Code, RequestKey: s.key(), WireID: s.wire.ID, Title: "Sheet 71M", Revision: "4", FileName: name, Content: content})
	}
	bad := []struct {
		name    string
		content []byte
		kind    inventory.Kind
	}{
		{"empty.pdf", nil, inventory.Invalid},
		{"page.pdf", []byte("<html><script>alert(1)</script>"), inventory.Invalid},
		{"cut.pdf", []byte("%PDF-1.4\n1 0 obj"), inventory.Invalid},
		{"cut.png", picture.Bytes()[:20], inventory.Invalid},
		{"large.pdf", append(append([]byte("%PDF-1.4"), make([]byte, inventory.MaxSheet)...), "%%EOF"...), inventory.Invalid},
	}
	for _, tt := range bad {
		if _, err := attach(tt.name, tt.content); inventory.KindOf(err) != tt.kind {
			t.Errorf("AttachSheet(%s, %d bytes): %v, want %s", tt.name, len(tt.content), err, tt.kind)
		}
	}
	kept := must(attach(`C:\sheets\71M "new".html`, picture.Bytes()))(t)
	if kept.MediaType != "image/png" || kept.FileName != "71M new.html" || len(kept.SHA256) != 64 {
		t.Errorf("kept %+v, want a PNG whatever its name says", kept)
	}
	must(attach("71M.pdf", pdf))(t)
	if _, err := attach("copy.pdf", pdf); inventory.KindOf(err) != inventory.Conflict {
		t.Errorf("the same file twice: %v, want Conflict", err)
	}
	sheet, content, err := s.store.Catalog(ctx).Sheet(kept.ID)
	if err != nil || !bytes.Equal(content, picture.Bytes()) || sheet.PersonName != "Ilse" || sheet.Source() != "Sheet 71M rev 4" {
		t.Errorf("Sheet(%d) = %+v, %d bytes, %v", kept.ID, sheet, len(content), err)
	}
	if sheets := must(s.store.Catalog(ctx).Sheets(s.wire.ID))(t); len(sheets) != 2 || sheets[0].FileName != "71M.pdf" {
		t.Errorf("Sheets = %+v, want two, the latest first", sheets)
	}
	if _, _, err := s.store.Catalog(ctx).Sheet(99); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("Sheet(99): %v, want NotFound", err)
	}
}

func TestWhatRestsOnMemoryIsReadFromTheBox(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	wire := must(s.ledger.AddWire(ctx, inventory.Wire{Maker: "Maker Ember", TradeName: "Ember Bright 308", Classifications: []string{"E308LT1-1/4"},
		Diameter: 45 * unit.Inch / 1000, Net: 12_500, Tare: 700, Supplied: sheetFacts(t, "sheet", "passes=single and multiple")}))(t)
	questions := must(wire.BoxQuestions())(t)
	var asked []string
	for _, q := range questions {
		asked = append(asked, q.Field+" "+q.Text())
	}
	if want := []string{"box_polarity DCEP", "box_tensile_min 75 ksi"}; !slices.Equal(asked, want) {
		t.Fatalf("BoxQuestions() = %v, want %v: passes are on the sheet", asked, want)
	}
	answers := func(polarity, strength inventory.BoxSays) []inventory.BoxAnswer {
		return []inventory.BoxAnswer{{Field: "box_polarity", Value: "DCEP", Says: polarity, Read: "DCEN"}, {Field: "box_tensile_min", Value: "75 ksi", Says: strength}}
	}
	receipt := func(box []inventory.BoxAnswer) inventory.Receipt {
		r := s.receipt(1)
		r.WireID, r.Box = wire.ID, box
		return r
	}
	wrong := []struct {
		name string
		box  []inventory.BoxAnswer
	}{
		{"no answer at all", []inventory.BoxAnswer{}},
		{"one answer missing", answers(inventory.AsOnBox, "")},
		{"another value", []inventory.BoxAnswer{{Field: "box_polarity", Value: "DCEN", Says: inventory.AsOnBox}, {Field: "box_tensile_min", Value: "75 ksi", Says: inventory.AsOnBox}}},
		{"no such answer", answers("perhaps", inventory.AsOnBox)},
	}
	for _, tt := range wrong {
		if _, _, err := s.ledger.Receive(ctx, receipt(tt.box)); inventory.KindOf(err) != inventory.Invalid {
			t.Errorf("%s: Receive: %v, want Invalid", tt.name, err)
		}
	}
	byWelder := receipt(answers(inventory.AsOnBox, inventory.AsOnBox))
	byWelder.Person = s.welder.Code
	if _, _, err := s.ledger.Receive(ctx, byWelder); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("a welder confirms: %v, want Forbidden", err)
	}
	now := func() inventory.Wire { return must(s.store.Catalog(ctx).Wire(wire.ID))(t) }
	if diff := cmp.Diff(wire, now()); diff != "" {
		t.Errorf("a refused receipt changed the wire:\n%s", diff)
	}

	r := receipt(answers(inventory.Otherwise, inventory.AsOnBox))
	r.Certificate = ""
	lot, _, err := s.ledger.Receive(ctx, r)
	if err != nil || lot.Status != "on hold" || !strings.Contains(lot.Reason, "no certificate") || !strings.Contains(lot.Reason, "the box says DCEN for polarity, not DCEP") {
		t.Errorf("the box says otherwise: lot %+v, %v; want it on hold for both reasons", lot, err)
	}
	strength, _ := now().Supplied.Best("tensile_min")
	if strength.Provenance != filler.Shop || strength.Source != "confirmed on the box of lot "+lot.Number+" by Ina" || now().Version != 2 {
		t.Errorf("confirmed %+v, version %d", strength, now().Version)
	}
	if _, _, err := s.ledger.Receive(ctx, r); err != nil || now().Version != 2 {
		t.Errorf("the same request again: version %d, %v; want 2", now().Version, err)
	}
	if left := must(now().BoxQuestions())(t); len(left) != 1 || left[0].Name != "polarity" {
		t.Errorf("still asked: %+v, want the polarity alone", left)
	}
	lot, _, err = s.ledger.Receive(ctx, receipt(answers(inventory.NotOnTheBox, "")[:1]))
	if err != nil || lot.Status != "on hold" || !strings.Contains(lot.Reason, "polarity is not on the box") {
		t.Errorf("not on the box: lot %+v, %v; want it on hold", lot, err)
	}
	lot, _, err = s.ledger.Receive(ctx, receipt(answers(inventory.AsOnBox, "")[:1]))
	if err != nil || lot.Status != "accepted" || len(must(now().BoxQuestions())(t)) != 0 {
		t.Errorf("as on the box: lot %+v, %v; want it accepted and nothing left to ask", lot, err)
	}

	// A sheet that contradicts what was confirmed is for the engineer, not for
	// the attendant's word.
	w := now()
	w.Supplied = append(w.Supplied, sheetFacts(t, "sheet", "polarity=DCEN")...)
	w = must(s.ledger.ChangeWire(ctx, inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: w}))(t)
	if conflicts := must(w.Conflicts())(t); len(conflicts) != 1 || conflicts[0].Fact != "polarity" {
		t.Errorf("Conflicts() = %+v, want one over the polarity", conflicts)
	}
}

func TestListsOfWiresShowDisagreements(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	w := must(s.ledger.EnterWire(t.Context(), s.wireEntry(sheetFacts(t, "sheet", "polarity=DCEP"))))(t)
	for _, line := range must(s.store.Catalog(t.Context()).Wires(inventory.Query{}))(t) {
		conflicts := must(line.Conflicts())(t)
		if (len(conflicts) > 0) != (line.ID == w.ID) {
			t.Errorf("%s in the list: conflicts %+v", line.TradeName, conflicts)
		}
	}
}

// What cannot be issued is not in stock: it counts as usable once it is settled.
func TestStockOfAWireInDisputeIsNotUsable(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	change := func(w inventory.Wire) inventory.Wire {
		t.Helper()
		return must(s.ledger.ChangeWire(ctx, inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: w}))(t)
	}
	w := must(s.store.Catalog(ctx).Wire(s.wire.ID))(t)
	w.Minimum = 20_000 // two full spools are 30 kg
	w = change(w)
	s.showsStock(t, "box and sheet agree", 30_000, 0, false, "")

	w.Supplied = sheetFacts(t, "Sheet 71M rev 1", "polarity=DCEN")
	w = change(w)
	s.showsStock(t, "they disagree", 0, 30_000, true, "0 kg usable in stock, 20 kg below the shop's minimum of 20 kg. 30 kg more waits")

	must(s.ledger.SettleWire(ctx, inventory.Settlement{Person: s.engineer.Code, RequestKey: s.key(), WireID: w.ID, Version: w.Version, Fact: "polarity", Side: "DCEP", Reason: "maker's letter"}))(t)
	s.showsStock(t, "it is settled", 30_000, 0, false, "")
}

// showsStock checks what lists and sweep say of the shop's wire.
func (s *shop) showsStock(t *testing.T, when string, usable, waits unit.Grams, disputed bool, alert string) {
	t.Helper()
	c, r := s.store.Catalog(t.Context()), s.store.Read(t.Context())
	wire, stock := must(c.Wires(inventory.Query{}))(t)[0], must(r.Stock())(t)[0]
	if wire.Usable != usable || wire.Waits != waits || stock.Usable != usable || stock.Waits != waits {
		t.Errorf("%s: %s usable and %s waiting in the list, %s and %s in stock, want %s and %s", when, wire.Usable, wire.Waits, stock.Usable, stock.Waits, usable, waits)
	}
	listed, one := must(c.Spools(inventory.Query{}))(t)[0], must(c.SpoolLine(s.spools[0].Code))(t)
	if listed.Disputed != disputed || one.Disputed != disputed {
		t.Errorf("%s: disputed %t in the list, %t alone, want %t", when, listed.Disputed, one.Disputed, disputed)
	}
	if _, _, err := s.ledger.SweepReorder(t.Context(), s.now()); err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, a := range must(r.OpenAlerts(inventory.ReorderAlert))(t) {
		got += a.Text
	}
	if (got == "") != (alert == "") || !strings.Contains(got, alert) {
		t.Errorf("%s: the alert says %q, want %q", when, got, alert)
	}
}

func TestAWireIsNotEditedIntoAnother(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	first := must(s.ledger.EnterWire(ctx, s.wireEntry(nil)))(t)
	entry := s.wireEntry(nil)
	entry.Wire.Package = "another package"
	second := must(s.ledger.EnterWire(ctx, entry))(t)
	tests := []struct {
		name   string
		change func(*inventory.Wire)
		kind   inventory.Kind
	}{
		{"the package of the other, in another case", func(w *inventory.Wire) { w.Package = strings.ToUpper(first.Package) }, inventory.Conflict},
		{"its own package, a minimum", func(w *inventory.Wire) { w.Minimum = 9000 }, ""},
		{"its own package, in another case", func(w *inventory.Wire) { w.Package = strings.ToUpper(w.Package) }, ""},
		{"the package of the other in another size", func(w *inventory.Wire) { w.Package, w.Diameter = first.Package, 2*first.Diameter }, ""},
	}
	for _, tt := range tests {
		w := must(s.store.Catalog(ctx).Wire(second.ID))(t)
		tt.change(&w)
		_, err := s.ledger.ChangeWire(ctx, inventory.WireEntry{Person: s.engineer.Code, RequestKey: s.key(), Wire: w})
		if inventory.KindOf(err) != tt.kind {
			t.Errorf("%s: ChangeWire: error %v, want kind %q", tt.name, err, tt.kind)
		}
	}
}

// A wire that was entered before wires had versions has its first.
func TestWiresOfTheFirstSchemaKeepAll(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "old.db")
	db := must(sql.Open(driver, bareDSN(path)))(t)
	old := must(goose.NewProvider(goose.DialectSQLite3, db, migrations.Files, goose.WithSlog(slog.New(slog.DiscardHandler))))(t)
	must(old.UpTo(t.Context(), 1))(t)
	for _, insert := range []string{
		`INSERT INTO wires (id, maker, trade_name, classifications, diameter_nm, marked, package, net_g, tare_g, minimum_g) VALUES (1, 'Maker Dune', 'Dune Dray 4', 'E70T-4', 2381250, '3/32 in', '50 lb coil', 22700, 1100, 0)`,
		`INSERT INTO wire_facts (wire_id, line, name, value, unit, condition, provenance, source, note) VALUES (1, 0, 'stick_out', '51-89', 'mm', '', 'data sheet', 'invented sheet', '')`,
	} {
		must(db.ExecContext(t.Context(), insert))(t)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	s := must(store.Open(t.Context(), path, slog.New(slog.DiscardHandler)))(t)
	defer s.Close()
	w := must(s.Catalog(t.Context()).Wire(1))(t)
	if w.Version != 1 || w.TradeName != "Dune Dray 4" || len(w.Supplied) != 1 {
		t.Errorf("after the migration: %+v, want version 1 with its fact", w)
	}
}

// E71T-1C is a class of A5.20 and one that A5.36 carries: what the label names
// is kept, so that the facts read back are of the specification it was made to.
func TestAClassKeepsTheSpecificationOfItsLabel(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	w := s.wire
	w.ID, w.TradeName, w.Classifications = 0, "Kestrel by 36", []string{"AWS A5.36: E71T-1C"}
	w = must(s.ledger.AddWire(t.Context(), w))(t)
	read := must(s.store.Read(t.Context()).Wire(w.ID))(t)
	d := must(filler.Decode(read.Classifications[0]))(t)
	if d.Spec != "AWS A5.36/A5.36M" {
		t.Errorf("%q is read back as a class of %s", read.Classifications[0], d.Spec)
	}
}
