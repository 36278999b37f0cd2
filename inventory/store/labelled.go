package store

import (
	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// What labels say of many things is read here, a query or two a kind of thing,
// however many there are. Each of these returns the things that are there, in no
// order.

// SpoolsWith returns the spools with the codes.
func (r *reader) SpoolsWith(codes []inventory.Code) ([]inventory.Spool, error) {
	return raw(r, scanSpool, `SELECT `+spoolColumns+` FROM spools WHERE code IN ? LIMIT ?`, codes, len(codes))
}

// raw runs a query, whose slices are written out, and reads its rows.
func raw[T any](r *reader, scan func(scanner) (T, error), query string, args ...any) ([]T, error) {
	rows, err := r.db.Raw(query, args...).Rows()
	return collect(rows, err, scan)
}

// mostHistories is how many spools' movements are read at a time.
const mostHistories = 100

// HistoriesOf returns the movements of each of the spools, oldest first.
func (r *reader) HistoriesOf(codes []inventory.Code) (map[inventory.Code][]inventory.Movement, error) {
	out := make(map[inventory.Code][]inventory.Movement, len(codes))
	for len(codes) > 0 {
		some := codes[:min(len(codes), mostHistories)]
		codes = codes[len(some):]
		moves, err := raw(r, scanMovement, `SELECT `+movementColumns+` FROM movements WHERE spool_code IN ? ORDER BY spool_code, version LIMIT 1000000`, some)
		if err != nil {
			return nil, err
		}
		for _, m := range moves {
			out[m.Spool] = append(out[m.Spool], m)
		}
	}
	return out, nil
}

// LotsWith returns the lots with the ids.
func (r *reader) LotsWith(ids []int64) ([]inventory.Lot, error) {
	var rows []lotRow
	err := r.db.Where("id IN ?", ids).Limit(len(ids)).Find(&rows).Error
	return each(rows, lotRow.lot), err
}

// WiresWith returns the wires with the ids, with all that data sheet and shop
// say of them.
func (r *reader) WiresWith(ids []int64) ([]inventory.Wire, error) {
	var rows []wireRow
	if err := r.db.Where("id IN ?", ids).Limit(len(ids)).Find(&rows).Error; err != nil {
		return nil, err
	}
	var facts []wireFactRow
	err := r.db.Where("wire_id IN ?", ids).Order("wire_id, line").Limit(1000 * len(ids)).Find(&facts).Error
	supplied := map[int64][]filler.Fact{}
	for _, f := range facts {
		supplied[f.WireID] = append(supplied[f.WireID], f.fact())
	}
	out := each(rows, wireRow.wire)
	for i := range out {
		out[i].Supplied = supplied[out[i].ID]
	}
	return out, err
}

func (f wireFactRow) fact() filler.Fact {
	return filler.Fact{Name: f.Name, Value: f.Value, Unit: f.Unit, Condition: f.Condition, Provenance: filler.Provenance(f.Provenance), Source: f.Source, Note: f.Note}
}

// PlacesWith returns the places with the codes.
func (r *reader) PlacesWith(codes []inventory.Code) ([]inventory.Place, error) {
	var rows []placeRow
	err := r.db.Where("code IN ?", codes).Limit(len(codes)).Find(&rows).Error
	return each(rows, placeRow.place), err
}

// FeedersWith returns the feeders with the codes.
func (r *reader) FeedersWith(codes []inventory.Code) ([]inventory.Feeder, error) {
	return feeders(r.db.Where("f.code IN ?", codes).Limit(len(codes)))
}

// PeopleWith returns those whose badges have the codes, retired or not.
func (r *reader) PeopleWith(codes []inventory.Code) ([]inventory.Person, error) {
	var rows []personRow
	err := r.db.Where("code IN ?", codes).Limit(len(codes)).Find(&rows).Error
	return each(rows, personRow.person), err
}

// JobsWith returns the jobs with the codes.
func (r *reader) JobsWith(codes []inventory.Code) ([]inventory.Job, error) {
	jobs, err := raw(r, scanJob, `SELECT `+jobColumns+` FROM jobs WHERE code IN ? LIMIT ?`, codes, len(codes))
	if err != nil {
		return nil, err
	}
	var rows []jobProcedureRow
	err = r.db.Where("job_code IN ?", codes).Order("job_code, line").Limit(100 * len(codes)).Find(&rows).Error
	of := map[inventory.Code][]int64{}
	for _, row := range rows {
		of[inventory.Code(row.JobCode)] = append(of[inventory.Code(row.JobCode)], row.ProcedureID)
	}
	for i, j := range jobs {
		jobs[i].Procedures = procedures(j.Procedures[0], of[j.Code])
	}
	return jobs, err
}

// each makes each row what it stands for.
func each[R, T any](rows []R, of func(R) T) []T {
	out := make([]T, len(rows))
	for i, row := range rows {
		out[i] = of(row)
	}
	return out
}
