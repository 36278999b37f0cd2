package filler_test

import (
	"fmt"

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
