package fit

import "wirehold/inventory/unit"

// SoldAs returns d and every size that wire of it is sold as, by the pairs of
// testdata/diameters.csv: 0.9 mm for .035 in. The pairs are common practice:
// they find a wire, and say nothing of rolls and liner.
func SoldAs(d unit.Length) []unit.Length {
	out := []unit.Length{d}
	for _, p := range sizePairs() {
		switch d {
		case p.inch:
			out = append(out, p.metric)
		case p.metric:
			out = append(out, p.inch)
		}
	}
	return out
}
