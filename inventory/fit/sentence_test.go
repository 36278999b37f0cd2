package fit

import (
	"testing"

	"wirehold/inventory/unit"
)

// sentence is what one rule says at one outcome, word for word.
type sentence struct {
	rule    Rule
	outcome Outcome
	offer   Offer
	demand  Demand
	feeder  *Feeder
	profile string
	says    string
}

func sentences() []sentence {
	steel, inox := joint("A36", carbonSteel), joint("304L", stainlessSteel)
	feeder := &Feeder{Name: "F3"}
	net := func(g unit.Grams) Offer { return on(spool(wire8()), func(o *Offer) { o.Net = g }) }
	papers := func(c Certificate) Offer { return on(spool(wire1C()), func(o *Offer) { o.Certificate = c }) }
	laid := []Laid{{Spool: "W1", Wire: "E71T-8", Shielding: SelfShielded}}
	cold := Demand{Laid: laid, Toughness: tough("20 ft-lbf at 0 degF")}
	held := on(spool(wire1C()), func(o *Offer) { o.Held = "box torn" })
	at := func(months int) Offer {
		return on(spool(wire1C()), func(o *Offer) { o.Made, o.Sealing = ago(months), VacuumFoil })
	}
	wrapped := func(text string) Offer { return on(spool(wire1C()), func(o *Offer) { o.Package = wound(text) }) }
	hub := &Feeder{Name: "F3", Packages: []Package{wound("12 in spool")}}
	outside := listed(joint("A572 Gr 50", carbonSteel), "A36 (carbon steel)", "group I")
	outside.ProcedureSource, outside.Thickness, outside.Qualified.Least, outside.Qualified.Most = "procedure WPS-14 rev C", mm(40), mm(3), mm(25)
	unstated, within := outside, listed(steel, "A36 (carbon steel)")
	unstated.Thickness = 0
	gradeless := listed(joint("A572 Gr 50", carbonSteel), "A572 (carbon steel)")
	plain := listed(joint("A572", carbonSteel), "A572 Gr 50 (carbon steel)")
	gradeless.ProcedureSource, plain.ProcedureSource = outside.ProcedureSource, outside.ProcedureSource
	home := func(melted ...string) Offer { return on(spool(wire1C()), func(o *Offer) { o.Origin.Melted = melted }) }
	return []sentence{
		{RuleBaseMetal, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about the base metal. This wire: carbon steel."},
		{RuleBaseMetal, Passed, spool(wire1C()), Demand{BaseMetals: steel}, nil, "", "This wire lays down carbon steel, as the joint is."},
		{RuleBaseMetal, Caution, spool(wire1C()), Demand{BaseMetals: joint("A514", lowAlloySteel)}, nil, "", "This wire lays down carbon steel and the joint is A514 (low-alloy steel): ask the engineer whether it is wanted."},
		{RuleBaseMetal, Stops, spool(wire1C()), Demand{BaseMetals: inox}, nil, "", "Never weld stainless steel with this wire: it lays down carbon steel. Take a stainless wire."},
		{RuleClassification, NotDemanded, spool(wire1C(), "E71T-1C"), Demand{}, nil, "", "The job asks nothing about the classification. This wire: E71T-1C."},
		{RuleClassification, Passed, spool(wire1C(), "E71T-1C"), Demand{Classifications: []string{"E71T-1C", "E71T-9C"}}, nil, "", "This wire is E71T-1C, which the procedure lists."},
		{RuleClassification, Stops, spool(wire1C(), "E71T-1C"), Demand{Classifications: []string{"E71T-12C"}}, nil, "", "This wire is E71T-1C. The procedure lists E71T-12C."},
		{RuleProcess, NotDemanded, spool(wire8()), Demand{}, nil, "", "The job asks nothing about the process. This wire: self-shielded flux cored wire, FCAW-S."},
		{RuleProcess, Passed, spool(wire8()), Demand{Processes: []Process{FCAWS}}, nil, "", "This is wire for FCAW-S, as the procedure wants."},
		{RuleProcess, Caution, spool(with(without(wire8(), "shielding"), remembered("shielding", self, "", "8"))), Demand{Processes: []Process{FCAWS}}, nil, "", "This is wire for FCAW-S, as the procedure wants. That is from memory: confirm it on the box."},
		{RuleProcess, Stops, spool(wire8()), Demand{Processes: []Process{FCAWG}}, nil, "", "This is self-shielded flux cored wire, FCAW-S. The procedure is FCAW-G: take a wire for that."},
		{RuleDiameter, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about diameter. This wire: .045 in (1.14 mm)."},
		{RuleDiameter, Passed, spool(wire1C()), Demand{Diameters: []unit.Length{inch(45)}}, nil, "", "This wire is .045 in (1.14 mm), which the procedure allows."},
		{RuleDiameter, Caution, spool(wire1C()), Demand{}, feeder, "", "Nobody has recorded what wire sizes feeder F3 takes: look at its rolls and liner."},
		{RuleDiameter, Stops, spool(wire1C()), Demand{Diameters: []unit.Length{inch(52)}}, nil, "", "This wire is .045 in (1.14 mm). The procedure wants .052 in (1.32 mm)."},
		{RulePolarity, NotDemanded, spool(wire11()), Demand{}, nil, "", "The job asks nothing about polarity. This wire: DCEN."},
		{RulePolarity, Passed, spool(wire11()), Demand{Polarity: DCEN}, nil, "", "Run this wire electrode negative (DCEN), as the procedure wants."},
		{RulePolarity, Caution, spool(wire11()), Demand{}, feeder, "", "Nobody has recorded what polarity feeder F3 can give: it must be electrode negative (DCEN)."},
		{RulePolarity, Stops, spool(wire11()), Demand{Polarity: DCEP}, nil, "", "Run this wire electrode negative (DCEN). The procedure wants electrode positive (DCEP)."},
		{RuleGas, NotDemanded, spool(wire1M()), Demand{}, nil, "", "The job asks nothing about shielding gas. This wire: 75-80 % Ar + balance CO2."},
		{RuleGas, Passed, spool(wire1M()), Demand{Gas: gasOf("75 Ar 25 CO2")}, nil, "", "This wire runs in 75 % Ar + 25 % CO2, as the procedure does."},
		{RuleGas, Caution, spool(old1()), Demand{Gas: gasOf("CO2")}, nil, "", "This wire runs in CO2 100 %, as the procedure does. That holds for a label made to the 1995 edition: confirm it on the box."},
		{RuleGas, Stops, spool(wire1M()), Demand{Gas: gasOf("82 Ar 18 CO2")}, nil, "", "This wire takes 75-80 % Ar + balance CO2. The procedure runs 82 % Ar + 18 % CO2."},
		{RulePasses, NotDemanded, spool(wire14()), Demand{}, nil, "", "The job asks nothing about passes. This wire: single only."},
		{RulePasses, Passed, spool(wire1C()), Demand{Passes: MultiPass}, nil, "", "This wire may be laid in multiple passes, as the joint takes."},
		{RulePasses, Caution, spool(wire14()), Demand{Passes: SinglePass, Prequalified: true}, nil, "structural-steel", "This is single-pass wire (14): a prequalified procedure may not use it. That limit is from memory: have the shop confirm it."},
		{RulePasses, Stops, spool(wire14(), "E71T-14"), Demand{Passes: MultiPass}, nil, "", "This is single-pass wire (-14): never lay a second pass on it. The joint takes multiple passes."},
		{RuleThickness, NotDemanded, spool(wire11()), Demand{}, nil, "", "The job asks nothing about plate thickness. This wire: 19 mm."},
		{RuleThickness, Passed, spool(wire11()), Demand{Thickness: mm(12)}, nil, "", "The plate is 12 mm (.4724 in), within the wire's 19 mm."},
		{RuleThickness, Caution, spool(wire11()), Demand{Thickness: mm(22)}, nil, "", "This wire is recommended for plate up to 19 mm. The plate is 22 mm (.8661 in): take another wire or ask the engineer."},
		{RuleThickness, Stops, spool(wire11()), Demand{Thickness: mm(16), Prequalified: true}, nil, "structural-steel", "This wire is prequalified for plate up to 12 mm. The plate is 16 mm (.6299 in): take another wire or ask the engineer."},
		{RulePosition, NotDemanded, spool(wire8()), Demand{}, nil, "", "The job asks nothing about position. This wire: all."},
		{RulePosition, Passed, spool(wire8()), Demand{Positions: []Position{Flat, Overhead}}, nil, "", "This wire may be welded flat and overhead."},
		{RulePosition, Caution, spool(wire1C()), Demand{Positions: []Position{VerticalUp}}, nil, "", "Run this wire vertical up, as the joint is welded. That is from memory: confirm it on the box."},
		{RulePosition, Stops, spool(wire11()), Demand{Positions: []Position{VerticalUp}}, nil, "", "This wire is run vertical down. The joint is welded vertical up."},
		{RuleStrength, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about strength. This wire: 70 ksi."},
		{RuleStrength, Passed, spool(wire1C()), Demand{Tensile: unit.Stress{Value: 70, Unit: unit.KSI}}, nil, "", "The wire's tensile strength is 70 ksi; 70 ksi is wanted."},
		{RuleStrength, Caution, spool(wire1C()), Demand{Matching: true, BaseMetals: steel, Thickness: mm(25)}, nil, "", "A36 (>20 mm, 3/4 in) is in group II of AWS D1.1 and is matched by E7. The wire's tensile strength is 70 ksi; 70 ksi for A36 (>20 mm, 3/4 in) is wanted. The group is from memory: have the engineer confirm it."},
		{RuleStrength, Stops, spool(wire1C()), Demand{Tensile: unit.Stress{Value: 80, Unit: unit.KSI}}, nil, "", "The wire's tensile strength is 70 ksi, which is not enough. The procedure wants at least 80 ksi."},
		{RuleToughness, NotDemanded, spool(wire8()), Demand{}, nil, "", "The job asks nothing about toughness. This wire: 20 ft-lbf at -20 degF."},
		{RuleToughness, Passed, spool(wire8()), Demand{Toughness: tough("20 ft-lbf at -20 degF")}, nil, "", "The wire's toughness is 20 ft-lbf at -20 degF; 20 ft-lbf at -20 degF is wanted."},
		{RuleToughness, Caution, spool(with(wire11(), sheet("impact_min_energy", "27", "J"), sheet("impact_temperature", "-30", "degC"))), Demand{Toughness: tough("27 J at -30 degC")}, nil, "", "The wire's toughness is 27 J at -30 degC; 27 J at -30 degC is wanted. The class promises none: the engineer must accept it."},
		{RuleToughness, Stops, spool(wire11()), Demand{Toughness: tough("20 ft-lbf at 0 degF")}, nil, "", "This wire's class promises no toughness. Wanted is 20 ft-lbf at 0 degF: take a wire that is classified for it."},
		{RuleHydrogen, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about hydrogen."},
		{RuleHydrogen, Passed, spool(with(wire1C(), published("diffusible_hydrogen_max", "4", "mL/100 g", "H4"))), Demand{Hydrogen: 8}, nil, "", "The wire's diffusible hydrogen is 4 mL/100 g; 8 mL/100 g is wanted."},
		{RuleHydrogen, Caution, spool(with(wire1C(), remembered("diffusible_hydrogen_max", "4", "mL/100 g", "H4"))), Demand{Hydrogen: 8}, nil, "", "The wire's diffusible hydrogen is 4 mL/100 g; 8 mL/100 g is wanted. That is from memory: confirm it on the box."},
		{RuleHydrogen, Stops, spool(wire1C()), Demand{Hydrogen: 8}, nil, "", "Nobody says what diffusible hydrogen this wire gives: the class and the box do not promise it. The limit is 8 mL/100 g."},
		{RuleWind, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about wind. This wire: external."},
		{RuleWind, Passed, spool(wire1C()), Demand{Wind: mph("5")}, nil, "structural-steel", "The job's wind of 5 mph is within the 5 mph for gas-shielded wire."},
		{RuleWind, Caution, spool(wire1C()), Demand{Wind: mph("6")}, nil, "general-shop", "Gas-shielded wire: it holds up to 5 mph of wind, and the job has 6 mph. Put up a shelter. That limit is from practice: have the shop confirm it."},
		{RuleWind, Stops, spool(wire1C()), Demand{Wind: mph("6")}, nil, "structural-steel", "Gas-shielded wire: it holds up to 5 mph of wind, and the job has 6 mph. Put up a shelter."},
		{RuleLotStatus, Passed, spool(wire1C()), Demand{}, nil, "", "The lot L-204 is accepted and the spool is not on hold."},
		{RuleLotStatus, Stops, held, Demand{}, nil, "", "This spool is on hold: box torn."},
		{RuleCertificate, NotDemanded, papers(Certificate{Number: "MTC-7"}), Demand{}, nil, "", "The job asks nothing about the certificate. This wire: certificate MTC-7."},
		{RuleCertificate, Passed, papers(Certificate{Number: "MTC-7", Type: "3.1"}), Demand{Certificate: Certificate{Type: "2.2"}}, nil, "", "This lot's certificate is 3.1 by EN 10204, and the job wants 2.2."},
		{RuleCertificate, Caution, papers(Certificate{Number: "MTC-7", Tested: ago(20)}), Demand{}, nil, "bridge", "The tests of this lot are of 2024-07-02, more than 12 months ago: ask for a newer certificate. That limit is from practice: have the shop confirm it."},
		{RuleCertificate, Stops, papers(Certificate{}), Demand{Certificate: Certificate{Type: "2.2"}}, nil, "", "No certificate of this lot is on file: ask for it before the wire is used."},
		{RuleShelfLife, NotDemanded, at(3), Demand{}, nil, "", "The job asks nothing about shelf life. This wire: made 2025-12-02."},
		{RuleShelfLife, Passed, at(3), Demand{}, nil, "general-shop", "This lot was made on 2025-12-02, within the 5 years that the rule profile allows."},
		{RuleShelfLife, Caution, at(61), Demand{}, nil, "general-shop", "This lot was made on 2021-02-02, longer ago than the 5 years that the rule profile allows: inspect and test it before it is used."},
		{RuleShelfLife, Stops, on(at(3), func(o *Offer) { o.Expires = ago(1) }), Demand{}, nil, "", "The box says use by 2026-02-02, and that is past: inspect and test the wire before it is used, or take another lot."},
		{RuleOrigin, NotDemanded, home("home"), Demand{}, nil, "", "The job asks nothing about origin. This wire: melted in home."},
		{RuleOrigin, Passed, home("home"), Demand{Origin: Origin{Melted: []string{"home"}}}, nil, "", "This lot was melted in home, as the job wants."},
		{RuleOrigin, Stops, home("abroad"), Demand{Origin: Origin{Melted: []string{"home"}}}, nil, "", "This lot was melted in abroad. The job wants it melted in home."},
		{RuleExposure, Passed, spool(wire1C()), Demand{}, nil, "", "The spool is sealed."},
		{RuleExposure, Caution, opened(wire1C(), 73), Demand{}, nil, "general-shop", "The spool has been open 73 h. The profile allows 72 h: take a fresh spool."},
		{RuleExposure, Passed, testedFor("120 h, 9 mL/100 g", 100), Demand{}, nil, "seismic-structural", "The spool has been open 100 h of the 120 h its exposure test allows."},
		{RuleExposure, Stops, torn(spool(wire1C())), Demand{}, nil, "seismic-structural", "The spool has been open for a time that nobody knows (its package was damaged while it was sealed). The profile allows 72 h: take a fresh spool."},
		{RuleExposure, Caution, untilFour(opened(wire1C(), 67)), Demand{}, nil, "seismic-structural", "The spool has been open 67 h of the 72 h the profile allows. Out of the cabinet it passes the limit at 15:00, before the shift ends at 16:00 UTC: have it back by then."},
		{RuleExposure, Stops, opened(wire1C(), 73), Demand{}, nil, "seismic-structural", "The spool has been open 73 h. The profile allows 72 h: take a fresh spool."},
		{RuleRemaining, NotDemanded, net(2000), Demand{}, nil, "", "The job asks nothing about the amount of weld. This wire: 2 kg of wire left."},
		{RuleRemaining, Passed, net(4000), Demand{Welds: []Weld{fillet(8, 12)}}, nil, "", "The weld needs 3.865 kg of wire: 3.015 kg of weld metal (12 m of 8 mm fillet) at 78 % deposition efficiency. The spool has 4 kg."},
		{RuleRemaining, Caution, net(2000), Demand{Welds: []Weld{{Shape: VGroove, Length: mm(4000), Depth: mm(12), Gap: mm(3), Angle: 600, Cap: mm(2)}}}, nil, "", "The weld needs 5.701 kg of wire: 4.447 kg of weld metal (4 m of V groove 12 mm deep, gap 3 mm, 60 deg, cap 2 mm) at 78 % deposition efficiency. The spool has 2 kg: 3.701 kg short."},
		{RuleMixing, NotDemanded, spool(wire1C()), Demand{Laid: laid}, nil, "structural-steel", "The joint holds self-shielded weld (E71T-8). The rule profile asks no proof of mixed deposits here."},
		{RuleMixing, Passed, spool(wire8()), Demand{Laid: laid}, nil, "seismic-structural", "The joint holds self-shielded weld (E71T-8): nothing is mixed."},
		{RuleMixing, Caution, spool(wire1C()), cold, nil, "structural-steel", "Gas-shielded over self-shielded weld (E71T-8): the rule profile (Structural steel, AWS D1.1) wants proof by test, and the procedure names no report. Ask the engineer. That limit is from memory: have the shop confirm it."},
		{RuleMixing, Stops, spool(wire1C()), cold, nil, "seismic-structural", "Gas-shielded over self-shielded weld (E71T-8): the rule profile (Seismic structural steel, AWS D1.8) wants proof by test, and the procedure names no report. Ask the engineer."},
		{RuleRolls, NotDemanded, spool(wire1C()), Demand{}, nil, "", "No feeder is named, so nothing is asked about drive rolls."},
		{RuleRolls, Passed, spool(with(wire1C(), sheet("drive_rolls", "knurled V", ""))), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV}, "", "Feeder F3 has knurled V rolls, as this wire wants."},
		{RuleRolls, Caution, spool(solidWire()), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV}, "", "Feeder F3 has knurled V rolls. Common practice for this wire is smooth V: read the data sheet, or change them."},
		{RuleRolls, Stops, spool(wire1C()), Demand{}, &Feeder{Name: "F3", RollSize: inch(35)}, "", "This wire is .045 in (1.14 mm). Feeder F3 has rolls for .035 in (0.89 mm): change them."},
		{RulePackage, NotDemanded, wrapped("12 in spool"), Demand{}, feeder, "", "Nobody has recorded which packages feeder F3 takes."},
		{RulePackage, Passed, wrapped("12 in spool"), Demand{}, hub, "", "Feeder F3 takes a 12 in spool."},
		{RulePackage, Caution, wrapped("8 in spool"), Demand{}, hub, "", "This is an 8 in spool. Feeder F3 takes 12 in spool: a smaller one sits on the same hub, but that is from memory. Try it."},
		{RuleThickness, Stops, spool(wire1C()), outside, nil, "", "The plate is 40 mm (1.5748 in), thicker than procedure WPS-14 rev C is qualified for: 3 mm (.1181 in) to 25 mm (.9843 in). Move the job to another procedure or ask the welding engineer."},
		{RuleThickness, Stops, spool(wire1C()), unstated, nil, "", "The job does not say how thick each plate is, and procedure WPS-14 rev C is qualified for 3 mm (.1181 in) to 25 mm (.9843 in): state it on the job."},
		{RuleBaseMetal, Stops, spool(wire1C()), outside, nil, "", "The joint has A572 Gr 50 (carbon steel), and procedure WPS-14 rev C is qualified for A36 (carbon steel) or group I. Move the job to another procedure or ask the welding engineer."},
		{RuleBaseMetal, Stops, spool(wire1C()), gradeless, nil, "", "The joint has A572 Gr 50 (carbon steel), and procedure WPS-14 rev C lists A572 without a grade: ask the welding engineer for a revision that states it, or move the job to another procedure."},
		{RuleBaseMetal, Stops, spool(wire1C()), plain, nil, "", "The job says A572 without a grade, and procedure WPS-14 rev C is qualified for A572 Gr 50 (carbon steel): state it on the job."},
		{RuleBaseMetal, Passed, spool(wire1C()), within, nil, "", "This wire lays down carbon steel, as the joint is. The procedure is qualified for A36 (carbon steel)."},
		{RulePackage, Stops, wrapped("25 lb coil"), Demand{}, hub, "", "This is a coil. Feeder F3 takes 12 in spool: fit another hub or take another feeder."},
	}
}

// TestSentences holds what every rule says at every outcome that it can have.
func TestSentences(t *testing.T) {
	said := map[Rule]map[Outcome]bool{}
	for _, tt := range sentences() {
		p, _ := ProfileByID(tt.profile)
		got, _ := Check(tt.offer, tt.demand, tt.feeder, p).Find(tt.rule)
		if got.Outcome != tt.outcome || got.Says != tt.says {
			t.Errorf("Check: %s\n got %s: %q\nwant %s: %q", tt.rule, got.Outcome, got.Says, tt.outcome, tt.says)
		}
		if said[tt.rule] == nil {
			said[tt.rule] = map[Outcome]bool{}
		}
		said[tt.rule][tt.outcome] = true
	}
	never := map[Rule][]Outcome{
		RuleClassification: {Caution},              // a class is listed or it is not
		RuleLotStatus:      {NotDemanded, Caution}, // it is always asked
		RuleExposure:       {NotDemanded},          // so is this
		RuleOrigin:         {Caution},              // a clause is met or it is not
		RuleRemaining:      {Stops},                // a second spool may follow
	}
	for _, r := range Rules() {
		for _, o := range never[r] {
			said[r][o] = true
		}
		for _, o := range []Outcome{NotDemanded, Passed, Caution, Stops} {
			if !said[r][o] {
				t.Errorf("no sentence is held for %s: %s", r, o)
			}
		}
	}
}
