// Package filler turns filler-metal designations into facts: what a
// classification says of the wire that carries it, which of its characters say
// so, which publication that rests on, and what the classification leaves open.
//
// It reads AWS A5.20, A5.29, A5.22, A5.36 (tubular), A5.18, A5.28, A5.9, A5.10
// (solid and metal cored), A5.1 and A5.5 (low-hydrogen covered electrodes), ISO
// 17632, 17633, 18276 and 14341, shielding gases of ISO 14175 and AWS A5.32, and
// the sizes and packages that wire is sold in; [DecodeTyped] reads any of them.
// Where a grammar takes more than its specification prints, its type says so.
//
// The grammar is here; the meaning of each designator is in the tables beside
// it (tables/*.csv), one row a fact. A fact that no row gives is not invented.
package filler

// Provenance says how sure a fact is, or who vouches for it.
type Provenance string

// Where a fact may come from. Published, Memory and Practice are the words of
// the reference tables; DataSheet and Shop are facts of one wire.
const (
	Published Provenance = "published"  // read in the source that is named
	Memory    Provenance = "memory"     // known, no source found: confirm on the box
	Practice  Provenance = "practice"   // common practice: advice, never evidence
	DataSheet Provenance = "data sheet" // from the maker's sheet for this wire
	Shop      Provenance = "shop"       // set or confirmed by the shop
)

// Fact is one property of a wire with where it came from. Name, Value, Unit
// and Condition are in the reference tables' words: "polarity", "DCEN".
type Fact struct {
	Name       string
	Value      string
	Unit       string // empty if the value has none
	Condition  string // when it holds; empty is always
	From       string // the characters of the designation that gave it; empty if none did
	At         int    // byte offset of From in the canonical designation
	Provenance Provenance
	Source     string // the publication, sheet or person; empty for memory and practice
	Note       string
}

// Facts is a wire's facts, those of the classification first.
type Facts []Fact

// Named returns the facts called name, in order; nil if there is none.
func (fs Facts) Named(name string) Facts {
	var out Facts
	for _, f := range fs {
		if f.Name == name {
			out = append(out, f)
		}
	}
	return out
}
