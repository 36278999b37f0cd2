package fit

import (
	"testing"
	"time"

	"wirehold/inventory/filler"
)

// testedFor is a wire with an exposure test on its sheet, open for hours.
func testedFor(result string, hours int) Offer {
	return opened(with(wire1C(), sheet("tested_exposure", result, "")), hours)
}

// lotTestedFor is a wire of a lot with an exposure test of its own.
func lotTestedFor(result string, hours int) Offer {
	return on(opened(wire1C(), hours), func(o *Offer) { o.TestedExposure, o.LotNumber = result, "A26-7" })
}

// torn is a spool whose package was damaged while it was sealed.
func torn(o Offer) Offer {
	o.ExposureUnknown = "its package was damaged while it was sealed"
	return o
}

// untilFour is a spool that was open for hours at ten o'clock, in a shift that
// ends at four.
func untilFour(o Offer) Offer {
	o.At = time.Date(2026, 3, 4, 10, 0, 0, 0, time.UTC)
	o.ShiftEnds = o.At.Add(6 * time.Hour)
	return o
}

func TestCheckTestedExposure(t *testing.T) {
	const seismic = "seismic-structural"
	const good, wet = "120 h, 9 mL/100 g", "120 h, 17 mL/100 g"
	byWhom := func(p filler.Provenance) Offer {
		return opened(with(wire1C(), filler.Fact{Name: "tested_exposure", Value: good, Provenance: p, Source: "somebody"}), 100)
	}
	short := opened(with(wire1C(), sheet("tested_exposure", good, ""), sheet("exposure_limit", "24", "h")), 30)
	runCases(t, []fitCase{
		{"past 72 h without a test stops", exposed + "E001", opened(wire1C(), 73), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"a tested 120 h under 16 mL stands in its place", exposed + "E002", testedFor(good, 100), Demand{}, nil, seismic, RuleExposure, Passed, "100 h of the 120 h"},
		{"to its last hour", exposed + "E002", testedFor(good, 120), Demand{}, nil, seismic, RuleExposure, Passed, "120 h of the 120 h"},
		{"and no longer", exposed + "E002", testedFor(good, 121), Demand{}, nil, seismic, RuleExposure, Stops, "allows 120 h"},
		{"at 16 mL it still counts", exposed + "E002", testedFor("120 h, 16 mL/100 g", 100), Demand{}, nil, seismic, RuleExposure, Passed, ""},
		{"a tenth over 16 mL and it does not", exposed + "E002", testedFor("120 h, 16.1 mL/100 g", 100), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"over 16 mL it does not count", exposed + "E002", testedFor(wet, 100), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"a test shorter than the limit takes nothing away", exposed + "E001 and E002", testedFor("48 h, 9 mL/100 g", 60), Demand{}, nil, seismic, RuleExposure, Passed, "of the 72 h"},
		{"what cannot be read is no test", exposed + "E001", testedFor("long enough", 100), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"a test from memory is none", exposed + "E002", byWhom(filler.Memory), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"nor one from practice", exposed + "E002", byWhom(filler.Practice), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"the sheet's own shorter limit still holds", exposed + "E002 and E011", short, Demand{}, nil, seismic, RuleExposure, Stops, "allows 24 h"},
		{"a profile without a hydrogen limit takes no test", exposed + "E002", testedFor(good, 100), Demand{}, nil, "general-shop", RuleExposure, Caution, "allows 72 h"},
		{"the lot's own test stands too", exposed + "E002", lotTestedFor(good, 100), Demand{}, nil, seismic, RuleExposure, Passed, "100 h of the 120 h"},
		{"the lot's own test over 16 mL does not", exposed + "E002", lotTestedFor(wet, 100), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
		{"another lot's test is none of this lot", exposed + "E001", on(lotTestedFor(good, 100), func(o *Offer) { o.TestedExposure = "" }), Demand{}, nil, seismic, RuleExposure, Stops, "allows 72 h"},
	})
}

func TestCheckUnknownExposure(t *testing.T) {
	const seismic = "seismic-structural"
	runCases(t, []fitCase{
		{"a torn package stops seismic work, sealed as it is", exposed + "E009", torn(spool(wire1C())), Demand{}, nil, seismic, RuleExposure, Stops, "a time that nobody knows"},
		{"also once it is opened", exposed + "E009", torn(opened(wire1C(), 1)), Demand{}, nil, seismic, RuleExposure, Stops, "damaged"},
		{"also with a test report", exposed + "E009", torn(testedFor("120 h, 9 mL/100 g", 1)), Demand{}, nil, seismic, RuleExposure, Stops, ""},
		{"also where its own limit is long", exposed + "E009", torn(opened(with(wire1C(), sheet("exposure_limit", "168", "h")), 1)), Demand{}, nil, "", RuleExposure, Stops, "allows 168 h"},
		{"where the limit is a guide it is a caution", exposed + "E009 and E070 warn", torn(spool(wire1C())), Demand{}, nil, "general-shop", RuleExposure, Caution, "nobody knows"},
		{"where the procedure limits hydrogen it stops, a guide or not", exposed + "E005 and E009", torn(spool(wire1C())), Demand{Hydrogen: 8}, nil, "general-shop", RuleExposure, Stops, "hydrogen of at most 8 mL/100 g is wanted"},
		{"solid wire too", exposed + "E005 and E009", torn(spool(solidWire())), Demand{Hydrogen: 8}, nil, "", RuleExposure, Stops, "what the box says of it no longer holds"},
		{"where the profile limits hydrogen, metal-cored wire without a limit of hours stops", exposed + "E005 and E009", torn(spool(metalCoredWire())), Demand{}, nil, seismic, RuleExposure, Stops, "16 mL/100 g"},
		{"solid wire is not under that limit", exposed + "E005", torn(spool(solidWire())), Demand{}, nil, seismic, RuleExposure, Caution, "no limit is known"},
		{"a known exposure without a limit is a caution still", exposed + "E074", opened(solidWire(), 500), Demand{Hydrogen: 8}, nil, "", RuleExposure, Caution, "no limit is known"},
		{"without any limit it is a caution", exposed + "E009", torn(spool(solidWire())), Demand{}, nil, "", RuleExposure, Caution, "no limit is known"},
	})
}

func TestCheckExposureBeforeTheShiftEnds(t *testing.T) {
	const seismic = "seismic-structural"
	runCases(t, []fitCase{
		{"72 h are not passed by four", exposed + "E001", untilFour(opened(wire1C(), 66)), Demand{}, nil, seismic, RuleExposure, Passed, "66 h of the 72 h"},
		{"they are passed an hour before four", exposed + "E001", untilFour(opened(wire1C(), 67)), Demand{}, nil, seismic, RuleExposure, Caution, "at 15:00, before the shift ends at 16:00 UTC"},
		{"past them it stops as ever", exposed + "E001", untilFour(opened(wire1C(), 73)), Demand{}, nil, seismic, RuleExposure, Stops, "take a fresh spool"},
		{"a sealed spool has no shift to fear", exposed + "E006", untilFour(spool(wire1C())), Demand{}, nil, seismic, RuleExposure, Passed, "sealed"},
		{"the sheet's own limit warns too", exposed + "E011", untilFour(opened(with(wire1C(), sheet("exposure_limit", "24", "h")), 20)), Demand{}, nil, "", RuleExposure, Caution, "at 14:00"},
		{"a tested exposure moves the instant", exposed + "E002", untilFour(testedFor("120 h, 9 mL/100 g", 67)), Demand{}, nil, seismic, RuleExposure, Passed, "67 h of the 120 h"},
		{"no shift, no caution", design, on(untilFour(opened(wire1C(), 71)), func(o *Offer) { o.ShiftEnds = time.Time{} }), Demand{}, nil, seismic, RuleExposure, Passed, ""},
	})
}

// TestTheSourceOfATestedExposure holds whose word stands beside the limit.
func TestTheSourceOfATestedExposure(t *testing.T) {
	p, _ := ProfileByID("seismic-structural")
	tests := []struct {
		name   string
		offer  Offer
		source string
	}{
		{"of the wire", testedFor("120 h, 9 mL/100 g", 100), sheet("", "", "").Source + ": hydrogen 9 mL/100 g after 120 h of exposure"},
		{"of the lot", lotTestedFor("120 h, 9 mL/100 g", 100), "test report, record of lot A26-7: hydrogen 9 mL/100 g after 120 h of exposure"},
	}
	for _, tt := range tests {
		got, _ := Check(tt.offer, Demand{}, nil, p).Find(RuleExposure)
		if got.Demanded.Source != tt.source || got.Demanded.Text != "120 h" {
			t.Errorf("%s: Check demands %+v, want 120 h by %q", tt.name, got.Demanded, tt.source)
		}
	}
}

func TestReadTestedExposure(t *testing.T) {
	tests := []struct{ typed, want string }{
		{"120 h, 9 mL/100 g", "120 h, 9 mL/100 g"},
		{" 120h, 9.5 ml/100g ", "120 h, 9.5 mL/100 g"},
		{"0120 hours with 9 mL / 100 g", "120 h, 9 mL/100 g"},
		{"120 h", ""}, {"9 mL/100 g", ""}, {"0 h, 9 mL/100 g", ""}, {"120 h, 0 mL/100 g", ""}, {"-120 h, 9 mL/100 g", ""},
		{"5 days, 9 mL/100 g", ""}, {"120 h, 9 mL", ""}, {"120 h, 900 mL/100 g", ""}, {"", ""},
	}
	for _, tt := range tests {
		if got, ok := ReadTestedExposure(tt.typed); got != tt.want && ok || ok != (tt.want != "") {
			t.Errorf("ReadTestedExposure(%q) = %q, %v, want %q", tt.typed, got, ok, tt.want)
		}
	}
}
