package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory/filler"
)

// DecodePage takes a classification apart, character by character.
type DecodePage struct {
	Base
	Typed   string
	Fault   string
	Decoded *filler.Decoded
}

// decode answers GET /decode.
func (p *Pages) decode(c *gin.Context) error {
	page := DecodePage{Base: p.base(c, "Decode a classification", "decode"), Typed: c.Query("d")}
	if page.Typed == "" {
		return p.show(c, http.StatusOK, "decode", page)
	}
	d, err := filler.Decode(page.Typed)
	if err != nil {
		page.Fault = err.Error()
		return p.show(c, http.StatusUnprocessableEntity, "decode", page)
	}
	page.Decoded = &d
	return p.show(c, http.StatusOK, "decode", page)
}
