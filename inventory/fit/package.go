package fit

import (
	"regexp"
	"strings"

	"wirehold/inventory/unit"
)

// Package is how a wire is wound, as a feeder's hub takes it.
type Package struct {
	Kind    string      // "spool", "coil", "drum"
	Outside unit.Length // outside diameter of a spool or drum, inside of a coil; zero is not known
}

// IsZero reports whether nothing is known of the package.
func (p Package) IsZero() bool { return p == Package{} }

func (p Package) String() string {
	if p.Outside == 0 {
		return p.Kind
	}
	return p.Outside.Inches() + " " + p.Kind
}

// withArticle is the package as a sentence has it: "an 8 in spool".
func (p Package) withArticle() string {
	text := p.String()
	for _, vowel := range [...]string{"8", "11 ", "18 "} {
		if strings.HasPrefix(text, vowel) {
			return "an " + text
		}
	}
	return "a " + text
}

var (
	packageKind = regexp.MustCompile(`(?i)\b(spool|coil|drum)\b`)
	packageSize = regexp.MustCompile(`(?i)([\d./-]+) ?(in|mm)\b`)
)

// ParsePackage reads what a box or a list calls a package: "12 in spool", "300
// mm spool", "25 lb coil", "drum". What names no kind is none; a weight is no
// size.
func ParsePackage(text string) (Package, bool) {
	kind := packageKind.FindString(text)
	if kind == "" {
		return Package{}, false
	}
	p := Package{Kind: strings.ToLower(kind)}
	if m := packageSize.FindStringSubmatch(text); m != nil {
		size, err := parseLength(strings.ReplaceAll(m[1], "-", " ") + " " + strings.ToLower(m[2]))
		if err != nil {
			return Package{}, false
		}
		p.Outside = nominal(size)
	}
	return p, true
}

// nominal is the inch size that a metric package is sold as: 300 mm is a 12 in
// spool (AWS A5.02 and ISO 544 by testdata/diameters.csv, from memory).
func nominal(size unit.Length) unit.Length {
	for _, s := range [...]struct{ mm, inch unit.Length }{{100, 4}, {200, 8}, {300, 12}, {350, 14}, {560, 22}, {610, 24}, {760, 30}} {
		if size == s.mm*unit.Millimetre {
			return s.inch * unit.Inch
		}
	}
	return size
}
