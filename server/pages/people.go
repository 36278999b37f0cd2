package pages

import (
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// people answers GET /people.
func (p *Pages) people(c *gin.Context) error {
	all, err := p.Catalog(c.Request.Context()).People()
	if err != nil {
		return err
	}
	page := ListPage{Base: p.base(c, "People", "places"), Heading: "People", Lead: "Everybody with a badge. The code is typed where there is none to scan.",
		Tabs: yardTabs("people"), New: "/people/new", Submit: "Enter a person", Empty: "Nobody is entered yet"}
	for _, person := range all {
		card := ListCard{Code: person.Code, Title: person.Name, Page: "/people/" + string(person.Code), Lines: []string{string(person.Role)}}
		if person.Retired() {
			card.Gone = "retired"
		}
		page.Cards = append(page.Cards, card)
	}
	return p.showList(c, page)
}

// nobody reports whether nobody is entered, so that whoever is there becomes
// the owner.
func (p *Pages) nobody(c *gin.Context) (bool, error) {
	all, err := p.Catalog(c.Request.Context()).People()
	return len(all) == 0, err
}

// newPerson answers GET /people/new.
func (p *Pages) newPerson(c *gin.Context) error {
	first, err := p.nobody(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.personForm(c, inventory.Person{}, first), nil, nil)
}

// editPerson answers GET /people/:code/edit.
func (p *Pages) editPerson(c *gin.Context) error {
	person, err := p.personAt(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.personForm(c, person, false), nil, nil)
}

func (p *Pages) personAt(c *gin.Context) (inventory.Person, error) {
	code, err := codeIn(c, inventory.PersonCode)
	if err != nil {
		return inventory.Person{}, err
	}
	return p.Catalog(c.Request.Context()).Person(code)
}

// personForm returns the form with what is known of person; the first person
// needs no badge to enter themselves.
func (p *Pages) personForm(c *gin.Context, person inventory.Person, first bool) *EntryPage {
	name := Field{Name: "name", Label: "Name", Type: "text", Value: person.Name, Required: true, Hint: "As it is on slips and in the ledger"}
	role := Field{Name: "role", Label: "Role", Type: "select", Required: true, Options: options("Choose a role", inventory.Roles(), person.Role),
		Hint: "Attendant, engineer and owner issue wire; the engineer ends holds; the owner enters people"}
	if first {
		form := p.recordForm("person", "/people", "Enter yourself as the owner", 0)
		form.Hidden = append(form.Hidden, Hidden{"first", "yes"})
		page := entry(p.base(c, "The owner", "places"), form, FormPart{Title: "The owner", Fields: []Field{name}})
		page.Kicker, page.Heading, page.Lead = "Person", "Enter yourself", "Nobody is entered yet, so you are the first: the owner, who enters everybody else. You get a badge code that you type, or scan, for all you do here."
		return page
	}
	form, title, back := p.recordForm("person", "/people", "Enter the person", 0), "Enter a person", "/people"
	if person.Code != "" {
		back = "/people/" + string(person.Code)
		form, title = p.recordForm("person", back, "Save the person", person.Version), "Edit "+person.Name
	}
	page := entry(p.base(c, title, "places"), form, FormPart{Title: "Person", Fields: []Field{ownerBadge(c), name, role}})
	page.Kicker, page.Heading, page.Lead, page.Back = "Person", title, "Only the owner enters people. Nobody is ever deleted: the ledger names them.", back
	return page
}

func ownerBadge(c *gin.Context) Field {
	f := badgeField(c.Query("badge"))
	f.Hint = "The owner's. " + f.Hint
	return f
}

// savePerson answers POST /people and POST /people/:code.
func (p *Pages) savePerson(c *gin.Context) error {
	in := p.posted(c)
	if c.Param("code") == "" && in.get("first") != "" {
		return p.saveFirst(c, in)
	}
	before, save := inventory.Person{}, p.Ledger.EnterPerson
	if c.Param("code") != "" {
		var err error
		if before, err = p.personAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangePerson
	}
	e := inventory.PersonEntry{Edit: in.edit(), Of: inventory.Person{Code: before.Code, Name: in.get("name"), Role: inventory.Role(in.get("role"))}}
	err := in.err()
	if err == nil {
		var person inventory.Person
		if person, err = save(c.Request.Context(), e); err == nil {
			return saved(c, "/people/"+string(person.Code), person.Version, e.Person)
		}
	}
	return p.showEntry(c, p.personForm(c, before, false), in, err)
}

// saveFirst enters whoever is there as the owner.
func (p *Pages) saveFirst(c *gin.Context, in *input) error {
	e := inventory.PersonEntry{Edit: inventory.Edit{RequestKey: in.get("request_key")}, Of: inventory.Person{Name: in.get("name"), Role: inventory.Owner}}
	err := in.err()
	if err == nil {
		var person inventory.Person
		if person, err = p.Ledger.EnterPerson(c.Request.Context(), e); err == nil {
			return saved(c, "/people/"+string(person.Code), person.Version, person.Code)
		}
	}
	return p.showEntry(c, p.personForm(c, inventory.Person{}, inventory.KindOf(err) == inventory.Invalid), in, err)
}

// person answers GET /people/:code.
func (p *Pages) person(c *gin.Context) error {
	person, err := p.personAt(c)
	if err != nil {
		return err
	}
	return p.showRecord(c, p.personPage(c, person), inventory.PersonRecord, nil, "", nil)
}

func (p *Pages) personPage(c *gin.Context, person inventory.Person) *RecordPage {
	path := "/people/" + string(person.Code)
	page := &RecordPage{Base: p.base(c, person.Name, "places"), Kicker: "Person", Heading: person.Name, Code: person.Code, Path: path, Edit: path + "/edit",
		Lead: "The code is the badge: type it, or scan it, wherever a badge is asked for.", Facts: []DemandLine{fact("Role", string(person.Role))}}
	if page.More = []NavItem{{Href: path + "/alerts", Label: "What they are told"}}; c.Query("told") != "" {
		page.Flash = "What " + person.Name + " is told is kept."
	}
	if person.Retired() {
		page.Gone, page.Lead = "retired", "The badge is refused everywhere. History keeps the name."
		page.Facts = append(page.Facts, fact("Retired", inventory.Stamp(person.RetiredAt)))
		page.Deeds = []Deed{p.deed(path, "reinstate", "Make the badge good again", "Reinstate the badge", "", "The owner's", c.Query("badge"))}
		return page
	}
	page.Deeds = []Deed{p.deed(path, "retire", "Retire the badge", "Retire the badge", "stop", "The owner's. The badge is refused everywhere from then on; history keeps the name", c.Query("badge"))}
	return page
}

// changePerson answers POST /people/:code/:deed.
func (p *Pages) changePerson(c *gin.Context) error {
	person, err := p.personAt(c)
	if err != nil {
		return err
	}
	deed := c.Param("deed")
	if deed != "retire" && deed != "reinstate" {
		return inventory.NotFoundf("no-such-page", "nothing called %q is done to a person", deed)
	}
	in := p.posted(c)
	e := in.edit()
	if err = in.err(); err == nil {
		var after inventory.Person
		if after, err = p.Ledger.RetirePerson(c.Request.Context(), e, person.Code, deed == "retire"); err == nil {
			return saved(c, "/people/"+string(after.Code), after.Version, e.Person)
		}
	}
	return p.showRecord(c, p.personPage(c, person), inventory.PersonRecord, in, deed, err)
}
