package pages

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/labels"
)

// BoxScan is what the symbols on the box that is at hand have said so far.
type BoxScan struct {
	Hidden  []Hidden // the scans so far, as the address keeps them
	Badge   string   // of whoever receives, if it was scanned
	Fault   string   // what is wrong with the last one
	Lines   []BoxLine
	Doubts  []string        // what to compare with the print on the box
	Product string          // its product number; empty if it gave none
	Wire    *inventory.Wire // that the number stands for; nil if nobody has linked it
	Again   string          // where the scans are forgotten
	box     labels.Box
}

// BoxLine is one thing that the box says.
type BoxLine struct{ Label, Value string }

// Photo is the way to scan the box by photo.
func (b BoxScan) Photo() Photo {
	return Photo{"/receiving", append(slices.Clone(b.Hidden), Hidden{"badge", b.Badge})}
}

// mostBoxScans is how many symbols of one box are taken.
const mostBoxScans = 8

// boxScan reads the scans in the address: each of them a symbol of one box. The
// last that is at fault is left out and said.
func (p *Pages) boxScan(c *gin.Context, texts []string) (BoxScan, error) {
	out := BoxScan{Badge: c.Query("badge"), Again: "/receiving" + slots{Badge: inventory.Code(c.Query("badge"))}.query()}
	for _, text := range texts {
		if text == "" || slices.ContainsFunc(out.Hidden, func(h Hidden) bool { return h.Value == text }) {
			continue
		}
		if err := out.add(text, p.Now()); err != nil {
			out.Fault = detailOf(err)
			continue
		}
		// no page can hold a group separator: | stands for it
		out.Hidden = append(out.Hidden, Hidden{"scan", strings.ReplaceAll(text, "\x1d", "|")})
	}
	if err := photoFault(c); err != nil {
		out.Fault = detailOf(err)
	}
	if len(out.Hidden) == 0 {
		return out, nil
	}
	out.tell()
	if out.Product == "" {
		return out, nil
	}
	wire, err := p.Ledger.WireOfProduct(c.Request.Context(), out.box.Contents())
	switch inventory.KindOf(err) {
	case "":
		out.Wire = &wire
		return out, nil
	case inventory.NotFound:
		return out, nil
	}
	return out, err
}

// add joins one more symbol to what is known of the box.
func (b *BoxScan) add(text string, at time.Time) error {
	if len(b.Hidden) >= mostBoxScans {
		return inventory.Invalidf("scan", "no box has that many symbols: start again with this box")
	}
	scan, err := labels.ReadScan(text, at)
	switch {
	case err != nil:
		return err
	case scan.Kind == labels.CodeScan:
		return inventory.Invalidf("scan", "%s is a %s of this store. Scan the bar codes on the maker's box here", scan.Code, scan.Code.Kind())
	case scan.Kind != labels.BoxScan:
		return noBox(scan.Text)
	}
	b.box, err = b.box.With(scan.Box)
	return err
}

// noBox says why a text is nothing that a box bears.
func noBox(text string) error {
	if strings.Trim(text, "0123456789") == "" {
		if _, err := inventory.ParseProduct(text); err != nil && len(text) >= 12 && len(text) <= 14 {
			return err // its check digit
		}
	}
	if _, err := labels.ReadElements(text); err == nil {
		return inventory.Invalidf("scan", "%q may be a GS1 code or any number: set the reader to send what sort of symbol it read (symbology identifiers, ]C1), or type it as it stands beneath the bars, with its brackets", shortened(text))
	}
	return inventory.Invalidf("scan", "%q is no GS1 code and no product number: fill the form in by hand, from the print on the box", shortened(text))
}

func shortened(text string) string {
	const most = 40
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

// tell writes what the box says, line by line.
func (b *BoxScan) tell() {
	box := b.box
	b.Product, b.Doubts = string(box.Contents()), box.Doubts
	for _, l := range []BoxLine{{"Product number (GTIN)", b.Product}, {"Lot", box.Lot}, {"Made", dayText(box.Made)}, {"Packed", dayText(box.Packed)},
		{"Best before", dayText(box.BestBefore)}, {"Use by", dayText(box.Expires)}, {"Serial number", box.Serial}, {"Your order", box.Order},
		{"Your part number", box.Part}, {"Pallet (SSCC)", box.Unit}, {"Country of origin", countryText(box.Country)}} {
		if l.Value != "" {
			b.Lines = append(b.Lines, l)
		}
	}
	if _, known := fit.CountryCode(box.Country); known {
		b.Doubts = append(slices.Clone(b.Doubts), "The code gives the country of origin as the maker declares it: see on the certificate where the wire was drawn and filled, and where its steel was melted.")
	}
	if box.Net > 0 {
		b.Lines = append(b.Lines, BoxLine{"Net weight", box.Net.String() + " (" + box.Net.Pounds() + ")"})
	}
	if box.Gross > 0 {
		b.Lines = append(b.Lines, BoxLine{"Gross weight", box.Gross.String() + " (" + box.Gross.Pounds() + ")"})
	}
	if box.Count > 0 {
		b.Lines = append(b.Lines, BoxLine{"Packages", strconv.Itoa(box.Count)})
	}
}

// countryText is a country of ISO 3166-1 with the code that a box gives.
func countryText(code string) string {
	if name := fit.CountryName(code); name != code {
		return name + " (" + code + ")"
	}
	return code
}

func dayText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// fills returns the receiving form with what the box says where nothing was
// typed.
func (b BoxScan) fills(f Form) Form {
	box := b.box
	says := map[string]string{"lot_number": box.Lot, "papers_made_on": dayText(box.Made), "papers_expires_on": dayText(box.Expires)}
	if _, known := fit.CountryCode(box.Country); known {
		says["papers_made_in"] = fit.CountryName(box.Country)
	}
	if b.Wire != nil {
		says["wire"] = strconv.FormatInt(b.Wire.ID, 10)
	}
	if box.Net > 0 && box.Content == "" { // of a pallet it is the weight of all
		says["net"] = box.Net.String()
	}
	if box.Count > 0 {
		says["spools"] = strconv.Itoa(box.Count)
	}
	f.Hidden = append(f.Hidden, b.Hidden...)
	f.Fields = slices.Clone(f.Fields)
	for i := range f.Fields {
		field := &f.Fields[i]
		value := says[field.Name]
		if value == "" || field.Value != "" || slices.ContainsFunc(field.Options, func(o Option) bool { return o.Chosen && o.Value != "" }) {
			continue
		}
		field.Value = value
		field.Options = slices.Clone(field.Options)
		for j := range field.Options {
			field.Options[j].Chosen = field.Options[j].Value == value
		}
	}
	return f
}
