package store_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

const crate inventory.Product = "09521234543213" // prefix 952 is kept for examples

func (s *shop) productEdit(by inventory.Person, p inventory.Product) inventory.ProductEdit {
	return inventory.ProductEdit{Person: by.Code, RequestKey: s.key(), WireID: s.wire.ID, Product: p}
}

func TestAProductNumberStandsForOneWire(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx, l := t.Context(), s.ledger
	if _, err := l.WireOfProduct(ctx, crate); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("WireOfProduct before it is linked: %v, want NotFound", err)
	}
	for range 2 { // linked once, and again without a change
		if _, err := l.LinkProduct(ctx, s.productEdit(s.attendant, crate)); err != nil {
			t.Fatal(err)
		}
	}
	w, err := l.WireOfProduct(ctx, crate)
	if err != nil || w.ID != s.wire.ID || w.Version != s.wire.Version+1 {
		t.Errorf("WireOfProduct(%s) = wire %d version %d, %v; want wire %d one version on", crate, w.ID, w.Version, err, s.wire.ID)
	}
	other := must(l.AddWire(ctx, inventory.Wire{TradeName: "Birch Teal 11", Classifications: []string{"E71T-11"}, Diameter: 45 * unit.Inch / 1000, Net: 15_000}))(t)
	e := s.productEdit(s.attendant, crate)
	e.WireID = other.ID
	if _, err := l.LinkProduct(ctx, e); inventory.CodeOf(err) != "product-of-another" {
		t.Errorf("LinkProduct to a second wire: %v, want product-of-another", err)
	}
	if _, err := l.UnlinkProduct(ctx, s.productEdit(s.attendant, crate)); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("UnlinkProduct by an attendant: %v, want Forbidden", err)
	}
	if _, err := l.UnlinkProduct(ctx, s.productEdit(s.engineer, crate)); err != nil {
		t.Fatal(err)
	}
	if _, err := l.UnlinkProduct(ctx, s.productEdit(s.engineer, crate)); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("UnlinkProduct twice: %v, want NotFound", err)
	}
	if _, err := l.LinkProduct(ctx, s.productEdit(s.welder, crate)); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("LinkProduct by a welder: %v, want Forbidden", err)
	}
	if _, err := l.LinkProduct(ctx, s.productEdit(s.engineer, "09521234543214")); inventory.KindOf(err) != inventory.Invalid {
		t.Errorf("LinkProduct with a wrong check digit: %v, want Invalid", err)
	}
}

func TestReceivingLinksTheBoxOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx, l := t.Context(), s.ledger
	r := s.receipt(48)
	r.Product = crate
	for range 2 { // the same request, sent twice
		if _, spools, err := l.Receive(ctx, r); err != nil || len(spools) != 48 {
			t.Fatalf("Receive: %d spools, %v; want 48", len(spools), err)
		}
	}
	again := s.receipt(1)
	again.Product = crate
	if _, _, err := l.Receive(ctx, again); err != nil {
		t.Fatal(err)
	}
	if got := must(l.ProductsOf(ctx, s.wire.ID))(t); !cmp.Equal(got, []inventory.Product{crate}) {
		t.Errorf("ProductsOf = %v, want %s once", got, crate)
	}
	other := must(l.AddWire(ctx, inventory.Wire{TradeName: "Birch Teal 11", Classifications: []string{"E71T-11"}, Diameter: 45 * unit.Inch / 1000, Net: 15_000}))(t)
	wrong := s.receipt(1)
	wrong.Product, wrong.WireID = crate, other.ID
	if _, _, err := l.Receive(ctx, wrong); inventory.CodeOf(err) != "product-of-another" {
		t.Errorf("Receive of another wire under the box's number: %v, want product-of-another", err)
	}
	changed := r
	changed.Product = ""
	if _, _, err := l.Receive(ctx, changed); inventory.CodeOf(err) != "request-key-used" {
		t.Errorf("Receive with the key and another product: %v, want request-key-used", err)
	}
}
