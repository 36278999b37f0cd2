package fit

import "strings"

// Under returns the setting as a procedure narrows it: of the gases and
// polarities that a wire takes, the one that the procedure runs. A nil gas and
// an empty polarity narrow nothing; by names the procedure. It is pure.
func (s Setting) Under(by string, gas *Gas, polarity Polarity, f Feeder) Setting {
	from := Claim{Source: by + "; " + s.Source, Provenance: s.Provenance}
	switch {
	case s.Part == SetGas && gas != nil && !gas.IsNone():
		s = gasToSet(from, gas, f.Gas)
		s.Gas = gas
	case s.Part == SetGas && gas != nil && f.Gas != nil && !f.Gas.IsNone() && !s.Change:
		from.Source = by
		s = set(SetGas, true, from, nil, "Shut the gas: the procedure runs none, and %s is connected.", f.Gas)
		s.Gas = &Gas{}
	case s.Part == SetPolarity && polarity != "" && !strings.Contains(s.Says, "("+string(polarity)+")"):
		s = set(SetPolarity, true, from, nil, "Set the machine to %s, as the procedure wants, and see that the data sheet allows it.", polarity)
		s.Polarity = polarity
	}
	return s
}

func gasToSet(from Claim, want, has *Gas) Setting {
	switch {
	case has == nil:
		return set(SetGas, true, from, nil, "See that the gas is %s: nobody has recorded what is connected.", want)
	case *has == *want:
		return set(SetGas, false, from, nil, "Leave %s connected.", want)
	case has.IsNone():
		return set(SetGas, true, from, nil, "Connect %s.", want)
	}
	return set(SetGas, true, from, nil, "Change the gas to %s: %s is connected.", want, has)
}
