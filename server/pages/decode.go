package pages

import (
	"errors"
	"net/http"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// DecodePage takes a classification apart, character by character.
type DecodePage struct {
	Base
	Typed    string
	Fault    *DecodeFault // nil if it was read
	Decoded  *filler.Decoded
	Parts    []DecodedPart
	Examples []Example
	Names    []inventory.TradeTerm // where the text is a name people use instead
}

// Example is a designation to try, with what it is.
type Example struct{ Designation, Is string }

// examples are one designation of each sort, as boxes print them.
var examples = [...]Example{
	{"E71T-1C", "flux cored, with gas"}, {"E71T-11", "self-shielded"}, {"E71T-12MJ-H4", "with impact and hydrogen marks"}, {"E81T1-Ni1C", "low-alloy flux cored"},
	{"E308LT1-1/4", "stainless flux cored, two gases"}, {"E70C-6M", "metal cored"}, {"ER70S-6", "solid wire or rod"}, {"E71T1-M21A4-CS1", "open scheme of A5.36"},
}

// DecodeFault marks the character at fault in what was typed.
type DecodeFault struct {
	Before, At, After string // At is empty if something is missing at the end
	Place             int    // of the character, counted from 1; 0 if something is missing
	Says              string // what was expected there
}

// DecodedPart is a run of characters, what it means, and the facts it gives.
type DecodedPart struct {
	filler.Part
	First, Last int // places of its characters, counted from 1
	Facts       filler.Facts
	Sources     []string // who says so, each once
}

// decode answers GET /decode.
func (p *Pages) decode(c *gin.Context) error {
	page := DecodePage{Base: p.base(c, "Decode a classification", "decode"), Typed: strings.TrimSpace(c.Query("d")), Examples: examples[:]}
	if page.Typed == "" {
		return p.show(c, http.StatusOK, "decode", page)
	}
	d, err := filler.Decode(page.Typed)
	if err != nil {
		page.Fault = newDecodeFault(page.Typed, err)
		meaning, err := p.Ledger.Understand(c.Request.Context(), page.Typed)
		if err != nil {
			return err
		}
		for _, n := range meaning.Names {
			page.Names = append(page.Names, n.Terms...)
		}
		return p.show(c, http.StatusUnprocessableEntity, "decode", page)
	}
	page.Decoded, page.Parts = &d, decodedParts(d)
	return p.show(c, http.StatusOK, "decode", page)
}

// newDecodeFault finds the character at fault in what was typed.
func newDecodeFault(typed string, err error) *DecodeFault {
	bad, ok := errors.AsType[*filler.SyntaxError](err)
	if !ok || bad.Text != typed || bad.At > len(typed) {
		return &DecodeFault{Before: typed, Says: err.Error()}
	}
	f := &DecodeFault{Before: typed[:bad.At], Says: bad.Detail}
	if bad.Char != "" {
		_, size := utf8.DecodeRuneInString(typed[bad.At:])
		f.At, f.After = typed[bad.At:bad.At+size], typed[bad.At+size:]
		f.Place = utf8.RuneCountInString(f.Before) + 1
	}
	return f
}

// decodedParts gives each part of the designation the facts that its
// characters gave.
func decodedParts(d filler.Decoded) []DecodedPart {
	out := make([]DecodedPart, len(d.Parts))
	for i, part := range d.Parts {
		out[i] = DecodedPart{Part: part, First: part.At + 1, Last: part.At + len(part.Text)}
	}
	for _, f := range d.Facts {
		i := slices.IndexFunc(out, func(p DecodedPart) bool { return f.From != "" && f.At >= p.At && f.At < p.Last })
		if i < 0 {
			continue
		}
		part := &out[i]
		if f.Name != "meaning" {
			f.Value = strings.ReplaceAll(f.Value, "|", ", ")
			part.Facts = append(part.Facts, f)
		}
		if says := f.Authority(); !slices.Contains(part.Sources, says) {
			part.Sources = append(part.Sources, says)
		}
	}
	return out
}
