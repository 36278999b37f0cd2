package store

import "wirehold/inventory"

type productRow struct {
	Product string
	WireID  int64
}

func (productRow) TableName() string { return "wire_products" }

// mostProducts bounds the product numbers of one wire that are listed.
const mostProducts = 200

// ProductWire returns the wire that a product number stands for.
func (r *reader) ProductWire(p inventory.Product) (inventory.Wire, error) {
	var row productRow
	if err := r.db.Select("product", "wire_id").Where("product = ?", string(p)).Take(&row).Error; err != nil {
		return inventory.Wire{}, missing(err, "no-such-product", "product number %s is linked to no wire yet", p)
	}
	return r.Wire(row.WireID)
}

// Products returns the product numbers of a wire, in order.
func (r *reader) Products(wire int64) ([]inventory.Product, error) {
	var out []inventory.Product
	err := r.db.Model(&productRow{}).Where("wire_id = ?", wire).Order("product").Limit(mostProducts).Pluck("product", &out).Error
	return out, err
}

// LinkProduct links a number that is linked to no wire.
func (t *tx) LinkProduct(p inventory.Product, wire int64) error {
	return t.db.Create(&productRow{Product: string(p), WireID: wire}).Error
}

// UnlinkProduct ends the link of a number to a wire.
func (t *tx) UnlinkProduct(p inventory.Product, wire int64) error {
	res := t.db.Where("product = ? AND wire_id = ?", string(p), wire).Delete(&productRow{})
	if res.Error == nil && res.RowsAffected == 0 {
		return inventory.NotFoundf("no-such-product", "product number %s does not stand for this wire", p)
	}
	return res.Error
}
