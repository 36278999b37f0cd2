package filler

import "strings"

// Group returns what the gas does by its group in ISO 14175, as
// "M2: oxidizing", with the source; empty if the text does not tell.
func (d GasDecoded) Group() (group, source string) {
	if d.Symbol == "Z" {
		return "Z: " + valueOf(d.Facts, "meaning"), gases().boundsSource()
	}
	for _, f := range d.Facts.Named("group") {
		return d.Symbol + ": " + f.Value, f.Authority()
	}
	return "", ""
}

// Bounds returns between what the components of the sub-group lie, as "CO2
// over 15 up to 25 vol %, Ar balance", with the source; empty if the text does not tell.
func (d GasDecoded) Bounds() (bounds, source string) {
	rows := gases().bounds[d.Symbol]
	if len(rows) == 0 {
		return "", ""
	}
	_, bounds, _ = strings.Cut(gases().boundsOf(d.Symbol), ": ")
	signs := strings.NewReplacer(">=", "from ", "<=", "up to ", ">", "over ", "<", "below ")
	return signs.Replace(bounds), rows[0].fact.Authority()
}

// InBand returns whether the gas is what the letter M of a wire's class stands
// for: "yes", "no", or "not known" where the text does not give the mixture;
// with the source.
func (d GasDecoded) InBand() (answer, source string) {
	for _, f := range d.Facts.Named("in_AWS_" + gases().band.letter + "_band") {
		return f.Value, f.Authority()
	}
	return "not known: read the per cents on the cylinder", ""
}
