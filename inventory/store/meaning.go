package store

import (
	"slices"
	"strings"

	"gorm.io/gorm"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// asked narrows rows, which join wires as w, to what q asks for: each of its
// words in one of the columns, and of what was understood of its text either
// what is meant or the text as it was typed.
func (r *reader) asked(rows *gorm.DB, q inventory.Query, columns ...string) (*gorm.DB, error) {
	if q.Meaning == nil {
		return containing(rows, q.Text, columns...), nil
	}
	rows = containing(rows, strings.Join(q.Meaning.Words, " "), columns...)
	for _, n := range q.Meaning.Names {
		ids, err := r.wiresFor(n.Processes())
		if err != nil {
			return nil, err
		}
		typed, args := literally(n.Typed, columns)
		rows = rows.Where("w.id IN ? OR "+typed, append([]any{ids}, args...)...)
	}
	for _, s := range q.Meaning.Sizes {
		typed, args := literally(s.Typed, columns)
		rows = rows.Where("w.diameter_nm BETWEEN ? AND ? OR w.diameter_nm IN ? OR "+typed,
			append([]any{int64(s.Size - inventory.Near), int64(s.Size + inventory.Near), nanometres(fit.SoldAs(s.Size))}, args...)...)
	}
	return rows, nil
}

func nanometres(ls []unit.Length) []int64 {
	out := make([]int64, len(ls))
	for i, l := range ls {
		out[i] = int64(l)
	}
	return out
}

// literally is the condition that one of the columns contains the text.
func literally(text string, columns []string) (condition string, args []any) {
	conditions := make([]string, len(columns))
	for i, c := range columns {
		conditions[i] = "LOWER(" + c + `) LIKE ? ESCAPE '\'`
		args = append(args, pattern(text))
	}
	return strings.Join(conditions, " OR "), args
}

// mostWires is the most wires that a search looks through.
const mostWires = 20_000

// wiresFor returns the ids of the wires that are for one of the processes. It
// takes two queries however many wires there are.
func (r *reader) wiresFor(processes []fit.Process) ([]int64, error) {
	var rows []wireRow
	if err := r.db.Select("id, classifications, package").Order("id").Limit(mostWires).Find(&rows).Error; err != nil {
		return nil, err
	}
	var facts []wireFactRow
	err := r.db.Where("name IN ?", []string{"form", "shielding", "process"}).Order("wire_id, line").Limit(3 * mostWires).Find(&facts).Error
	if err != nil {
		return nil, err
	}
	supplied := map[int64]filler.Facts{}
	for _, f := range facts {
		supplied[f.WireID] = append(supplied[f.WireID], filler.Fact{Name: f.Name, Value: f.Value, Unit: f.Unit, Condition: f.Condition,
			Provenance: filler.Provenance(f.Provenance), Source: f.Source})
	}
	ids := []int64{}
	for _, row := range rows {
		w := row.wire()
		w.Supplied = supplied[w.ID]
		is, err := w.Processes()
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(is, func(p fit.Process) bool { return slices.Contains(processes, p) }) {
			ids = append(ids, w.ID)
		}
	}
	return ids, nil
}
