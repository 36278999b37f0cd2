package store

import (
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// What box and sheet disagree on is worked out when it is read, from the facts
// of all the wires of a list at once: two queries, however long the list is.

// supply reads the facts of all the wires of a list, and on what box and sheet
// disagree. None of such a wire is usable.
func (r *reader) supply(wires []inventory.WireLine) error {
	ids := make([]int64, len(wires))
	for i, w := range wires {
		ids[i] = w.ID
	}
	facts, err := r.factsOf(ids)
	if err != nil {
		return err
	}
	for i := range wires {
		w := &wires[i]
		w.Supplied = facts[w.ID]
		if w.Disagree, err = w.Conflicts(); err != nil {
			return fmt.Errorf("wire %d: %w", w.ID, err)
		}
		if len(w.Disagree) > 0 {
			w.Usable, w.Waits = 0, w.Usable
		}
	}
	return nil
}

// dispute marks the spools of wires on which box and sheet disagree.
func (r *reader) dispute(spools []inventory.SpoolLine) error {
	var ids []int64
	for _, s := range spools {
		ids = append(ids, s.WireID)
	}
	disputed, err := r.disputed(ids)
	for i := range spools {
		spools[i].Disputed = disputed[spools[i].WireID]
	}
	return err
}

// keepBack takes what box and sheet disagree on out of what is usable.
func (r *reader) keepBack(stock []inventory.StockLine) error {
	var ids []int64
	for _, s := range stock {
		ids = append(ids, s.WireID)
	}
	disputed, err := r.disputed(ids)
	for i := range stock {
		if s := &stock[i]; disputed[s.WireID] {
			s.Usable, s.Waits = 0, s.Usable
		}
	}
	return err
}

// disputed tells of which of some wires box and sheet disagree.
func (r *reader) disputed(ids []int64) (map[int64]bool, error) {
	facts, err := r.factsOf(ids)
	if err != nil || len(ids) == 0 {
		return nil, err
	}
	var rows []wireRow
	if err := r.db.Select("id, classifications, diameter_nm").Where("id IN ?", ids).Limit(len(ids)).Find(&rows).Error; err != nil {
		return nil, err
	}
	out := map[int64]bool{}
	for _, row := range rows {
		w := inventory.Wire{ID: row.ID, Classifications: items[string](row.Classifications), Diameter: unit.Length(row.DiameterNm), Supplied: facts[row.ID]}
		conflicts, err := w.Conflicts()
		if err != nil {
			return nil, fmt.Errorf("wire %d: %w", w.ID, err)
		}
		out[w.ID] = len(conflicts) > 0
	}
	return out, nil
}

// factsOf reads what is supplied of some wires, by id.
func (r *reader) factsOf(ids []int64) (map[int64]filler.Facts, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	var rows []wireFactRow
	if err := r.db.Where("wire_id IN ?", ids).Order("wire_id, line").Limit(100 * len(ids)).Find(&rows).Error; err != nil {
		return nil, err
	}
	facts := map[int64]filler.Facts{}
	for _, row := range rows {
		facts[row.WireID] = append(facts[row.WireID], filler.Fact{Name: row.Name, Value: row.Value, Unit: row.Unit, Condition: row.Condition,
			Provenance: filler.Provenance(row.Provenance), Source: row.Source, Note: row.Note})
	}
	return facts, nil
}
