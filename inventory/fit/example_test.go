package fit_test

import (
	"fmt"
	"testing"
	"time"

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

func ExampleSettings() {
	offer, _, _ := sheetMetalWire()
	gas, _ := fit.ParseGas("75 Ar 25 CO2")
	for _, s := range fit.Settings(offer, fit.Feeder{Name: "F2", Polarity: fit.DCEP, Gas: &gas, Rolls: fit.UGroove}) {
		fmt.Println(s.Says)
	}
	// Output:
	// Swap to electrode negative (DCEN): the machine is set to electrode positive (DCEP).
	// Shut the gas: this wire runs without, and 75 % Ar + 25 % CO2 is connected.
	// Change to knurled V or smooth V rolls .045 in.
	// Nobody says what stick-out this wire wants: read the data sheet.
	// No sheet says how the gun is held. Common practice is to drag it.
}

func ExampleOffer_Need() {
	offer, _, _ := sheetMetalWire()
	n, err := offer.Need([]fit.Weld{{Shape: fit.FilletWeld, Leg: 5 * unit.Millimetre, Length: 12_000 * unit.Millimetre}})
	fmt.Println(n.Welds, "takes", n.Wire, "of wire at", n.Efficiency, err)
	// Output:
	// 12 m of 5 mm fillet takes 1.51 kg of wire at 78 % <nil>
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

// BenchmarkCheckEveryRule asks something of every rule, at a feeder of which
// all is known, with waivers.
func BenchmarkCheckEveryRule(b *testing.B) {
	offer, demand, _ := sheetMetalWire()
	profile, _ := fit.ProfileByID("seismic-structural")
	at := time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)
	spool, _ := fit.ParsePackage("10 lb spool")
	offer.At, offer.Made, offer.Net, offer.Package, offer.PackageNet, offer.Opened = at, at.AddDate(0, -3, 0), 4500, spool, 4500, true
	offer.Certificate, offer.Origin = fit.Certificate{Number: "MTC-7", Type: "3.1", Schedule: "J", LotClass: "T4", Tested: at.AddDate(0, -3, 0)}, fit.Origin{Melted: []string{"here"}, Made: []string{"here"}}
	demand.Thickness, demand.Tensile, demand.Joint = 5*unit.Millimetre, unit.Stress{Value: 70, Unit: unit.KSI}, "tee"
	demand.Positions, demand.Processes, demand.Diameters = []fit.Position{fit.Flat, fit.VerticalDown}, []fit.Process{fit.FCAWS}, []unit.Length{offer.Diameter}
	demand.BaseMetals, demand.Classifications = []fit.BaseMetal{{Name: "A36", Family: "carbon steel"}}, []string{"E71T-14"}
	demand.Wind, demand.Hydrogen, demand.Matching, demand.PassCount, demand.Prequalified = 1000, 8, true, 3, true
	demand.Certificate, demand.Origin = fit.Certificate{Type: "3.1", Schedule: "H", LotClass: "T3|T4"}, fit.Origin{Melted: []string{"here"}, Made: []string{"here"}}
	demand.Welds = []fit.Weld{{Shape: fit.FilletWeld, Leg: 5 * unit.Millimetre, Length: 12000 * unit.Millimetre}}
	demand.Qualified = fit.Qualified{Least: 3 * unit.Millimetre, Most: 10 * unit.Millimetre, Metals: []fit.BaseMetal{{Name: "A572 Gr 50", Family: "carbon steel"}, {Name: "group I"}}}
	demand.Laid = []fit.Laid{{Spool: "W1", Wire: "E71T-1C", Shielding: fit.GasShielded}}
	feeder := &fit.Feeder{Name: "F3", Polarities: []fit.Polarity{fit.DCEP, fit.DCEN}, Gas: &fit.Gas{}, Diameters: []unit.Length{offer.Diameter},
		Rolls: fit.KnurledV, RollSize: offer.Diameter, Gun: offer.Diameter, Liner: offer.Diameter, Packages: []fit.Package{spool}, LargestPackage: 20_000}
	waiver := fit.Waiver{Spool: "W7K2-3", Job: "job 2207", Rule: fit.RuleClassification, Reason: "r", By: "Dr. Ilse", AskedBy: "Ina", Until: at.Add(time.Hour)}
	b.ReportAllocs()
	for b.Loop() {
		fit.CheckWith(offer, demand, feeder, profile, []fit.Waiver{waiver}, at)
	}
}
