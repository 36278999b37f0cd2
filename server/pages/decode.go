package pages

import (
	"errors"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// DecodePage takes what a box bears apart, character by character.
type DecodePage struct {
	Base
	Typed    string
	Fault    *DecodeFault // nil if it was read
	Decoded  *DecodedView
	Examples []Example
	Names    []inventory.TradeTerm // where the text is a name people use instead
}

// Example is a designation to try, with what it is.
type Example struct{ Designation, Is string }

// examples are one designation of each sort, as boxes print them.
var examples = [...]Example{
	{"E71T-1C", "flux cored, with gas"}, {"E71T-11", "self-shielded"}, {"E71T-12MJ-H4", "with impact and hydrogen marks"}, {"E81T1-Ni1C", "low-alloy flux cored"},
	{"E308LT1-1/4", "stainless flux cored, two gases"}, {"E70C-6M", "metal cored"}, {"ER70S-6", "solid wire or rod"}, {"E71T1-M21A4-CS1", "open scheme of A5.36"},
	{"T 46 3 1Ni B M21 1 H5", "flux cored by ISO 17632"}, {"M21-ArC-18", "shielding gas of ISO 14175"}, {"82 Ar 18 CO2", "gas mixture in per cent"},
	{".045 in", "wire size"}, {"12 in spool", "package"},
}

// DecodeFault marks the character at fault in what was typed.
type DecodeFault struct {
	Before, At, After string // At is empty if something is missing at the end
	Place             int    // of the character, counted from 1; 0 if something is missing
	Says              string // what was expected there
}

// decode answers GET /decode.
func (p *Pages) decode(c *gin.Context) error {
	page := DecodePage{Base: p.base(c, "Decode", "decode"), Typed: strings.TrimSpace(c.Query("d")), Examples: examples[:]}
	if page.Typed == "" {
		return p.show(c, http.StatusOK, "decode", page)
	}
	d, err := filler.DecodeTyped(page.Typed)
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
	page.Decoded = newDecoded(d)
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
