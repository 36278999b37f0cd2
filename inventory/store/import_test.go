package store_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// wireList is a table of n wires, "Wire 1" and on, from line 2.
func wireList(n int) []inventory.ImportRow {
	texts := []string{"Maker|Trade name|Class|Size|Net|Tare|Stick-out|Data sheet"}
	for i := range n {
		texts = append(texts, fmt.Sprintf("Maker Birch|Wire %d|e71t-1c h8|1/16 in|15 kg|700 g|13-19 mm|Sheet rev 1", i+1))
	}
	rows := make([]inventory.ImportRow, len(texts))
	for i, text := range texts {
		rows[i].Line = i + 1
		for cell := range strings.SplitSeq(text, "|") {
			rows[i].Cells = append(rows[i].Cells, inventory.ImportCell{Text: cell})
		}
	}
	return rows
}

// buyer enters a person who may import.
func (s *shop) buyer(t testing.TB) inventory.Person {
	t.Helper()
	return must(s.ledger.AddPerson(t.Context(), inventory.Person{Name: "Bo", Role: inventory.Buyer}))(t)
}

// wireCount returns how many wires there are.
func (s *shop) wireCount(t testing.TB) int {
	t.Helper()
	return len(must(s.store.Read(t.Context()).WiresAfter(0, 10_000))(t))
}

func TestImportWiresEntersAll(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	in := inventory.WireImport{Person: s.buyer(t).Code, RequestKey: "import 1", File: "list.csv", SHA256: "abc", Rows: wireList(inventory.MostImportRows)}
	before := s.wireCount(t)
	done, plan, err := s.ledger.ImportWires(t.Context(), in)
	if err != nil || done.Wires != inventory.MostImportRows || len(plan.Lines) != inventory.MostImportRows || s.wireCount(t) != before+inventory.MostImportRows {
		t.Fatalf("ImportWires: %+v, %v; %d wires, before %d", done, err, s.wireCount(t), before)
	}
	catalog := s.store.Catalog(t.Context())
	kept, err := catalog.WireImport(done.ID)
	if diff := cmp.Diff(done, kept); err != nil || diff != "" {
		t.Errorf("WireImport(%d): %v (-want +got):\n%s", done.ID, err, diff)
	}
	lines, err := catalog.ImportedWires(done.ID, 2)
	if err != nil || len(lines) != 2 || lines[1].Line != 3 || lines[1].Typed != "e71t-1c h8" || lines[1].Wire.TradeName != "Wire 2" {
		t.Fatalf("ImportedWires(%d, 2) = %+v, %v", done.ID, lines, err)
	}
	history, err := catalog.WireChanges(lines[1].Wire.ID, 10)
	if err != nil || len(history) != 1 || history[0].PersonName != "Bo" || history[0].What[0] != "imported from line 3 of list.csv" || history[0].What[1] != "classifications as typed: e71t-1c h8" {
		t.Errorf("WireChanges(%d) = %+v, %v, want who imported it from where", lines[1].Wire.ID, history, err)
	}
	w, err := catalog.Wire(lines[1].Wire.ID)
	if err != nil || w.Classifications[0] != "E71T-1C-H8" || w.Marked != "1/16 in" || len(w.Supplied) != 1 || w.Supplied[0].Source != "Sheet rev 1" {
		t.Errorf("Wire(%d) = %+v, %v, want it as the table has it", lines[1].Wire.ID, w, err)
	}

	again, _, err := s.ledger.ImportWires(t.Context(), in)
	if diff := cmp.Diff(done, again); err != nil || diff != "" || s.wireCount(t) != before+inventory.MostImportRows {
		t.Errorf("the same request again: %v, %d wires (-want +got):\n%s", err, s.wireCount(t), diff)
	}
	in.SHA256 = "def"
	if _, _, err := s.ledger.ImportWires(t.Context(), in); inventory.CodeOf(err) != "request-key-used" {
		t.Errorf("the key with another file: %v, want request-key-used", err)
	}
}

// TestImportWiresEntersNone holds that whatever goes wrong, nothing is left of
// the import.
func TestImportWiresEntersNone(t *testing.T) {
	t.Parallel()
	there := wireList(4)
	there[3].Cells[0].Text, there[3].Cells[1].Text, there[3].Cells[2].Text, there[3].Cells[3].Text = "MAKER AMBER", "amber kestrel 71M", "E71T-1M-H8", ".045 in"
	shops := wireList(4)
	shops[2].Cells[7].Text = "shop: Bo"
	faulty := wireList(4)
	faulty[4].Cells[3].Text = "thin"
	tests := []struct {
		name  string
		rows  []inventory.ImportRow
		by    func(*shop) inventory.Code
		spoil string // what makes the database fail in the middle
		code  string
		says  string
	}{
		{"a fault in the last row", faulty, nil, "", "import-faults", "1 fault in 4 rows"},
		{"a wire that is there already", there, nil, "", "import-faults", "line 4"},
		{"what only the engineer says for the shop", shops, nil, "", "import-faults", `line 3, column "Data sheet" (H)`},
		{"a welder", wireList(4), func(s *shop) inventory.Code { return s.welder.Code }, "", "may-not-enter-wires", "the welding engineer"},
		{"an attendant", wireList(4), func(s *shop) inventory.Code { return s.attendant.Code }, "", "may-not-enter-wires", "the welding engineer"},
		{"nobody's badge", wireList(4), func(*shop) inventory.Code { return "" }, "", "invalid-person", "badge"},
		{"the third wire cannot be written", wireList(4), nil, "CREATE TRIGGER t BEFORE INSERT ON wires WHEN NEW.trade_name = 'Wire 3' BEGIN SELECT RAISE(ABORT, 'spoilt'); END", "internal", "spoilt"},
		{"its facts cannot be written", wireList(4), nil, "CREATE TRIGGER t BEFORE INSERT ON wire_facts WHEN NEW.wire_id = (SELECT id FROM wires WHERE trade_name = 'Wire 4') BEGIN SELECT RAISE(ABORT, 'spoilt'); END", "internal", "spoilt"},
		{"that it was imported cannot be written", wireList(4), nil, "CREATE TRIGGER t BEFORE INSERT ON imported_wires WHEN NEW.line = 5 BEGIN SELECT RAISE(ABORT, 'spoilt'); END", "internal", "spoilt"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 0)
			person := s.buyer(t).Code
			if tt.by != nil {
				person = tt.by(s)
			}
			if tt.spoil != "" {
				tamper(t, s.path, tt.spoil)
			}
			before := s.wireCount(t)
			_, plan, err := s.ledger.ImportWires(t.Context(), inventory.WireImport{Person: person, RequestKey: "import", Rows: tt.rows})
			said := fmt.Sprint(err, plan.Faults)
			if inventory.CodeOf(err) != tt.code || !strings.Contains(said, tt.says) {
				t.Errorf("ImportWires: %s, want %s with %q", said, tt.code, tt.says)
			}
			if after := s.wireCount(t); after != before {
				t.Errorf("%d wires, before %d: something was entered", after, before)
			}
			if _, err := s.store.Catalog(t.Context()).WireImport(1); inventory.KindOf(err) != inventory.NotFound {
				t.Errorf("WireImport(1): %v, want none", err)
			}
		})
	}
}

// TestPlanWiresKnowsTheStore holds that a dry run names wires that are there
// and changes nothing.
func TestPlanWiresKnowsTheStore(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	rows := wireList(2)
	plan, err := s.ledger.PlanWires(t.Context(), s.engineer.Code, rows)
	if err != nil || len(plan.Lines) != 2 || s.wireCount(t) != 1 {
		t.Fatalf("PlanWires: %d wires, %v; %d in the store, want 2, none entered", len(plan.Lines), err, s.wireCount(t))
	}
	if _, _, err := s.ledger.ImportWires(t.Context(), inventory.WireImport{Person: s.engineer.Code, RequestKey: "1", Rows: rows}); err != nil {
		t.Fatal(err)
	}
	plan, err = s.ledger.PlanWires(t.Context(), s.engineer.Code, rows)
	if err != nil || len(plan.Lines) > 0 || len(plan.Faults) != 2 || plan.Faults[1].Line != 3 || plan.Faults[1].Letter() != "B" || !strings.Contains(plan.Faults[1].Detail, "in the store is the same") {
		t.Errorf("PlanWires of what is there: %+v, %v, want a fault on lines 2 and 3", plan, err)
	}
}

// TestPlanWiresKnowsTheShopsNames holds that a nickname is read as the trade's
// own names are.
func TestPlanWiresKnowsTheShopsNames(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	rows := wireList(1)
	rows[0].Cells = append(rows[0].Cells, inventory.ImportCell{Text: "Kind"})
	rows[1].Cells = append(rows[1].Cells, inventory.ImportCell{Text: "yard special"})
	plan, err := s.ledger.PlanWires(t.Context(), s.engineer.Code, rows)
	if err != nil || len(plan.Faults) != 1 || !strings.Contains(plan.Faults[0].Detail, "nobody here calls a wire") {
		t.Fatalf("PlanWires before the nickname: %+v, %v, want a fault", plan, err)
	}
	must(s.ledger.AddNickname(t.Context(), inventory.Nickname{Name: "yard special", Process: fit.FCAWG, Person: s.engineer.Code}))(t)
	plan, err = s.ledger.PlanWires(t.Context(), s.engineer.Code, rows)
	if err != nil || len(plan.Lines) != 1 {
		t.Errorf("PlanWires after it: %+v, %v, want a wire", plan, err)
	}
}

// An import is worked out before its turn comes: what somebody entered
// meanwhile counts all the same.
func TestOfTwoImportsOfOneListOneEnters(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	before, person := s.wireCount(t), s.buyer(t).Code
	holds, goes := make(chan struct{}), make(chan struct{})
	ended := make(chan error, 3)
	go func() {
		ended <- s.store.Write(t.Context(), func(inventory.Tx) error { close(holds); <-goes; return nil })
	}()
	<-holds
	for i := range 2 {
		in := inventory.WireImport{Person: person, RequestKey: fmt.Sprint("import ", i), Rows: wireList(3)}
		go func() {
			_, _, err := s.ledger.ImportWires(t.Context(), in)
			ended <- err
		}()
		for s.store.Waiting() <= i && t.Context().Err() == nil {
			runtime.Gosched()
		}
	}
	close(goes)
	told := map[string]int{}
	for range 3 {
		told[inventory.CodeOf(<-ended)]++
	}
	if told[""] != 2 || told["import-faults"] != 1 || s.wireCount(t) != before+3 {
		t.Errorf("told %v, %d wires, before %d; want one import done and one refused for its faults", told, s.wireCount(t), before)
	}
}

// A list of bare wires has no facts to write.
func TestImportWiresWithoutSheet(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	rows := wireList(3)
	for i := range rows {
		rows[i].Cells = rows[i].Cells[:6]
	}
	done, _, err := s.ledger.ImportWires(t.Context(), inventory.WireImport{Person: s.buyer(t).Code, RequestKey: "import", Rows: rows})
	if err != nil || done.Wires != 3 {
		t.Errorf("ImportWires: %+v, %v, want 3 wires", done, err)
	}
}
