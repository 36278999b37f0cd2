package inventory

import (
	"errors"
	"fmt"
)

// against adds a fault for each wire that the store has already, and for each
// that says what the person may not say.
func (p ImportPlan) against(r Reader, by Person) (ImportPlan, error) {
	if len(p.Lines) == 0 {
		return p, nil
	}
	have, err := wiresThere(r)
	if err != nil {
		return p, err
	}
	for _, line := range p.Lines {
		if id, there := have.find(line.Wire); there {
			p.add(line.fault("trade_name", line.Wire.TradeName,
				"wire %d in the store is the same: same maker, trade name, size, classification and package; leave the row out, or change the wire on its own page", id))
		}
		if e, ok := errors.AsType[*Error](mayTell(by, Wire{}, line.Wire)); ok {
			p.add(line.fault("sheet", "", "%s; name the data sheet instead", e.Detail))
		}
	}
	return p.settled(), nil
}

const wiresAtOnce = 2000

// wiresThere returns every wire of the store by what makes it that wire.
func wiresThere(r Reader) (wiresSeen, error) {
	have := wiresSeen{}
	for after := int64(0); ; {
		wires, err := r.WiresAfter(after, wiresAtOnce)
		if err != nil {
			return nil, fmt.Errorf("read wires after %d: %w", after, err)
		}
		for _, w := range wires {
			have.keep(w, int(w.ID))
			after = w.ID
		}
		if len(wires) < wiresAtOnce {
			return have, nil
		}
	}
}

// Err returns the plan's faults as one error; nil if there are none.
func (p ImportPlan) Err() error {
	if p.FaultCount() == 0 {
		return nil
	}
	e := &Error{Kind: Invalid, Code: "import-faults", Detail: p.Summary()}
	for _, f := range p.Faults {
		field := fmt.Sprintf("line/%d", f.Line)
		if f.At > 0 {
			field += "/" + f.Letter()
		}
		e.Fields = append(e.Fields, FieldFault{Field: field, Detail: f.String()})
	}
	return e
}

// Summary says in one sentence how far the table is from being entered.
func (p ImportPlan) Summary() string {
	switch n := p.FaultCount(); n {
	case 0:
		return fmt.Sprintf("%d %s can be entered.", len(p.Lines), plural(len(p.Lines), "wire"))
	default:
		return fmt.Sprintf("%d %s in %d %s: nothing is entered until all are mended.", n, plural(n, "fault"), p.Rows, plural(p.Rows, "row"))
	}
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}
