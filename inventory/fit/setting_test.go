package fit

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestSettings(t *testing.T) {
	all := func(f Feeder) Feeder { f.Name = "F3"; return f }
	gun := with(wire11(), sheet("stick_out", "13-16", "mm"), sheet("travel", "drag only", ""), sheet("drive_rolls", "knurled V", ""))
	tests := []struct {
		name   string
		source string
		offer  Offer
		feeder Feeder
		part   Part
		says   string
		change bool
		by     string // part of the setting's source
	}{
		{"swap to electrode negative", code + "C049", spool(gun), all(Feeder{Polarity: DCEP}), SetPolarity, "Swap to electrode negative (DCEN): the machine is set to electrode positive (DCEP).", true, `from "11"`},
		{"leave it on electrode negative", code + "C049", spool(gun), all(Feeder{Polarity: DCEN}), SetPolarity, "Leave the machine on electrode negative (DCEN).", false, ""},
		{"set it where nobody recorded how it is", practice + "T035", spool(gun), all(Feeder{}), SetPolarity, "Set the machine to electrode negative (DCEN).", true, ""},
		{"take another feeder", code + "C049", spool(gun), all(Feeder{Polarities: []Polarity{DCEP}}), SetPolarity, "This wire runs electrode negative (DCEN), which this feeder cannot give: take another feeder.", true, ""},
		{"self-shielded stainless stays electrode positive", traps + " 2", spool(stainless("3", "none", self)), all(Feeder{Polarity: DCEP}), SetPolarity, "Leave the machine on electrode positive (DCEP).", false, ""},
		{"read the sheet of a wire for either", traps + " 5", spool(gasWire("5C", onlyCO2, published("polarity", "DCEP or DCEN", "", "5C"))), all(Feeder{Polarity: DCEP}), SetPolarity, "This wire runs on DCEP or DCEN as its maker says: read the data sheet and set that.", true, ""},
		{"read the box of a wire nobody knows", traps + " 4", spool(wireGS()), all(Feeder{Polarity: DCEN}), SetPolarity, "Nobody says how this wire is run: read the box. Typical of such wire is DCEN, but the class does not say so.", true, ""},
		{"a conflict is no setting", design, spool(with(wire11(), sheet("polarity", "DCEP", ""))), all(Feeder{}), SetPolarity, "Do not weld: The classification says DCEN, the data sheet says DCEP. An engineer must settle it.", true, ""},
		{"a polarity from memory wants the box", design, spool(with(without(wire1C(), "polarity"), remembered("polarity", "DCEP", "", "1C"))), all(Feeder{Polarity: DCEP}), SetPolarity, "Leave the machine on electrode positive (DCEP). That is from memory: confirm it on the box.", false, "memory"},
		{"shut the gas", code + "C049", spool(gun), all(Feeder{Gas: gasOf("CO2")}), SetGas, "Shut the gas: this wire runs without, and CO2 100 % is connected.", true, ""},
		{"leave the gas off", code + "C049", spool(gun), all(Feeder{Gas: gasOf("none")}), SetGas, "Leave the gas off: this wire runs without.", false, ""},
		{"shut the gas where nobody recorded it", code + "C049", spool(gun), all(Feeder{}), SetGas, "Shut the gas: this wire runs without.", true, ""},
		{"gas that the sheet permits may stay", design, spool(with(gun, sheet("self_shielded_gas_permitted", onlyCO2, ""))), all(Feeder{Gas: gasOf("CO2")}), SetGas, "This wire runs without gas, and its sheet permits CO2 100 %, which is connected.", false, "data sheet"},
		{"leave the right gas", code + "C051", spool(wire1C()), all(Feeder{Gas: gasOf("CO2")}), SetGas, "Leave CO2 100 % connected.", false, ""},
		{"change the wrong gas", traps + " 9", spool(wire1M()), all(Feeder{Gas: gasOf("82 Ar 18 CO2")}), SetGas, "Change the gas to 75-80 % Ar + balance CO2: 82 % Ar + 18 % CO2 is connected.", true, ""},
		{"connect gas where there is none", traps + " 16", spool(metalCoredWire()), all(Feeder{Gas: gasOf("none")}), SetGas, "Connect gas: 75-80 % Ar + balance CO2.", true, ""},
		{"see what gas it is", design, spool(wire1C()), all(Feeder{}), SetGas, "See that the gas is CO2 100 %: nobody has recorded what is connected.", true, ""},
		{"read the box for the gas", traps + " 4", spool(wireGS()), all(Feeder{}), SetGas, "Nobody says which gas this wire takes: read the box.", true, ""},
		{"a conflict of gas is no setting", design, spool(with(wire1M(), sheet("gas", "98 % Ar + 2 % O2", ""))), all(Feeder{}), SetGas, "Do not weld: The classification says 75-80 % Ar + balance CO2, the data sheet says 98 % Ar + 2 % O2. An engineer must settle it.", true, ""},
		{"change to knurled rolls", design, spool(gun), all(Feeder{Rolls: SmoothV, RollSize: inch(45)}), SetRolls, "Change to knurled V rolls .045 in.", true, "data sheet"},
		{"change to rolls of the size", design, spool(gun), all(Feeder{Rolls: KnurledV, RollSize: inch(52)}), SetRolls, "Change to knurled V rolls .045 in.", true, ""},
		{"leave the right rolls", design, spool(gun), all(Feeder{Rolls: KnurledV, RollSize: inch(45)}), SetRolls, "Leave the knurled V rolls for .045 in.", false, ""},
		{"see what rolls they are", design, spool(gun), all(Feeder{}), SetRolls, "See that the feeder has knurled V rolls .045 in.", true, ""},
		{"the usual rolls where no sheet says", practice + "T024", spool(solidWire()), all(Feeder{Rolls: KnurledV, RollSize: inch(45)}), SetRolls, "Change to smooth V rolls .045 in.", true, "common practice"},
		{"a conflict of rolls is for the engineer", design, spool(with(gun, shop("drive_rolls", "smooth V", ""))), all(Feeder{}), SetRolls, "Ask the engineer about the drive rolls: The data sheet says knurled V, the shop says smooth V.", true, ""},
		{"change the gun", design, on(spool(gun), func(o *Offer) { o.Diameter = inch(52) }), all(Feeder{Gun: inch(45), Liner: inch(45)}), SetGun, "Change the gun and liner for .052 in wire.", true, "record"},
		{"stick-out by the sheet", design, spool(gun), all(Feeder{}), SetStickOut, "Stick-out 13-16 mm.", true, "data sheet rev 3"},
		{"stick-out nobody says", "reference classifications, Box facts the class does not fix", spool(wire11()), all(Feeder{}), SetStickOut, "Nobody says what stick-out this wire wants: read the data sheet.", true, ""},
		{"stick-out of another size is not this wire's", design, spool(with(wire11(), sized("stick_out", "10-13 mm", ".035 in"))), all(Feeder{}), SetStickOut, "Nobody says what stick-out this wire wants: read the data sheet.", true, ""},
		{"drag only", design, spool(gun), all(Feeder{}), SetTravel, "Drag the gun, never push it.", true, "data sheet"},
		{"drag or push", design, spool(with(wire1C(), sheet("travel", "either", ""))), all(Feeder{}), SetTravel, "Drag or push the gun.", true, ""},
		{"words nobody foresaw", design, spool(with(wire1C(), sheet("travel", "slight weave", ""))), all(Feeder{}), SetTravel, "Travel: slight weave.", true, ""},
		{"usual travel of slag-making wire", practice + "T020", spool(wire11()), all(Feeder{}), SetTravel, "No sheet says how the gun is held. Common practice is to drag it.", true, "T020"},
		{"usual travel of solid wire", practice + "T021", spool(solidWire()), all(Feeder{}), SetTravel, "No sheet says how the gun is held. Common practice is to push it or hold it neutral.", true, "T021"},
		{"travel nobody knows", design, spool(nil), all(Feeder{}), SetTravel, "Nobody says how the gun is held: read the data sheet.", true, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := settingOf(Settings(tt.offer, tt.feeder), tt.part)
			if !ok {
				t.Fatalf("Settings(...): nothing for %s", tt.part)
			}
			if fault := badlySaid(got.Says, got.In(Spanish).Says, got.Message); fault != "" {
				t.Errorf("%s: %s", tt.part, fault)
			}
			if got.Says != tt.says || got.Change != tt.change || !strings.Contains(got.Source, tt.by) || got.Source == "" {
				t.Errorf("Settings: %s\n got %+v\nwant change %v by %q: %s (%s)", tt.part, got, tt.change, tt.by, tt.says, tt.source)
			}
		})
	}
}

func settingOf(ss []Setting, p Part) (Setting, bool) {
	for _, s := range ss {
		if s.Part == p {
			return s, true
		}
	}
	return Setting{}, false
}

// TestHowAFeederStandsOnceItIsSet holds that what is set is what the words say,
// and not known where they leave it to the welder.
func TestHowAFeederStandsOnceItIsSet(t *testing.T) {
	self := with(wire11(), sheet("drive_rolls", "knurled V", ""))
	either := gasWire("5C", onlyCO2, published("polarity", "DCEP or DCEN", "", "5C"))
	many := with(wire1M(), sheet("drive_rolls", "knurled V or smooth V", ""))
	tests := []struct {
		name         string
		offer        Offer
		before, want Feeder
	}{
		{"polarity, no gas and rolls", spool(self), Feeder{Polarity: DCEP, Gas: gasOf("CO2"), Rolls: SmoothV, RollSize: inch(52)}, Feeder{Polarity: DCEN, Gas: &Gas{}, Rolls: KnurledV, RollSize: inch(45)}},
		{"nothing was known", spool(self), Feeder{}, Feeder{Polarity: DCEN, Gas: &Gas{}, Rolls: KnurledV, RollSize: inch(45)}},
		{"what suits stays", spool(many), Feeder{Polarity: DCEP, Gas: gasOf("75 Ar 25 CO2"), Rolls: SmoothV, RollSize: inch(45)}, Feeder{Polarity: DCEP, Gas: gasOf("75 Ar 25 CO2"), Rolls: SmoothV, RollSize: inch(45)}},
		{"one of several mixtures and rolls is not known", spool(many), Feeder{Gas: gasOf("CO2"), Rolls: UGroove, RollSize: inch(52)}, Feeder{Polarity: DCEP, RollSize: inch(45)}},
		{"the one gas", spool(wire1C()), Feeder{Gas: gasOf("none")}, Feeder{Polarity: DCEP, Gas: gasOf("CO2"), RollSize: inch(45)}},
		{"a polarity by the sheet is not known", spool(either), Feeder{Polarity: DCEP, Gas: gasOf("CO2")}, Feeder{Gas: gasOf("CO2"), RollSize: inch(45)}},
		{"gas that a sheet permits stays", spool(with(self, sheet("self_shielded_gas_permitted", onlyCO2, ""))), Feeder{Gas: gasOf("CO2")}, Feeder{Polarity: DCEN, Gas: gasOf("CO2"), Rolls: KnurledV, RollSize: inch(45)}},
	}
	for _, tt := range tests {
		got := tt.before
		for _, s := range Settings(tt.offer, tt.before) {
			got = s.Done(got)
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: the feeder once it is set (-want +got):\n%s", tt.name, diff)
		}
	}
}

func TestAFeederIsCalledAFeederOnce(t *testing.T) {
	for name, want := range map[string]string{"Feeder 4": "Feeder 4 has CO2", "F3": "Feeder F3 has CO2", "feeder": "Feeder feeder has CO2", "Feeders' corner": "Feeder Feeders' corner has CO2"} {
		got, _ := Check(spool(wire11()), Demand{Gas: &Gas{}}, &Feeder{Name: name, Gas: gasOf("CO2")}, Profile{}).Find(RuleGas)
		if !strings.HasPrefix(got.Says, want) {
			t.Errorf("Check on feeder %q says %q, want %q first", name, got.Says, want)
		}
	}
}

func TestSettingsLeaveOutWhatNobodyAsks(t *testing.T) {
	for _, p := range []Part{SetRolls, SetGun} {
		if s, ok := settingOf(Settings(spool(nil), Feeder{Name: "F3"}), p); ok {
			t.Errorf("Settings of a wire nobody knows: %+v, want nothing for %s", s, p)
		}
	}
}
