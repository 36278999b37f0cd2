package inventory

import (
	"fmt"
	"regexp"
	"strings"

	"wirehold/inventory/filler"
)

// SpoolMaterial is what a spool itself is made of.
type SpoolMaterial string

// The materials, as they bear heat. Plastic softens near 80 to 100 °C (shop
// practice, testdata/exposure_rules.csv E090).
const (
	MetalSpool   SpoolMaterial = "metal"
	PlasticSpool SpoolMaterial = "plastic"
	FibreSpool   SpoolMaterial = "fibre or cardboard"
)

// SpoolMaterials lists the materials.
func SpoolMaterials() []SpoolMaterial { return []SpoolMaterial{MetalSpool, PlasticSpool, FibreSpool} }

// bears reports whether a spool of the material is heated at all.
func (m SpoolMaterial) bears() bool { return m == MetalSpool }

// KnownMaterial is what a wire's package or sheet says that its spools are made
// of.
type KnownMaterial struct {
	Material SpoolMaterial // empty: somebody must look at the spool
	Source   string        // "its package is a 15 kg plastic spool"
}

// materialWords are the words of a package that name a material, those that
// bear no heat first. A wire basket is steel as a rule, but coated ones are
// sold: of one somebody looks.
var materialWords = []struct {
	words    *regexp.Regexp
	material SpoolMaterial
}{
	{regexp.MustCompile(`(?i)\bplastic\b|\bABS\b`), PlasticSpool},
	{regexp.MustCompile(`(?i)\bfib(?:re|er)(?:board)?\b|\bcardboard\b`), FibreSpool},
	{regexp.MustCompile(`(?i)\bsteel\b|\bmetal\b`), MetalSpool},
}

// SpoolMaterial returns what the wire's spools are known to be made of: what
// the shop or the data sheet says, and what its package is called. Where two
// of them disagree, the one that bears no heat is returned.
func (w Wire) SpoolMaterial() (known KnownMaterial) {
	take := func(m SpoolMaterial, source string) {
		if known.Material == "" || known.Material.bears() && !m.bears() {
			known = KnownMaterial{m, source}
		}
	}
	for _, f := range w.holding().Named("spool_material") {
		if f.Provenance == filler.Shop || f.Provenance == filler.DataSheet {
			take(SpoolMaterial(f.Value), fmt.Sprintf("%s: %s", f.Provenance, f.Source))
		}
	}
	for _, m := range materialWords {
		if m.words.MatchString(w.Package) {
			take(m.material, fmt.Sprintf("its package is called %q", w.Package))
			break
		}
	}
	return known
}

// bears checks that what the wire is wound on bears an oven: the material as
// whoever dried it saw, or else as it is known of the wire. It returns what the
// ledger keeps of it. What package or sheet says to be of plastic or fibre is
// not heated, whatever anybody saw.
func (d Dry) bears(w Wire) (says string, err error) {
	const source = "spools of plastic, fibre or cardboard and drums with a liner are not heated (practice, E090)"
	known := w.SpoolMaterial()
	switch {
	case d.Material != "" && d.Material != MetalSpool && d.Material != PlasticSpool && d.Material != FibreSpool:
		return "", Invalidf("material", "a spool is of %s", strings.Join(texts(SpoolMaterials()), ", "))
	case known.Material != "" && !known.Material.bears():
		return "", refusedDrying("material", "the spool is of %s (%s): %s", known.Material, known.Source, source)
	case d.Material != "" && !d.Material.bears():
		return "", refusedDrying("material", "the spool is of %s: %s", d.Material, source)
	case d.Material == "" && known.Material == "":
		return "", Invalidf("material", "look at the spool and say what it is made of: %s", source)
	case w.inDrum():
		return "", refusedDrying("material", "this wire is in a drum: %s", source)
	case d.Material == "":
		return fmt.Sprintf("spool of %s (%s)", known.Material, known.Source), nil
	}
	return "spool of " + string(d.Material), nil
}

// inDrum reports whether the wire comes in a drum: its layers lie in a liner.
func (w Wire) inDrum() bool { return strings.Contains(strings.ToLower(w.Package), "drum") }
