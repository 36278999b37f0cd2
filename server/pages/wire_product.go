package pages

import (
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// productForm links a product number to w.
func (p *Pages) productForm(w inventory.Wire, badge string) Form {
	form := Form{Name: "product", Action: "/wires/" + strconv.FormatInt(w.ID, 10) + "/products", Submit: "Link the number",
		Hidden: []Hidden{{"request_key", p.NewKey()}}}
	return form.fields(
		Field{Name: "product", Label: "Product number on the box", Type: "text", Required: true, Scan: true, Hint: "Scan the box or type the digits under its bar code (GTIN)"},
		badgeField(badge))
}

// unlinkForms end the link of each product number of w.
func (p *Pages) unlinkForms(w inventory.Wire, products []inventory.Product, badge string) []Form {
	var out []Form
	for _, number := range products {
		form := Form{Name: "unlink-" + string(number), Action: "/wires/" + strconv.FormatInt(w.ID, 10) + "/products/unlink", Submit: "End the link", Tone: "stop",
			Hidden: []Hidden{{"request_key", p.NewKey()}, {"product", string(number)}}}
		out = append(out, form.fields(badgeField(badge)))
	}
	return out
}

// linkProduct answers POST /wires/:id/products.
func (p *Pages) linkProduct(c *gin.Context) error { return p.editProduct(c, "product") }

// unlinkProduct answers POST /wires/:id/products/unlink.
func (p *Pages) unlinkProduct(c *gin.Context) error { return p.editProduct(c, "unlink") }

func (p *Pages) editProduct(c *gin.Context, deed string) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	e := inventory.ProductEdit{Person: in.badge(), RequestKey: in.get("request_key"), WireID: id, Product: in.product("product", p.Now())}
	edit := p.Ledger.LinkProduct
	if deed == "unlink" {
		edit = p.Ledger.UnlinkProduct
	}
	if err = in.err(); err == nil {
		var w inventory.Wire
		if w, err = edit(c.Request.Context(), e); err == nil {
			return seeOther(c, "/wires/"+c.Param("id")+"?done="+strconv.Itoa(w.Version)+"#products")
		}
	}
	if !again(err) {
		return err
	}
	t := trouble(c, err)
	return p.showWire(c, t.status(), func(page *WirePage) {
		page.Trouble = t
		if deed == "product" {
			page.Kept.Link = page.Kept.Link.filled(in.get, err)
		}
	})
}
