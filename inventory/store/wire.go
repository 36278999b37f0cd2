package store

import (
	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

type wireRow struct {
	ID              int64
	Maker           string
	TradeName       string
	Classifications string
	DiameterNm      int64
	Marked          string
	Package         string
	NetG            int64
	TareG           int64
	MinimumG        int64
	Version         int
}

func (wireRow) TableName() string { return "wires" }

func (w wireRow) wire() inventory.Wire {
	return inventory.Wire{ID: w.ID, Maker: w.Maker, TradeName: w.TradeName, Classifications: items[string](w.Classifications),
		Diameter: unit.Length(w.DiameterNm), Marked: w.Marked, Package: w.Package,
		Net: unit.Grams(w.NetG), Tare: unit.Grams(w.TareG), Minimum: unit.Grams(w.MinimumG), Version: w.Version}
}

func wireRowOf(w inventory.Wire) wireRow {
	return wireRow{ID: w.ID, Maker: w.Maker, TradeName: w.TradeName, Classifications: lines(w.Classifications), DiameterNm: int64(w.Diameter),
		Marked: w.Marked, Package: w.Package, NetG: int64(w.Net), TareG: int64(w.Tare), MinimumG: int64(w.Minimum), Version: w.Version}
}

type wireFactRow struct {
	WireID     int64
	Line       int
	Name       string
	Value      string
	Unit       string
	Condition  string
	Provenance string
	Source     string
	Note       string
}

func (wireFactRow) TableName() string { return "wire_facts" }

func scanFact(row scanner) (filler.Fact, error) {
	var f filler.Fact
	err := row.Scan(&f.Name, &f.Value, &f.Unit, &f.Condition, &f.Provenance, &f.Source, &f.Note)
	return f, err
}

// Wire returns a wire with all that data sheet and shop say of it.
func (r *reader) Wire(id int64) (inventory.Wire, error) {
	var w wireRow
	err := r.stmt(r.hot.wire).QueryRowContext(r.ctx, id).Scan(&w.ID, &w.Maker, &w.TradeName, &w.Classifications, &w.DiameterNm, &w.Marked, &w.Package, &w.NetG, &w.TareG, &w.MinimumG, &w.Version)
	if err != nil {
		return inventory.Wire{}, missing(err, "no-such-wire", "there is no wire %d", id)
	}
	wire := w.wire()
	rows, err := r.stmt(r.hot.wireFacts).QueryContext(r.ctx, id)
	wire.Supplied, err = collect(rows, err, scanFact)
	return wire, err
}

// AddWire enters a wire, at its first version.
func (t *tx) AddWire(w inventory.Wire) (int64, error) {
	id, err := t.next("wire")
	if err != nil {
		return 0, err
	}
	w.ID, w.Version = id, 1
	row := wireRowOf(w)
	if err := t.db.Create(&row).Error; err != nil {
		return 0, err
	}
	return id, t.addFacts(w)
}

// addFacts writes what data sheet and shop say of a wire.
func (t *tx) addFacts(w inventory.Wire) error {
	if len(w.Supplied) == 0 {
		return nil
	}
	facts := factRowsOf(w)
	return t.db.Create(&facts).Error
}

func factRowsOf(w inventory.Wire) []wireFactRow {
	facts := make([]wireFactRow, len(w.Supplied))
	for i, f := range w.Supplied {
		facts[i] = wireFactRow{WireID: w.ID, Line: i, Name: f.Name, Value: f.Value, Unit: f.Unit, Condition: f.Condition,
			Provenance: string(f.Provenance), Source: f.Source, Note: f.Note}
	}
	return facts
}
