package pages

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// ToldPage lists who is told of what.
type ToldPage struct {
	Base
	Tabs   []NavItem
	Lines  []ToldLine
	NoMail bool // no e-mail is sent: there is no mail server
}

// ToldLine is a person who has an address.
type ToldLine struct {
	inventory.Contact
	Kinds string
	Href  string
}

// told answers GET /told.
func (p *Pages) told(c *gin.Context) error {
	contacts, err := p.Catalog(c.Request.Context()).Contacts()
	if err != nil {
		return err
	}
	page := ToldPage{Base: p.base(c, "Who is told", "alerts"), Tabs: alertTabs("told"), NoMail: !p.Email}
	for _, contact := range contacts {
		page.Lines = append(page.Lines, ToldLine{contact, kindsInWords(contact.Kinds), "/people/" + string(contact.Person) + "/alerts"})
	}
	return p.show(c, http.StatusOK, "told", page)
}

func kindsInWords(kinds []inventory.AlertKind) string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		words[i] = k.Title()
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, "; ")
}

// kindsField lets kinds of alert be ticked.
func kindsField(label, hint string, chosen []inventory.AlertKind) Field {
	f := Field{Name: "kinds", Label: label, Type: "checks", Hint: hint, Options: options("", inventory.AlertKinds(), chosen...)}
	for i := range f.Options {
		f.Options[i].Label = inventory.AlertKind(f.Options[i].Value).Title()
	}
	return f
}

// kinds reads what was ticked.
func (in *input) kinds() (out []inventory.AlertKind) {
	for _, k := range inventory.AlertKinds() {
		if in.get(Field{Name: "kinds"}.Tick(string(k))) != "" {
			out = append(out, k)
		}
	}
	return out
}

// contact answers GET /people/:code/alerts.
func (p *Pages) contact(c *gin.Context) error {
	contact, err := p.contactAt(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.contactForm(c, contact), nil, nil)
}

func (p *Pages) contactAt(c *gin.Context) (inventory.Contact, error) {
	code, err := codeIn(c, inventory.PersonCode)
	if err != nil {
		return inventory.Contact{}, err
	}
	return p.Catalog(c.Request.Context()).Contact(code)
}

func (p *Pages) contactForm(c *gin.Context, contact inventory.Contact) *EntryPage {
	back := "/people/" + string(contact.Person)
	badge := badgeField(c.Query("badge"))
	badge.Hint = "Your own, or the owner's. " + badge.Hint
	page := entry(p.base(c, "Alerts for "+contact.Name, "places"), p.recordForm("contact", back+"/alerts", "Save", contact.Version),
		FormPart{Title: "Address", Fields: []Field{badge,
			{Name: "email", Label: "E-mail address", Type: "email", Value: contact.Email, Hint: "Without one nothing is sent"}}},
		FormPart{Title: "Told of", Fields: []Field{kindsField("Kinds of alert", "In the shop's quiet hours only used-up exposure time is sent; the rest follows in the morning", contact.Kinds)}})
	page.Kicker, page.Heading, page.Back = "Alerts", "What "+contact.Name+" is told", back
	page.Lead = "Each chooses for themselves what is sent to them, or the owner does."
	if contact.Version == 0 {
		page.Lead += " Ticked is what is usual for a " + string(contact.Role) + "."
	}
	return page
}

// saveContact answers POST /people/:code/alerts.
func (p *Pages) saveContact(c *gin.Context) error {
	contact, err := p.contactAt(c)
	if err != nil {
		return err
	}
	in := p.posted(c)
	e := inventory.ContactEntry{Edit: in.edit(), Of: inventory.Contact{Person: contact.Person, Email: in.get("email"), Kinds: in.kinds()}}
	if err = in.err(); err == nil {
		if _, err = p.Ledger.ChangeContact(c.Request.Context(), e); err == nil {
			return seeOther(c, "/people/"+string(contact.Person)+slots{Badge: e.Person}.query("told", "1"))
		}
	}
	return p.showEntry(c, p.contactForm(c, contact), in, err)
}
