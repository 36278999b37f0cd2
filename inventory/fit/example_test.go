package fit_test

import (
	"fmt"
	"testing"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

func sheetMetalWire() (fit.Offer, fit.Demand, fit.Profile) {
	wire, _ := filler.Decode("E71T-14")
	gas, _ := fit.ParseGas("75 Ar 25 CO2")
	profile, _ := fit.ProfileByID("structural-steel")
	offer := fit.Offer{
		Spool: "W7K2-3", Classifications: []string{wire.Designation}, Facts: wire.Facts, Diameter: 45 * unit.Inch / 1000,
		LotNumber: "L-204", LotStatus: fit.LotAccepted,
	}
	return offer, fit.Demand{
		JobSource: "job 2207", ProcedureSource: "procedure WPS-14 rev C",
		Polarity: fit.DCEP, Gas: &gas, Passes: fit.MultiPass,
	}, profile
}

func ExampleCheck() {
	offer, demand, profile := sheetMetalWire()
	verdict := fit.Check(offer, demand, nil, profile)
	fmt.Println(verdict.Answer)
	for _, f := range verdict.Findings {
		if f.Outcome == fit.Stops {
			fmt.Printf("%s: %s\n", f.Rule, f.Says)
		}
	}
	// Output:
	// does not fit
	// polarity: Run this wire electrode negative (DCEN). The procedure wants electrode positive (DCEP).
	// gas: Self-shielded wire: shut the gas off. The procedure runs 75 % Ar + 25 % CO2.
	// passes: This is single-pass wire (-14): never lay a second pass on it. The joint takes multiple passes.
}

func BenchmarkCheck(b *testing.B) {
	offer, demand, profile := sheetMetalWire()
	demand.Thickness, demand.Tensile = 5*unit.Millimetre, unit.Stress{Value: 70, Unit: unit.KSI}
	demand.Positions, demand.Processes = []fit.Position{fit.Flat, fit.VerticalDown}, []fit.Process{fit.FCAWS}
	demand.BaseMetals, demand.Classifications = []fit.BaseMetal{{Name: "A36", Family: "carbon steel"}}, []string{"E71T-14"}
	demand.Wind, demand.Hydrogen = 1000, 8
	b.ReportAllocs()
	for b.Loop() {
		fit.Check(offer, demand, nil, profile)
	}
}
