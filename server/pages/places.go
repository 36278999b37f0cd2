package pages

import (
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// places answers GET /places.
func (p *Pages) places(c *gin.Context) error {
	all, err := p.Catalog(c.Request.Context()).Places()
	if err != nil {
		return err
	}
	page := ListPage{Base: p.base(c, "Places", "places"), Heading: "Places", Lead: "Where a spool can be put. The code is typed where there is no label to scan.",
		Tabs: yardTabs("places"), New: "/places/new", Submit: "Enter a place", Empty: "No place is entered yet"}
	for _, place := range all {
		line := string(place.Kind)
		if place.DryKept {
			line += ", dry-kept"
		}
		page.Cards = append(page.Cards, ListCard{Code: place.Code, Title: place.Name, Page: "/places/" + string(place.Code), Lines: []string{line}})
	}
	return p.showList(c, page)
}

// newPlace answers GET /places/new.
func (p *Pages) newPlace(c *gin.Context) error {
	return p.showEntry(c, p.placeForm(c, inventory.Place{}), nil, nil)
}

// editPlace answers GET /places/:code/edit.
func (p *Pages) editPlace(c *gin.Context) error {
	place, err := p.placeAt(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.placeForm(c, place), nil, nil)
}

func (p *Pages) placeAt(c *gin.Context) (inventory.Place, error) {
	code, err := codeIn(c, inventory.PlaceCode)
	if err != nil {
		return inventory.Place{}, err
	}
	return p.Catalog(c.Request.Context()).Place(code)
}

// workBadge asks for the badge of who may enter places, procedures and jobs.
func workBadge(c *gin.Context) Field {
	f := badgeField(c.Query("badge"))
	f.Hint = "The welding engineer's or the owner's. " + f.Hint
	return f
}

func (p *Pages) placeForm(c *gin.Context, place inventory.Place) *EntryPage {
	form, title, back := p.recordForm("place", "/places", "Enter the place", 0), "Enter a place", "/places"
	if place.Code != "" {
		back = "/places/" + string(place.Code)
		form, title = p.recordForm("place", back, "Save the place", place.Version), "Edit "+place.Name
	}
	page := entry(p.base(c, title, "places"), form, FormPart{Title: "Place", Fields: []Field{workBadge(c),
		{Name: "name", Label: "Name", Type: "text", Value: place.Name, Required: true, Hint: "As it is written on it: Shelf A1"},
		{Name: "kind", Label: "Kind", Type: "select", Required: true, Options: options("Choose a kind", inventory.PlaceKinds(), place.Kind)},
		{Name: "dry_kept", Label: "Dry-kept", Type: "checkbox", Checked: place.DryKept, Hint: "It is heated or dried, and its humidity is watched"}}})
	page.Kicker, page.Heading, page.Lead, page.Back = "Place", title, "A shelf, a dry cabinet or the quarantine rack. A machine that welds is a feeder.", back
	return page
}

// savePlace answers POST /places and POST /places/:code.
func (p *Pages) savePlace(c *gin.Context) error {
	before, save := inventory.Place{}, p.Ledger.EnterPlace
	if c.Param("code") != "" {
		var err error
		if before, err = p.placeAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangePlace
	}
	in := p.posted(c)
	e := inventory.PlaceEntry{Edit: in.edit(), Of: inventory.Place{Code: before.Code, Name: in.get("name"), Kind: inventory.PlaceKind(in.get("kind")), DryKept: in.get("dry_kept") != ""}}
	err := in.err()
	if err == nil {
		var place inventory.Place
		if place, err = save(c.Request.Context(), e); err == nil {
			return saved(c, "/places/"+string(place.Code), place.Version, e.Person)
		}
	}
	return p.showEntry(c, p.placeForm(c, before), in, err)
}

// place answers GET /places/:code.
func (p *Pages) place(c *gin.Context) error {
	place, err := p.placeAt(c)
	if err != nil {
		return err
	}
	dry := "no"
	if place.DryKept {
		dry = "yes"
	}
	path := "/places/" + string(place.Code)
	climate, err := p.Catalog(c.Request.Context()).PlaceClimate(place.Code)
	if err != nil {
		return err
	}
	page := &RecordPage{Base: p.base(c, place.Name, "places"), Kicker: "Place", Heading: place.Name, Code: place.Code, Path: path, Edit: path + "/edit",
		Facts: []DemandLine{fact("Kind", string(place.Kind)), fact("Dry-kept", dry)},
		More:  []NavItem{{Href: "/climate/" + string(place.Code), Label: "Climate, limits and readings"}}}
	if place.DryKept {
		page.Facts = append(page.Facts, fact("Has to keep", climate.InForce(p.Now()).String()))
	}
	return p.showRecord(c, page, inventory.PlaceRecord, nil, "", nil)
}
