package labels

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/language"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// Box is what the symbols on a maker's box say. Of an empty field they say
// nothing.
type Box struct {
	Product    inventory.Product
	Content    inventory.Product // what a pallet holds
	Lot        string
	Serial     string
	Made       time.Time // day
	Packed     time.Time // day
	BestBefore time.Time // day
	Expires    time.Time // day
	Net        unit.Grams
	Gross      unit.Grams
	Count      int    // packages in it
	Unit       string // SSCC of the pallet, 18 digits
	Country    string // of origin, by the two letters of ISO 3166-1
	Order      string // the customer's order number
	Part       string // the customer's part number
	Elements   []Element
	Doubts     []string // what to compare with the print on the box, in words; nil if nothing
}

// ReadBox reads the elements of one box. at tells in which century its dates
// are. The error is [inventory.Invalid] with field "scan".
func ReadBox(elements []Element, at time.Time) (Box, error) {
	b := Box{Elements: elements}
	for _, e := range elements {
		if err := b.take(e, at); err != nil {
			return Box{}, err
		}
	}
	if !b.Made.IsZero() && !b.Expires.IsZero() && b.Expires.Before(b.Made) {
		return Box{}, badScan("it says made on %s and expires on %s", b.Made.Format(time.DateOnly), b.Expires.Format(time.DateOnly))
	}
	b.doubtJoined()
	return b, nil
}

// take puts what e means into b.
func (b *Box) take(e Element, at time.Time) (err error) {
	switch e.means {
	case "gtin":
		b.Product = inventory.Product(e.Value)
	case "content":
		b.Content = inventory.Product(e.Value)
	case "sscc":
		b.Unit = e.Value
	case "lot":
		b.Lot = e.Value
	case "serial":
		b.Serial = e.Value
	case "order":
		b.Order = e.Value
	case "part":
		b.Part = e.Value
	case "country":
		b.country(e)
	case "count":
		b.Count, err = strconv.Atoi(e.Value)
	case "made", "packed", "best before", "expires":
		return b.date(e, at)
	case "net kg", "net lb", "gross kg", "gross lb":
		return b.weigh(e)
	}
	return err
}

func (b *Box) date(e Element, at time.Time) error {
	day, err := e.day(at)
	if err != nil {
		return err
	}
	*map[string]*time.Time{"made": &b.Made, "packed": &b.Packed, "best before": &b.BestBefore, "expires": &b.Expires}[e.means] = day
	if e.noDay() {
		b.Doubts = append(b.Doubts, fmt.Sprintf("%s names a month and no day: taken as %s, the last of it (GS1 General Specifications, from memory). Confirm on the box.", e, day.Format(time.DateOnly)))
	}
	return nil
}

// weigh reads a weight. One box may give it in both units; they must agree to
// the rounding of the coarser.
func (b *Box) weigh(e Element) error {
	what, in, _ := strings.Cut(e.means, " ")
	g, err := e.weight(in)
	if err != nil {
		return err
	}
	to := &b.Net
	if what == "gross" {
		to = &b.Gross
	}
	const apart = 50 // grams: a tenth of a pound
	if *to != 0 && max(*to-g, g-*to) > apart {
		return badScan("it gives two %s weights, %s and %s: look at the box", what, *to, g)
	}
	if *to == 0 || in == "kg" {
		*to = g
	}
	return nil
}

func (b *Box) country(e Element) {
	n, err := strconv.Atoi(e.Value)
	if err != nil {
		return // digits: checked by its row
	}
	region, err := language.EncodeM49(n)
	if err != nil || !region.IsCountry() {
		b.Doubts = append(b.Doubts, fmt.Sprintf("%s is no country that is known here: read it off the box.", e))
		return
	}
	b.Country = region.String()
}

// doubtJoined says so where a value may have swallowed the next ones because
// the reader sent no separator.
func (b *Box) doubtJoined() {
	if len(b.Elements) == 0 {
		return
	}
	last := b.Elements[len(b.Elements)-1]
	row, _ := gs1RowOf(last.AI + last.Value)
	if row.fixed || row.means == "" {
		return
	}
	for i := 1; i < len(last.Value); i++ {
		inner, ok := gs1RowOf(last.Value[i:])
		if !ok || inner.means == "" || !allDigits(last.Value[i:i+inner.digits]) {
			continue
		}
		if n := len(last.Value) - i - inner.digits; n >= inner.least && !slices.Contains([]string{"gtin", "sscc", "content"}, inner.means) {
			b.Doubts = append(b.Doubts, fmt.Sprintf("%s may hold more than one value, if the reader sends no separators: compare it with the print on the box.", last))
			return
		}
	}
}

// With returns b with what another symbol on the same box says. [inventory.Conflict]
// where the two disagree: they are of two boxes.
func (b Box) With(other Box) (Box, error) {
	elements := slices.Clone(b.Elements)
	for _, e := range other.Elements {
		i := slices.IndexFunc(elements, func(x Element) bool { return x.AI == e.AI })
		switch {
		case i < 0:
			elements = append(elements, e)
		case elements[i].Value != e.Value:
			return b, inventory.Conflictf("another-box", "that is another box: (%s) is %s here and %s there. Scan the symbols of one box", e.AI, elements[i].Value, e.Value)
		}
	}
	b.Elements = elements
	out := b
	for _, f := range [...][2]*string{{&out.Lot, &other.Lot}, {&out.Serial, &other.Serial},
		{&out.Unit, &other.Unit}, {&out.Country, &other.Country}, {&out.Order, &other.Order}, {&out.Part, &other.Part}} {
		fill(f[0], *f[1])
	}
	for _, f := range [...][2]*time.Time{{&out.Made, &other.Made}, {&out.Packed, &other.Packed}, {&out.BestBefore, &other.BestBefore}, {&out.Expires, &other.Expires}} {
		fill(f[0], *f[1])
	}
	fill(&out.Product, other.Product)
	fill(&out.Content, other.Content)
	fill(&out.Net, other.Net)
	fill(&out.Gross, other.Gross)
	fill(&out.Count, other.Count)
	out.Doubts = slices.Compact(append(slices.Clone(b.Doubts), other.Doubts...))
	return out, nil
}

func fill[T comparable](to *T, from T) {
	var zero T
	if *to == zero {
		*to = from
	}
}

// Contents returns the product number of the wire in it: that of the box, or of what the
// pallet holds; empty if it says neither.
func (b Box) Contents() inventory.Product {
	if b.Content != "" {
		return b.Content
	}
	return b.Product
}
