package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/labels"
)

// scanView is what a scanned string means.
type scanView struct {
	Kind string   `json:"kind" enum:"code,box,text"`
	Code string   `json:"code,omitempty" doc:"Of a code: in its one spelling."`
	Is   string   `json:"is,omitempty" doc:"Of a code: spool, badge, job, feeder or place."`
	Box  *boxView `json:"box,omitempty" doc:"Of a maker's box: what its symbol says."`
	Text string   `json:"text" doc:"What was scanned, without what the reader put around it."`
}

// boxView is what a symbol on a maker's box says. A date is a day.
type boxView struct {
	Product    string    `json:"product,omitempty" doc:"GTIN with 14 digits."`
	WireID     int64     `json:"wire_id,omitempty" doc:"The wire that the product number stands for, if it is linked."`
	Lot        string    `json:"lot_number,omitempty"`
	Serial     string    `json:"serial,omitempty"`
	Made       string    `json:"made,omitempty" format:"date"`
	Packed     string    `json:"packed,omitempty" format:"date"`
	BestBefore string    `json:"best_before,omitempty" format:"date"`
	Expires    string    `json:"expires,omitempty" format:"date"`
	NetG       int64     `json:"net_g,omitempty"`
	GrossG     int64     `json:"gross_g,omitempty"`
	Count      int       `json:"count,omitempty" doc:"Packages in it."`
	Unit       string    `json:"unit,omitempty" doc:"SSCC of the pallet."`
	Country    string    `json:"country,omitempty" doc:"Of origin, by the two letters of ISO 3166-1."`
	Order      string    `json:"order,omitempty"`
	Part       string    `json:"part,omitempty"`
	Elements   []element `json:"elements" doc:"All that the symbol holds, in order."`
	Doubts     []string  `json:"doubts" doc:"What to compare with the print on the box."`
}

type element struct {
	AI    string `json:"ai"`
	Value string `json:"value"`
}

func viewBox(b labels.Box) *boxView {
	v := &boxView{Product: string(b.Contents()), Lot: b.Lot, Serial: b.Serial, Made: dayOf(b.Made), Packed: dayOf(b.Packed), BestBefore: dayOf(b.BestBefore),
		Expires: dayOf(b.Expires), NetG: int64(b.Net), GrossG: int64(b.Gross), Count: b.Count, Unit: b.Unit, Country: b.Country, Order: b.Order, Part: b.Part,
		Elements: []element{}, Doubts: append([]string{}, b.Doubts...)}
	for _, e := range b.Elements {
		v.Elements = append(v.Elements, element{e.AI, e.Value})
	}
	return v
}

// dayOf writes a day; empty for none.
func dayOf(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func (h *handlers) registerScans(a huma.API) {
	post := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/scan", h.scan)
	huma.Get(a, "/api/v1/wires/{id}/products", h.products)
	huma.Post(a, "/api/v1/wires/{id}/products", h.editProduct((*inventory.Ledger).LinkProduct), post)
	huma.Post(a, "/api/v1/wires/{id}/products/unlink", h.editProduct((*inventory.Ledger).UnlinkProduct), post)
}

// scan says what a scanned string means.
func (h *handlers) scan(ctx context.Context, in *struct {
	Text string `query:"text" required:"true" minLength:"1" maxLength:"1000" doc:"As the reader sent it, or as it stands beneath the symbol. The group separator may be sent as |, ^ or ~."`
}) (*bodyOf[scanView], error) {
	s, err := labels.ReadScan(in.Text, h.Now())
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := scanView{Kind: string(s.Kind), Code: string(s.Code), Text: s.Text}
	if s.Code != "" {
		v.Is = s.Code.Kind().String()
	}
	if s.Kind != labels.BoxScan {
		return body(v), nil
	}
	v.Box = viewBox(s.Box)
	wire, err := h.Ledger.WireOfProduct(ctx, s.Box.Contents())
	switch inventory.KindOf(err) {
	case "":
		v.Box.WireID = wire.ID
	case inventory.NotFound:
	default:
		return nil, h.fail(ctx, err)
	}
	return body(v), nil
}

// products lists the product numbers of a wire.
func (h *handlers) products(ctx context.Context, in *byID) (*bodyOf[listOf[string]], error) {
	products, err := h.Ledger.ProductsOf(ctx, in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(products, func(p inventory.Product) string { return string(p) }), nil
}

type productBody struct {
	ID   int64 `path:"id"`
	Body struct {
		Person     string `json:"person" doc:"The badge code of whoever says so."`
		RequestKey string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
		Product    string `json:"product" doc:"The GTIN on the box: 8, 12, 13 or 14 digits."`
	}
}

// editProduct links a product number to a wire, or ends the link.
func (h *handlers) editProduct(edit func(*inventory.Ledger, context.Context, inventory.ProductEdit) (inventory.Wire, error)) func(context.Context, *productBody) (*bodyOf[wireView], error) {
	return func(ctx context.Context, in *productBody) (*bodyOf[wireView], error) {
		person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		product, err := inventory.ParseProduct(in.Body.Product)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		w, err := edit(h.Ledger, ctx, inventory.ProductEdit{Person: person, RequestKey: in.Body.RequestKey, WireID: in.ID, Product: product})
		return h.wireAnswer(ctx, w, err)
	}
}
