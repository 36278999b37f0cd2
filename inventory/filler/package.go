package filler

import (
	"slices"
	"strings"

	"wirehold/inventory/unit"
)

// PackageDecoded is a package as a box or a list calls it, held against the
// standard ones (AWS A5.02 and ISO 544 by testdata/diameters.csv, from memory;
// what the trade sells is practice).
type PackageDecoded struct {
	Form  string      // "spool", "coil with support", "coil without support", "drum"; empty if a weight alone is given
	Name  string      // of the standard package: "12 in spool", "S300"; empty if it is none
	Size  unit.Length // as it was given; zero if it was not
	Net   unit.Grams  // as it was given; zero if it was not
	Facts Facts
	Notes []string

	typed string
}

// String returns the package as it was typed, with single spaces, which
// DecodePackage reads back.
func (d PackageDecoded) String() string { return d.typed }

// packageRow is what the table says of one package.
type packageRow struct {
	Fact
	form  string // kind of the row
	size  string // "12 in", "S300", "any"; of the trade's packages the form they come in
	names []string
}

// packageForms are the words for a form, the longer first.
var packageForms = [...]struct{ word, form string }{
	{"coil without support", "coil without support"}, {"coil with support", "coil with support"}, {"basket spool", "basket spool"}, {"wire basket", "basket spool"},
	{"coil", "coil with support"}, {"spool", "spool"}, {"drum", "drum"},
}

func (t *sizeTable) addPackage(r []string, f Fact) {
	row := packageRow{Fact: f, form: r[2], size: r[3], names: strings.Split(r[3], " | ")}
	if r[2] == "market_package" {
		row.Name, row.Value, row.Unit, row.Condition = "sold_as", r[3], "", f.Condition
	} else if row.Note = strings.TrimPrefix(f.Note+"; "+r[0], "; "); r[0] == "" {
		row.Note = f.Note
	}
	t.packages = append(t.packages, row)
}

// DecodePackage reads a package: "12 in spool", "300 mm spool", "S300", "60 lb
// coil", "drum", "15 kg". One that is no standard package is read too, and says
// so. What names neither form nor weight is a [*SyntaxError].
//
// DecodePackage is pure and safe for concurrent use.
func DecodePackage(text string) (PackageDecoded, error) {
	d := PackageDecoded{typed: strings.Join(strings.Fields(text), " ")}
	rest := strings.ToLower(d.typed)
	for _, f := range packageForms {
		if before, after, ok := cutWord(rest, f.word); ok {
			d.Form, rest = f.form, strings.TrimSpace(strings.TrimSpace(before)+" "+strings.TrimSpace(after))
			break
		}
	}
	switch {
	case rest == "" && d.Form != "":
	case d.code(rest):
	case d.measure(rest):
	default:
		return PackageDecoded{}, unread(text, "package", "write a form with its size or weight, such as 12 in spool, S300, 60 lb coil or drum")
	}
	d.tell()
	return d, nil
}

// cutWord cuts text around a word, which may be in the plural.
func cutWord(text, word string) (before, after string, ok bool) {
	i := strings.Index(text, word)
	if i < 0 || i > 0 && text[i-1] != ' ' {
		return "", "", false
	}
	after = strings.TrimPrefix(text[i+len(word):], "s")
	if after != "" && after[0] != ' ' {
		return "", "", false
	}
	return text[:i], after, true
}

// code reads a name of ISO 544: "S300", "BS 300".
func (d *PackageDecoded) code(rest string) bool {
	name := strings.ToUpper(strings.ReplaceAll(rest, " ", ""))
	for _, r := range sizes().packages {
		if r.size == name && r.form == "spool" && r.Name == "outside_diameter" && (d.Form == "" || d.Form == "spool") {
			d.Form, d.Name, d.Size = "spool", name, sizeOf(r.Value+" "+r.Unit)
			return true
		}
	}
	return false
}

// measure reads a size, a weight, or a weight in both units: "33 lb (15 kg)".
func (d *PackageDecoded) measure(rest string) bool {
	if size, err := unit.ParseLength(strings.ReplaceAll(rest, "-", " ")); err == nil && d.Form != "" && size > 0 {
		d.Size = size
		return true
	}
	first, second, both := strings.Cut(rest, "(")
	net, err := unit.ParseGrams(first)
	if err != nil || net <= 0 {
		return false
	}
	if both {
		metric, err := unit.ParseGrams(strings.TrimSuffix(second, ")"))
		if err != nil || metric < net*9/10 || metric > net*11/10 {
			return false
		}
	}
	d.Net = net
	return true
}

// tell adds what the tables say of the package.
func (d *PackageDecoded) tell() {
	for _, r := range sizes().packages {
		if d.Name == "" && d.isNamed(r) {
			d.Name = r.size + " " + r.form
			if !strings.HasSuffix(r.size, "in") {
				d.Name = r.size
			}
		}
	}
	for _, r := range sizes().packages {
		switch {
		case d.Size > 0 && d.has(r), d.Net > 0 && d.weighs(r), d.Size == 0 && d.Net == 0 && r.form == d.Form:
			f := r.Fact
			f.From = d.typed
			if d.Size == 0 && r.form != "market_package" {
				f.Condition = strings.TrimPrefix(f.Condition+"; "+r.size+" "+r.form, "; ")
			}
			d.Facts = append(d.Facts, f)
		}
	}
	if d.Size > 0 && d.Name == "" {
		d.Notes = append(d.Notes, "no standard size of a "+d.Form+": "+oneOf(standard(d.Form)))
	}
	if d.Net > 0 && len(d.Facts) == 0 {
		d.Notes = append(d.Notes, "no standard net weight is known that is like it")
	}
}

// isNamed tells whether a row is the one that gives the package its size: in
// inches by its name, in millimetres by the diameter that it states.
func (d PackageDecoded) isNamed(r packageRow) bool {
	if r.form != d.Form || d.Size == 0 || !strings.HasSuffix(r.Name, "side_diameter") {
		return false
	}
	return sizeOf(strings.ReplaceAll(r.size, "-", " ")) == d.Size || sizeOf(r.Value+" "+r.Unit) == d.Size
}

// has tells whether a row is of the standard package that the size names.
func (d PackageDecoded) has(r packageRow) bool {
	name := strings.TrimSuffix(d.Name, " "+d.Form)
	return r.form == d.Form && d.Name != "" && (slices.Contains(r.names, name) || r.size == "any")
}

// weighs tells whether a row has the net weight, in a form that was not ruled
// out.
func (d PackageDecoded) weighs(r packageRow) bool {
	if r.form == "market_package" {
		return (d.Form == "" || strings.Contains(r.Condition, strings.Fields(d.Form)[0])) && slices.ContainsFunc(weightsOf(r.Value), d.near)
	}
	if d.Form != "" && r.form != d.Form || !strings.HasPrefix(r.Name, "standard_net_weight") {
		return false
	}
	for one := range strings.SplitSeq(r.Value, "|") {
		if g, err := unit.ParseGrams(one + " " + r.Unit); err == nil && d.near(g) {
			return true
		}
	}
	return false
}

// near tells whether a weight is the same when it is written in another unit:
// to one in a hundred.
func (d PackageDecoded) near(g unit.Grams) bool { return max(g-d.Net, d.Net-g)*100 <= g }

// weightsOf reads "33 lb (15 kg)" and "500-600 lb (250 kg)".
func weightsOf(text string) (out []unit.Grams) {
	pounds, kilograms, _ := strings.Cut(strings.TrimSuffix(text, ")"), " (")
	for one := range strings.SplitSeq(strings.TrimSuffix(pounds, " lb"), "-") {
		if g, err := unit.ParseGrams(one + " lb"); err == nil {
			out = append(out, g)
		}
	}
	if g, err := unit.ParseGrams(kilograms); err == nil {
		out = append(out, g)
	}
	return out
}

// standard returns the sizes that a form comes in.
func standard(form string) (out []string) {
	for _, r := range sizes().packages {
		if r.form == form && strings.HasSuffix(r.Name, "side_diameter") && !slices.Contains(out, r.size) {
			out = append(out, r.size)
		}
	}
	return out
}

// Packages returns the standard packages as they are written on lists: "12 in
// spool", "S300".
func Packages() (out []string) {
	for _, r := range sizes().packages {
		if !strings.HasSuffix(r.Name, "side_diameter") {
			continue
		}
		name := r.size
		if strings.HasSuffix(name, " in") {
			name += " " + r.form
		}
		out = append(out, name)
	}
	return out
}
