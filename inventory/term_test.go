package inventory

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

func TestProcessTerm(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, text string
		want       []fit.Process
	}{
		{"gasless", "gasless", []fit.Process{fit.FCAWS}},
		{"open-arc", "Open-Arc wire", []fit.Process{fit.FCAWS}},
		{"self-shielded", "self-shielded flux-cored wires", []fit.Process{fit.FCAWS}},
		{"gas-shielded flux-cored", "gas-shielded flux-cored", []fit.Process{fit.FCAWG}},
		{"a bare flux core asks which", "flux core", []fit.Process{fit.FCAWG, fit.FCAWS}},
		{"so does flux-cored wire", "Flux-Cored Wire", []fit.Process{fit.FCAWG, fit.FCAWS}},
		{"cored alone may be metal", "cored", []fit.Process{fit.FCAWG, fit.FCAWS, fit.GMAWC}},
		{"metal-cored", "metal-cored", []fit.Process{fit.GMAWC}},
		{"solid", "solid wire", []fit.Process{fit.GMAW}},
		{"MIG wire", "MIG wire", []fit.Process{fit.GMAW}},
		{"rod", "rods", []fit.Process{fit.GTAW}},
		{"TIG rod", "TIG rod", []fit.Process{fit.GTAW}},
		{"a stick is a covered electrode", "stick electrodes", []fit.Process{SMAW}},
		{"the process itself", "FCAW-S", []fit.Process{fit.FCAWS}},
		{"the process with spaces", "GMAW metal cored", []fit.Process{fit.GMAWC}},
		{"an en dash", "self\u2013shielded", []fit.Process{fit.FCAWS}},
		{"a designation is no name", "E71T-11", nil},
		{"wire alone is no name", "wire", nil},
		{"nothing", "", nil},
		{"a sentence is no name", "gasless please", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := processesOf(ProcessTerm(tt.text))
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("ProcessTerm(%q) (-want +got):\n%s", tt.text, diff)
			}
		})
	}
}

func TestRead(t *testing.T) {
	t.Parallel()
	v := NewVocabulary([]Nickname{{Name: "Bridge Wire", Process: fit.FCAWG, By: "Eva Root", At: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}})
	in := func(num, den int64) unit.Length { return unit.Length(num) * unit.Inch / unit.Length(den) }
	tests := []struct {
		name, text string
		names      []string
		sizes      []unit.Length
		words      []string
	}{
		{"a name and a size", "gasless .035", []string{"gasless"}, []unit.Length{in(35, 1000)}, nil},
		{"a size with its unit apart", "solid 0.9 mm", []string{"solid"}, []unit.Length{9 * unit.Millimetre / 10}, nil},
		{"a size with its unit at it", "0.9mm", nil, []unit.Length{9 * unit.Millimetre / 10}, nil},
		{"a fraction is inches", "1/16", nil, []unit.Length{in(1, 16)}, nil},
		{"a fraction with its mark", `3/32"`, nil, []unit.Length{in(3, 32)}, nil},
		{"thousandths as they are said", "045", nil, []unit.Length{in(45, 1000)}, nil},
		{"one decimal is millimetres", "1.2", nil, []unit.Length{12 * unit.Millimetre / 10}, nil},
		{"a plate is no wire size", "12 mm", nil, nil, []string{"12", "mm"}},
		{"a job's number is no size", "2207", nil, nil, []string{"2207"}},
		{"the longest name wins", "gas-shielded flux core 1/16 kestrel", []string{"gas-shielded flux core"}, []unit.Length{in(1, 16)}, []string{"kestrel"}},
		{"words between", "kestrel metal cored amber", []string{"metal cored"}, nil, []string{"kestrel", "amber"}},
		{"a nickname", "bridge wire .052", []string{"bridge wire"}, []unit.Length{in(52, 1000)}, nil},
		{"a designation stays a word", "E71T-11", nil, nil, []string{"E71T-11"}},
		{"nothing", "  ", nil, nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			m := v.Read(tt.text)
			var names []string
			var sizes []unit.Length
			for _, n := range m.Names {
				names = append(names, n.Typed)
			}
			for _, s := range m.Sizes {
				sizes = append(sizes, s.Size)
			}
			if diff := cmp.Diff([]any{tt.names, tt.sizes, tt.words}, []any{names, sizes, m.Words}); diff != "" {
				t.Errorf("Read(%q) (-want +got):\n%s", tt.text, diff)
			}
		})
	}
}

func TestAnUnclearNameIsAskedAndReplaced(t *testing.T) {
	t.Parallel()
	m := Vocabulary{}.Read("amber flux core .045")
	n, ask := m.Unclear()
	if !ask || n.Typed != "flux core" {
		t.Fatalf("Unclear() = %q, %t, want flux core", n.Typed, ask)
	}
	text := m.With(n, fit.FCAWS)
	after := Vocabulary{}.Read(text)
	if _, ask := after.Unclear(); ask || len(after.Names) != 1 || len(after.Sizes) != 1 || !slices.Equal(after.Words, []string{"amber"}) {
		t.Errorf("With() = %q, read as %+v; want it clear, with size and word", text, after)
	}
}

// Every process of the table is one that a search knows, and every name reads
// back as itself.
func TestTermTable(t *testing.T) {
	t.Parallel()
	for _, term := range TradeTerms() {
		if !slices.Contains(TermProcesses(), term.Process) {
			t.Errorf("terms.csv: %q stands for %q, which is no process", term.Name, term.Process)
		}
		if !slices.Contains(processesOf(ProcessTerm(term.Name)), term.Process) {
			t.Errorf("ProcessTerm(%q) lacks %s", term.Name, term.Process)
		}
		if term.Provenance != "practice" {
			t.Errorf("terms.csv: %q has provenance %q, and is common practice", term.Name, term.Provenance)
		}
	}
}

func TestProcessesOfAWire(t *testing.T) {
	t.Parallel()
	rod := wireOf("ER70S-6")
	rod.Package = "10 lb tube of 36 in rods"
	bare := wireOf("ER70S-6")
	bare.Package = "box"
	tests := []struct {
		name string
		wire Wire
		want []fit.Process
	}{
		{"self-shielded", wireOf("E71T-11"), []fit.Process{fit.FCAWS}},
		{"with gas", wireOf("E71T-1C"), []fit.Process{fit.FCAWG}},
		{"metal cored", wireOf("E70C-6M"), []fit.Process{fit.GMAWC}},
		{"solid on a spool", wireOf("ER70S-6"), []fit.Process{fit.GMAW}},
		{"solid in lengths", rod, []fit.Process{fit.GTAW}},
		{"solid in a box is either", bare, []fit.Process{fit.GMAW, fit.GTAW}},
		{"a covered electrode", wireOf("E7018-H4R"), []fit.Process{SMAW}},
		{"GS is neither until somebody says", wireOf("E71T-GS"), nil},
		{"GS by its sheet", wireOf("E71T-GS", sheet("shielding", "self", "", "")), []fit.Process{fit.FCAWS}},
		{"box and sheet disagree", wireOf("E71T-11", sheet("shielding", "external", "", "")), nil},
	}
	for _, tt := range tests {
		got, err := tt.wire.Processes()
		if diff := cmp.Diff(tt.want, got); diff != "" || err != nil {
			t.Errorf("%s: Processes() of %s in %q: %v (-want +got):\n%s", tt.name, tt.wire.Classifications[0], tt.wire.Package, err, diff)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{"gasless .035", "flux core 1/16", `3/32"`, "0.9 mm", "\u2013", "1/0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, s := range (Vocabulary{}).Read(text).Sizes {
			if !isWireSize(s.Size) {
				t.Errorf("Read(%q): %q is %s", text, s.Typed, s.Size)
			}
		}
	})
}
