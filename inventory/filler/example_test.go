package filler_test

import (
	"fmt"
	"strings"

	"wirehold/inventory/filler"
)

func ExampleDecode() {
	d, err := filler.Decode("AWS A5.20: e71t-11 h8")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d, "of", d.Spec)
	for _, name := range []string{"shielding", "gas", "polarity", "passes"} {
		for _, f := range d.Facts.Named(name) {
			fmt.Printf("%s: %s, from %q (%s)\n", f.Name, f.Value, f.From, f.Provenance)
		}
	}
	// Output:
	// E71T-11-H8 of AWS A5.20/A5.20M
	// shielding: self, from "11" (published)
	// gas: none, from "11" (published)
	// polarity: DCEN, from "11" (published)
	// passes: single and multiple, from "11" (published)
}

func ExampleDecode_refused() {
	_, err := filler.Decode("E71T-4C")
	fmt.Println(err)
	// Output:
	// classification "E71T-4C", character 7 ("C"): -4 takes no gas letter (shielding: self)
}

func ExampleDecode_note() {
	d, err := filler.Decode("E71T-4")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.Notes[0])
	// Output:
	// the class lists position 0 only (E70T-4)
}

func ExampleDecodeGas() {
	for _, text := range []string{"82 Ar 18 CO2", "75/25 Ar/CO2", "SG-AC-25", "M20-ArC-18"} {
		d, err := filler.DecodeGas(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		band, _ := d.Facts.Best("in_AWS_M_band")
		fmt.Printf("%s: %s, in the AWS M band: %s\n", text, d.ISO, band.Value)
	}
	// Output:
	// 82 Ar 18 CO2: M21-ArC-18, in the AWS M band: no
	// 75/25 Ar/CO2: M21-ArC-25, in the AWS M band: yes
	// SG-AC-25: M21-ArC-25, in the AWS M band: yes
	// gas "M20-ArC-18", character 5 ("A"): 82 % Ar + 18 % CO2 is M21, not M20
}

// show prints the best facts of a designation.
func show(text string, names ...string) {
	d, err := filler.Decode(text)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d, "of", d.Spec)
	for _, name := range names {
		if f, ok := d.Facts.Best(name); ok {
			fmt.Printf("  %s: %s, from %q (%s)\n", f.Name, strings.TrimSpace(f.Value+" "+f.Unit), f.From, f.Provenance)
		}
	}
}

func ExampleDecode_a520() {
	show("E71T-1C/-1M-H8", "gas", "polarity")
	// Output:
	// E71T-1C/-1M-H8 of AWS A5.20/A5.20M
	//   gas: CO2 100 % or 75-80 % Ar + balance CO2, from "C/-1M" (published)
	//   polarity: DCEP, from "1C" (published)
}

func ExampleDecode_a529() {
	show("AWS A5.29: E81T1-Ni1C-JH4", "tensile_min", "gas", "impact_temperature")
	// Output:
	// E81T1-Ni1C-JH4 of AWS A5.29/A5.29M
	//   tensile_min: 80 ksi, from "8" (memory)
	//   gas: CO2 100 %, from "C" (memory)
	//   impact_temperature: -40 degF, from "J" (memory)
}

func ExampleDecode_a522() {
	show("E309LT1-1/4", "gas", "polarity")
	// Output:
	// E309LT1-1/4 of AWS A5.22/A5.22M
	//   gas: CO2 100 % or 75-80 % Ar + balance CO2, from "1/4" (published)
	//   polarity: DCEP, from "1" (memory)
}

func ExampleDecode_a536() {
	show("E71T-11-AZ-CS3", "shielding", "impact_min_energy", "deposit")
	// Output:
	// E71T11-AZ-CS3 of AWS A5.36/A5.36M
	//   shielding: self, from "11" (published)
	//   impact_min_energy: none required, from "Z" (memory)
	//   deposit: carbon steel, from "CS3" (published)
}

func ExampleDecode_a518() {
	show("ER70S-6", "form", "wire_composition")
	// Output:
	// ER70S-6 of AWS A5.18/A5.18M
	//   form: solid, from "S" (published)
	//   wire_composition: C 0.06-0.15; Mn 1.40-1.85; Si 0.80-1.15 wt %, from "6" (published)
}

func ExampleDecode_a528() {
	show("ER80S-D2", "tensile_min", "impact_temperature")
	// Output:
	// ER80S-D2 of AWS A5.28/A5.28M
	//   tensile_min: 80 ksi, from "80" (memory)
	//   impact_temperature: -20 degF, from "D2" (memory)
}

func ExampleDecode_a59() {
	show("ER308LSi", "deposit", "C")
	// Output:
	// ER308LSi of AWS A5.9/A5.9M
	//   deposit: stainless steel, from "" (published)
	//   C: 0.03 max wt %, from "308LSi" (memory)
}

func ExampleDecode_a510() {
	show("ER5356", "deposit", "wire_composition")
	// Output:
	// ER5356 of AWS A5.10/A5.10M
	//   deposit: aluminium, from "" (published)
	//   wire_composition: Mg 4.5-5.5; Mn 0.05-0.20; Cr 0.05-0.20; Ti 0.06-0.20 wt %, from "5356" (published)
}

func ExampleDecode_a51() {
	show("E7018-1 H4R", "covering", "exposure_limit_d1_1")
	// Output:
	// E7018-1-H4R of AWS A5.1/A5.1M
	//   covering: low-hydrogen potassium, iron powder, from "18" (memory)
	//   exposure_limit_d1_1: 9 h, from "E7018-1-H4R" (memory)
}

func ExampleDecode_a55() {
	show("E8018-C3-H4R", "alloy_family", "exposure_limit_d1_1")
	// Output:
	// E8018-C3-H4R of AWS A5.5/A5.5M
	//   alloy_family: nickel steel, from "C3" (memory)
	//   exposure_limit_d1_1: 2 h, from "E8018-C3-H4R" (published)
}

func ExampleDecode_iso17632A() {
	show("T 46 3 1Ni B M21 1 H5", "yield_min", "impact_temperature", "gas")
	// Output:
	// T 46 3 1Ni B M21 1 H5 of ISO 17632-A
	//   yield_min: 460 MPa, from "46" (published)
	//   impact_temperature: -30 degC, from "3" (published)
	//   gas: M21, from "M21" (published)
}

func ExampleDecode_iso17632B() {
	show("T 55 4 T5-1 M21 A-N2-U H5", "polarity", "positions")
	// Output:
	// T 55 4 T5-1 M21 A-N2-U H5 of ISO 17632-B
	//   polarity: DCEP, from "T5" (published)
	//   positions: PA PB PC PD PE, with PF or PG or both, from "1" (published)
}

func ExampleDecode_iso17633() {
	show("T 23 12 L R M21 3", "aws_near_equal", "gas")
	// Output:
	// T 23 12 L R M21 3 of ISO 17633-A
	//   aws_near_equal: E309LT0-1/4, from "T 23 12 L R M21 3" (published)
	//   gas: M21, from "M21" (published)
}

func ExampleDecode_iso18276() {
	show("EN ISO 18276-A - T 69 6 Mn2NiCrMo B M21 3 H5", "yield_min")
	// Output:
	// T 69 6 Mn2NiCrMo B M21 3 H5 of ISO 18276-A
	//   yield_min: 690 MPa, from "69" (memory)
}

func ExampleDecode_iso14341() {
	show("G 46 5 M21 3Si1", "form", "yield_min")
	// Output:
	// G 46 5 M21 3Si1 of ISO 14341-A
	//   form: solid, from "G" (published)
	//   yield_min: 460 MPa, from "46" (published)
}

// What the class leaves open is said, with where to take it from.
func ExampleDecode_notFixed() {
	d, err := filler.Decode("E71T-GS")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, n := range d.NotFixed {
		if n.Fact == "polarity of G and GS" || n.Fact == "gas" {
			fmt.Printf("%s: %s; take it from the %s (%s)\n", n.Fact, n.Says, n.TakeFrom, n.Provenance)
		}
	}
	// Output:
	// polarity of G and GS: no; take it from the maker data sheet or box (memory)
	// gas: not specified; take it from the maker data sheet or box (memory)
}
