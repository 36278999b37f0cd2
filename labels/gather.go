package labels

import (
	"slices"

	"wirehold/inventory"
)

// Register is a catalog that reads many things of one sort at once. Each of its
// methods returns what is there, in no order.
type Register interface {
	Catalog
	SpoolsWith([]inventory.Code) ([]inventory.Spool, error)
	// HistoriesOf returns the movements of each of the spools, oldest first.
	HistoriesOf([]inventory.Code) (map[inventory.Code][]inventory.Movement, error)
	LotsWith(ids []int64) ([]inventory.Lot, error)
	WiresWith(ids []int64) ([]inventory.Wire, error)
	PlacesWith([]inventory.Code) ([]inventory.Place, error)
	FeedersWith([]inventory.Code) ([]inventory.Feeder, error)
	PeopleWith([]inventory.Code) ([]inventory.Person, error)
	JobsWith([]inventory.Code) ([]inventory.Job, error)
}

// Each returns the labels of a kind of what the codes name, in their order, as
// [Shop.Of] does one by one; but it reads all things of one sort at once. If one
// cannot be labelled, it returns the labels before it: the error is of the code
// after them.
func (s Shop) Each(r Register, kind Kind, codes []inventory.Code) ([]Label, error) {
	g := &gathered{Catalog: r, from: r}
	if err := g.gather(kind, codes); err != nil {
		return nil, err
	}
	out := make([]Label, 0, len(codes))
	for _, code := range codes {
		l, err := s.Of(g, kind, code)
		if err != nil {
			return out, err
		}
		out = append(out, l)
	}
	return out, nil
}

// gathered is a catalog that has read what labels need. What it has not read it
// looks up: what is not there, so that the answer says so.
type gathered struct {
	Catalog
	from Register

	spools     map[inventory.Code]inventory.Spool
	histories  map[inventory.Code][]inventory.Movement
	lots       map[int64]inventory.Lot
	wires      map[int64]inventory.Wire
	places     map[inventory.Code]inventory.Place
	feeders    map[inventory.Code]inventory.Feeder
	people     map[inventory.Code]inventory.Person
	jobs       map[inventory.Code]inventory.Job
	procedures map[int64]inventory.Procedure
}

// gather reads what labels of the kind need of what the codes name.
func (g *gathered) gather(kind Kind, codes []inventory.Code) error {
	of := map[inventory.CodeKind][]inventory.Code{}
	for _, code := range codes {
		of[code.Kind()] = append(of[code.Kind()], code)
	}
	var err error
	if g.places, err = readAll(of[inventory.PlaceCode], g.from.PlacesWith, placeKey); err != nil {
		return err
	}
	if g.feeders, err = readAll(of[inventory.FeederCode], g.from.FeedersWith, feederKey); err != nil {
		return err
	}
	people, jobs := of[inventory.PersonCode], of[inventory.JobCode]
	if spools := of[inventory.SpoolCode]; len(spools) > 0 {
		issues, err := g.gatherSpools(kind, spools)
		if err != nil {
			return err
		}
		for _, m := range issues {
			people, jobs = append(people, m.Holder, m.Person), append(jobs, m.Job)
		}
	}
	if g.people, err = readAll(people, g.from.PeopleWith, personKey); err != nil {
		return err
	}
	if g.jobs, err = readAll(jobs, g.from.JobsWith, jobKey); err != nil || kind == KindSlip {
		return err
	}
	var procedures []int64
	for _, j := range g.jobs {
		procedures = append(procedures, j.Procedures...)
	}
	g.procedures, err = readAll(procedures, g.from.ProceduresWith, procedureKey)
	return err
}

// gatherSpools reads the spools with their lots and wires; for a kind that tells
// of their past, that too, and for a slip it returns their last issues.
func (g *gathered) gatherSpools(kind Kind, codes []inventory.Code) (issues []inventory.Movement, err error) {
	if g.spools, err = readAll(codes, g.from.SpoolsWith, spoolKey); err != nil {
		return nil, err
	}
	var lots, wires []int64
	for _, s := range g.spools {
		lots = append(lots, s.LotID)
	}
	if g.lots, err = readAll(lots, g.from.LotsWith, lotKey); err != nil {
		return nil, err
	}
	for _, l := range g.lots {
		wires = append(wires, l.WireID)
	}
	if g.wires, err = readAll(wires, g.from.WiresWith, wireKey); err != nil || kind != KindHold && kind != KindSlip {
		return nil, err
	}
	if g.histories, err = g.from.HistoriesOf(distinct(codes)); err != nil || kind != KindSlip {
		return nil, err
	}
	for _, history := range g.histories {
		if issue, _ := lastIssue(history); issue != nil {
			issues = append(issues, *issue)
		}
	}
	return issues, nil
}

// readAll reads what the keys name, each once.
func readAll[K comparable, T any](keys []K, from func([]K) ([]T, error), key func(T) K) (map[K]T, error) {
	if len(keys) == 0 {
		return nil, nil
	}
	found, err := from(distinct(keys))
	out := make(map[K]T, len(found))
	for _, v := range found {
		out[key(v)] = v
	}
	return out, err
}

func distinct[K comparable](keys []K) []K {
	seen := make(map[K]bool, len(keys))
	return slices.DeleteFunc(slices.Clone(keys), func(k K) bool {
		before := seen[k]
		seen[k] = true
		return before
	})
}

func spoolKey(s inventory.Spool) inventory.Code   { return s.Code }
func placeKey(p inventory.Place) inventory.Code   { return p.Code }
func feederKey(f inventory.Feeder) inventory.Code { return f.Code }
func personKey(p inventory.Person) inventory.Code { return p.Code }
func jobKey(j inventory.Job) inventory.Code       { return j.Code }
func lotKey(l inventory.Lot) int64                { return l.ID }
func wireKey(w inventory.Wire) int64              { return w.ID }
func procedureKey(p inventory.Procedure) int64    { return p.ID }

// have returns what was read, or looks it up.
func have[K comparable, T any](read map[K]T, key K, look func(K) (T, error)) (T, error) {
	if v, ok := read[key]; ok {
		return v, nil
	}
	return look(key)
}

func (g *gathered) Spool(c inventory.Code) (inventory.Spool, error) {
	return have(g.spools, c, g.from.Spool)
}
func (g *gathered) History(c inventory.Code) ([]inventory.Movement, error) {
	return have(g.histories, c, g.from.History)
}
func (g *gathered) Lot(id int64) (inventory.Lot, error)   { return have(g.lots, id, g.from.Lot) }
func (g *gathered) Wire(id int64) (inventory.Wire, error) { return have(g.wires, id, g.from.Wire) }
func (g *gathered) Place(c inventory.Code) (inventory.Place, error) {
	return have(g.places, c, g.from.Place)
}
func (g *gathered) Feeder(c inventory.Code) (inventory.Feeder, error) {
	return have(g.feeders, c, g.from.Feeder)
}
func (g *gathered) Person(c inventory.Code) (inventory.Person, error) {
	return have(g.people, c, g.from.Person)
}
func (g *gathered) Job(c inventory.Code) (inventory.Job, error) {
	return have(g.jobs, c, g.from.Job)
}

// ProceduresWith returns the revisions with the ids, in their order.
func (g *gathered) ProceduresWith(ids []int64) ([]inventory.Procedure, error) {
	out := make([]inventory.Procedure, 0, len(ids))
	for _, id := range ids {
		p, ok := g.procedures[id]
		if !ok {
			return g.from.ProceduresWith(ids)
		}
		out = append(out, p)
	}
	return out, nil
}
