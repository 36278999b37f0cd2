package inventory

import (
	"cmp"
	"context"
	"strings"

	"wirehold/inventory/filler"
)

// AddWire enters a wire as it can be bought, on nobody's word: [Ledger.EnterWire]
// keeps who did so. Its classifications are decoded and kept in their canonical
// form; one that cannot be read is [Invalid] and names the character at fault.
func (l *Ledger) AddWire(ctx context.Context, w Wire) (Wire, error) {
	w, err := w.ready()
	if err != nil {
		return Wire{}, err
	}
	w.Version = 1
	err = l.store.Write(ctx, func(tx Tx) (err error) {
		w.ID, err = tx.AddWire(w)
		return err
	})
	return w, err
}

// AddPlace enters a place and gives it a code.
func (l *Ledger) AddPlace(ctx context.Context, p Place) (Place, error) {
	if strings.TrimSpace(p.Name) == "" {
		return Place{}, Invalidf("name", "give the place a name")
	}
	err := l.store.Write(ctx, func(tx Tx) (err error) {
		if p.Code, err = tx.NextCode(PlaceCode); err != nil {
			return err
		}
		return tx.AddPlace(p)
	})
	return p, err
}

// AddFeeder enters a feeder and gives it a code.
func (l *Ledger) AddFeeder(ctx context.Context, f Feeder) (Feeder, error) {
	if strings.TrimSpace(f.Name) == "" {
		return Feeder{}, Invalidf("name", "give the feeder a name")
	}
	f.Kind = AtFeeder
	err := l.store.Write(ctx, func(tx Tx) (err error) {
		if f.Code, err = tx.NextCode(FeederCode); err != nil {
			return err
		}
		return tx.AddFeeder(f)
	})
	return f, err
}

// AddPerson enters a person and gives them a badge code.
func (l *Ledger) AddPerson(ctx context.Context, p Person) (Person, error) {
	if strings.TrimSpace(p.Name) == "" {
		return Person{}, Invalidf("name", "give the person's name")
	}
	err := l.store.Write(ctx, func(tx Tx) (err error) {
		if p.Code, err = tx.NextCode(PersonCode); err != nil {
			return err
		}
		return tx.AddPerson(p)
	})
	return p, err
}

// AddProcedure enters a revision of a procedure. The classifications it allows
// are kept in their canonical form.
func (l *Ledger) AddProcedure(ctx context.Context, p Procedure) (Procedure, error) {
	if p.Number == "" || p.Revision == "" {
		return Procedure{}, Invalidf("number", "give the procedure's number and revision")
	}
	for i, c := range p.Classifications {
		d, err := filler.Decode(c)
		if err != nil {
			return Procedure{}, Invalidf("classifications", "%v", err)
		}
		p.Classifications[i] = d.String() // with its specification where the characters alone would mean another
	}
	err := l.store.Write(ctx, func(tx Tx) (err error) {
		p.ID, err = tx.AddProcedure(p)
		return err
	})
	return p, err
}

// AddJob enters a job and gives it a code. Its rule profile must be installed.
func (l *Ledger) AddJob(ctx context.Context, j Job) (Job, error) {
	if strings.TrimSpace(j.Number) == "" {
		return Job{}, Invalidf("number", "give the job its number")
	}
	err := l.store.Write(ctx, func(tx Tx) (err error) {
		if _, err := l.profile(tx, j.ProfileID); err != nil {
			return Invalidf("profile", "there is no rule profile %q", j.ProfileID)
		}
		if _, faults, err := j.procedureFaults(tx, j); err != nil || faults != nil {
			return cmp.Or(err, faultsError(faults))
		}
		if j.Code, err = tx.NextCode(JobCode); err != nil {
			return err
		}
		return tx.AddJob(j)
	})
	return j, err
}
