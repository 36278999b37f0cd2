package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// Product is the number of a trade item that a box bears in its bar code: a
// GTIN, written with 14 digits.
type Product string

// ParseProduct reads a GTIN of 8, 12, 13 or 14 digits. The error is [Invalid]
// with field "product".
func ParseProduct(text string) (Product, error) {
	digits := strings.NewReplacer(" ", "", "-", "").Replace(strings.TrimSpace(text))
	if strings.Trim(digits, "0123456789") != "" || !gtinLength(len(digits)) {
		return "", Invalidf("product", "%q is no product number: one has 8, 12, 13 or 14 digits", clip(text))
	}
	last := len(digits) - 1
	if GS1CheckDigit(digits[:last]) != digits[last] {
		return "", Invalidf("product", "the check digit of %s is wrong: one digit is misread; scan or type it again", digits)
	}
	return Product(strings.Repeat("0", 14-len(digits)) + digits), nil
}

func gtinLength(n int) bool { return n == 8 || n == 12 || n == 13 || n == 14 }

// GS1CheckDigit returns the check digit that follows digits: weights 3, 1, 3 …
// from the right, modulo 10 (testdata/barcodes.csv B-01 to B-11). It panics on
// anything but digits.
func GS1CheckDigit(digits string) byte {
	sum := 0
	for i, d := range digits {
		if d < '0' || d > '9' {
			panic(fmt.Sprintf("inventory: no check digit of %q", digits))
		}
		weight := 1
		if (len(digits)-i)%2 == 1 {
			weight = 3
		}
		sum += weight * int(d-'0')
	}
	return byte('0' + (10-sum%10)%10)
}

// ProductReader looks up product numbers.
type ProductReader interface {
	// ProductWire returns the wire that a product number stands for;
	// [NotFound] if nobody has linked it.
	ProductWire(Product) (Wire, error)
	// Products returns the product numbers that stand for a wire, in order.
	Products(wire int64) ([]Product, error)
}

// ProductTx links product numbers to wires.
type ProductTx interface {
	// LinkProduct links a number that is linked to no wire.
	LinkProduct(p Product, wire int64) error
	// UnlinkProduct ends the link of a number; [NotFound] if there is none.
	UnlinkProduct(p Product, wire int64) error
}

// ProductEdit says that a product number stands for a wire, or no longer does.
type ProductEdit struct {
	Person     Code
	RequestKey string
	WireID     int64
	Product    Product
}

// LinkProduct keeps that boxes with the product number hold the wire, and who
// said so: whoever receives wire or enters it may. [Conflict] if the number
// stands for another wire.
func (l *Ledger) LinkProduct(ctx context.Context, e ProductEdit) (Wire, error) {
	return l.changeWire(ctx, e.deed(ProductLinked), func(tx Tx, by Person, before Wire, _ time.Time) (Wire, []string, error) {
		if !by.Role.MayEnterWires() && !by.Role.May(Received) {
			return before, nil, Forbiddenf("may-not-link", "%s is a %s: a store attendant, the buyer or the welding engineer links a product number", by.Name, by.Role)
		}
		what, err := linkProduct(tx, e.Product, before)
		return before, what, err
	})
}

// UnlinkProduct ends the link. Whoever enters wires may.
func (l *Ledger) UnlinkProduct(ctx context.Context, e ProductEdit) (Wire, error) {
	return l.changeWire(ctx, e.deed(ProductUnlinked), func(tx Tx, by Person, before Wire, _ time.Time) (Wire, []string, error) {
		if !by.Role.MayEnterWires() {
			return before, nil, Forbiddenf("may-not-unlink", "%s is a %s: the buyer, the owner or the welding engineer ends the link of a product number", by.Name, by.Role)
		}
		err := tx.UnlinkProduct(e.Product, before.ID)
		return before, []string{fmt.Sprintf("product number %s: no longer this wire", e.Product)}, err
	})
}

func (e ProductEdit) deed(d WireDeed) wireDeed {
	return wireDeed{person: e.Person, key: e.RequestKey, wish: wish(d, e.WireID, e.Product), deed: d, wire: e.WireID}
}

// linkProduct links p to w and says what changed; nothing if it stands for w
// already.
func linkProduct(tx Tx, p Product, w Wire) ([]string, error) {
	if _, err := ParseProduct(string(p)); err != nil {
		return nil, err
	}
	known, err := tx.ProductWire(p)
	switch KindOf(err) {
	case NotFound:
		return []string{fmt.Sprintf("product number %s: is this wire", p)}, tx.LinkProduct(p, w.ID)
	case "":
	default:
		return nil, err
	}
	if known.ID != w.ID {
		return nil, Conflictf("product-of-another", "product number %s stands for %s (%s), not for %s: compare both boxes", p, known.Name(), known.Package, w.Name())
	}
	return nil, nil
}

// WireOfProduct returns the wire that the product number stands for; [NotFound]
// if nobody has linked it.
func (l *Ledger) WireOfProduct(ctx context.Context, p Product) (Wire, error) {
	return l.store.Read(ctx).ProductWire(p)
}

// ProductsOf returns the product numbers that stand for a wire, in order.
func (l *Ledger) ProductsOf(ctx context.Context, wire int64) ([]Product, error) {
	return l.store.Read(ctx).Products(wire)
}
