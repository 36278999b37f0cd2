package fit

import (
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Facts built by hand, in the words of testdata/a5_20_usability.csv and its
// companions, so that these tests stand on their own.

func published(name, value, unit, from string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Unit: unit, From: from, Provenance: filler.Published, Source: "testdata"}
}

func remembered(name, value, unit, from string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Unit: unit, From: from, Provenance: filler.Memory}
}

func custom(name, value string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Provenance: filler.Practice}
}

func sheet(name, value, unit string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Unit: unit, Provenance: filler.DataSheet, Source: "data sheet rev 3"}
}

func shop(name, value, unit string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Unit: unit, Provenance: filler.Shop, Source: "read off the box by the attendant"}
}

func with(facts filler.Facts, more ...filler.Fact) filler.Facts {
	return append(append(filler.Facts{}, facts...), more...)
}

func without(facts filler.Facts, name string) filler.Facts {
	var out filler.Facts
	for _, f := range facts {
		if f.Name != name {
			out = append(out, f)
		}
	}
	return out
}

// tubular is what every A5.20 wire of strength 7 has.
func tubular(positions string, more ...filler.Fact) filler.Facts {
	return with(filler.Facts{
		published("form", "flux cored", "", "T"), published("deposit", "carbon steel", "", ""),
		published("tensile_min", "70", "ksi", "7"), published("positions", positions, "", "1"),
	}, more...)
}

func selfShieldedWire(from, polarity, passes string, more ...filler.Fact) filler.Facts {
	return with(tubular("all", published("shielding", self, "", from), published("gas", "none", "", from),
		published("polarity", polarity, "", from), published("passes", passes, "", from)), more...)
}

func gasWire(from, gas string, more ...filler.Fact) filler.Facts {
	return with(tubular("all", published("shielding", external, "", from), published("gas", gas, "", from),
		published("polarity", "DCEP", "", from), published("passes", "single and multiple", "", from),
		remembered("vertical_direction", "up", "", from), published("impact_min_energy", "20", "ft-lbf", from),
		published("impact_temperature", "0", "degF", from)), more...)
}

const (
	onlyCO2 = "CO2 100 %"
	onlyM   = "75-80 % Ar + balance CO2"
)

func limitFact(name, value, condition, note, from string) filler.Fact {
	f := published(name, value, "mm", from)
	f.Condition, f.Note = condition, note
	return f
}

func wire1C() filler.Facts { return gasWire("1C", onlyCO2) }
func wire1M() filler.Facts { return gasWire("1M", onlyM) }
func dual1() filler.Facts  { return gasWire("1C", onlyCO2+" or "+onlyM) }
func wire8() filler.Facts {
	return selfShieldedWire("8", "DCEN", "single and multiple", published("impact_min_energy", "20", "ft-lbf", "8"), published("impact_temperature", "-20", "degF", "8"))
}

func wire11() filler.Facts {
	return selfShieldedWire("11", "DCEN", "single and multiple", published("vertical_direction", "down", "", "11"),
		limitFact("max_thickness", "19", "general recommendation", "3/4 in", "11"),
		limitFact("max_thickness_d1_1_prequalified", "12", "AWS D1.1 prequalified use", "1/2 in; stricter than the class recommendation", "11"),
		remembered("impact_min_energy", "none required", "", "11"))
}

func wire14() filler.Facts {
	return selfShieldedWire("14", "DCEN", "single only", published("vertical_direction", "down", "", "14"),
		limitFact("max_thickness_tee_or_lap", "5", "general recommendation", "3/16 in", "14"),
		limitFact("max_thickness_butt_edge_corner", "6", "general recommendation", "1/4 in; maker to be asked", "14"))
}

func wire3() filler.Facts { return selfShieldedWire("3", "DCEP", "single only") }

func wireGS() filler.Facts {
	return tubular("all", remembered("shielding", "not specified", "", "GS"), remembered("gas", "not specified", "", "GS"),
		remembered("polarity", "not specified", "", "GS"), published("passes", "single only", "", "GS"),
		published("typical_polarity", "DCEN", "", "GS"))
}

func old1() filler.Facts {
	gas := published("gas", onlyCO2, "", "1")
	gas.Condition = oldLabel
	return with(without(wire1C(), "gas"), gas)
}

func solidWire() filler.Facts {
	return filler.Facts{
		published("form", solid, "", "S"), published("deposit", "carbon steel", "", ""), custom("polarity_GMAW", "DCEP"),
		remembered("gas", "not in the designation", "", "S"), remembered("passes", "single and multiple", "", "S"),
		published("tensile_min", "70", "ksi", "70"), remembered("shielding", external, "", "6"),
		remembered("impact_min_energy", "20", "ft-lbf", "6"), remembered("impact_temperature", "-20", "degF", "6"),
		published("gas_GMAW", "CO2 100 % or Ar + CO2", "", "6"), published("gas_GTAW", "Ar 100 %", "", "6"),
	}
}

func metalCoredWire() filler.Facts {
	return filler.Facts{
		published("form", metalCored, "", "C"), published("deposit", "carbon steel", "", ""),
		published("shielding", external, "", "C"), published("gas", onlyM, "", "M"), published("polarity", "DCEP", "", "6M"),
	}
}

func stainless(suffix, gas, shielding string) filler.Facts {
	return filler.Facts{
		published("form", fluxCored, "", "T"), published("deposit", "stainless steel", "", ""),
		published("shielding", shielding, "", suffix), published("gas", gas, "", suffix), published("polarity", "DCEP", "", suffix),
		remembered("passes", "single and multiple", "", suffix), published("positions", "all", "", "1"),
	}
}

func deposit(family string) filler.Facts { return filler.Facts{published("deposit", family, "", "")} }

func spool(facts filler.Facts, classes ...string) Offer {
	return Offer{
		Spool: "W7K2-3", Classifications: classes, Facts: facts, Diameter: inch(45),
		LotNumber: "L-204", LotStatus: LotAccepted,
	}
}

func opened(facts filler.Facts, hours int) Offer {
	o := spool(facts)
	o.Opened, o.Exposed = true, time.Duration(hours)*time.Hour
	return o
}

// inch is a length in thousandths of an inch.
func inch(thousandths int) unit.Length { return unit.Inch / 1000 * unit.Length(thousandths) }

func mm(n int) unit.Length { return unit.Millimetre * unit.Length(n) }

func mph(text string) unit.Speed {
	s, err := unit.ParseSpeed(text + " mph")
	if err != nil {
		panic(err)
	}
	return s
}

func tough(text string) unit.Toughness {
	t, err := unit.ParseToughness(text)
	if err != nil {
		panic(err)
	}
	return t
}

func gasOf(text string) *Gas {
	g, err := ParseGas(text)
	if err != nil {
		panic(err)
	}
	return &g
}

func joint(names ...string) []BaseMetal {
	var out []BaseMetal
	for i := 0; i < len(names); i += 2 {
		out = append(out, BaseMetal{names[i], names[i+1]})
	}
	return out
}

// today is the instant of the check in tests.
var today = time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)

// fillet is so many metres of fillet of a leg in millimetres.
func fillet(leg, metres int) Weld {
	return Weld{Shape: FilletWeld, Leg: mm(leg), Length: mm(1000 * metres)}
}

func wound(text string) Package {
	p, ok := ParsePackage(text)
	if !ok {
		panic("no package: " + text)
	}
	return p
}

type fact = filler.Fact

// sized is a data sheet's fact for one size of the wire.
func sized(name, value, size string) filler.Fact {
	f := sheet(name, value, "")
	f.Condition = OneSize + size
	return f
}
