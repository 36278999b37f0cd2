package pages

import (
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// webhooks answers GET /webhooks.
func (p *Pages) webhooks(c *gin.Context) error {
	all, err := p.Catalog(c.Request.Context()).Webhooks()
	if err != nil {
		return err
	}
	page := ListPage{Base: p.base(c, "Webhooks", "alerts"), Heading: "Webhooks", Lead: "Addresses that alerts are posted to, signed. Only the owner enters them: the program sends a request to whatever address they give.",
		Tabs: alertTabs("webhooks"), New: "/webhooks/new", Submit: "Enter a webhook", Empty: "No alert is posted anywhere"}
	for _, w := range all {
		card := ListCard{Title: w.Name, Page: webhookPath(w.ID), Lines: []string{w.URL, kindsInWords(w.Kinds)}}
		if w.Retired() {
			card.Gone = "retired"
		}
		page.Cards = append(page.Cards, card)
	}
	return p.showList(c, page)
}

func webhookPath(id int64) string { return "/webhooks/" + strconv.FormatInt(id, 10) }

// newWebhook answers GET /webhooks/new.
func (p *Pages) newWebhook(c *gin.Context) error {
	return p.showEntry(c, p.webhookForm(c, inventory.Webhook{}), nil, nil)
}

// editWebhook answers GET /webhooks/:id/edit.
func (p *Pages) editWebhook(c *gin.Context) error {
	w, err := p.webhookAt(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.webhookForm(c, w), nil, nil)
}

func (p *Pages) webhookAt(c *gin.Context) (inventory.Webhook, error) {
	id, err := number(c, "id")
	if err != nil {
		return inventory.Webhook{}, err
	}
	return p.Catalog(c.Request.Context()).Webhook(id)
}

// webhookForm returns the form. A secret is proposed for a new webhook and
// never shown again.
func (p *Pages) webhookForm(c *gin.Context, w inventory.Webhook) *EntryPage {
	form, title, back := p.recordForm("webhook", "/webhooks", "Enter the webhook", 0), "Enter a webhook", "/webhooks"
	secret := Field{Name: "secret", Label: "Secret", Type: "text", Value: p.NewKey(), Required: true, Hint: "Give it to whoever receives: this is the only time it is shown"}
	if w.ID != 0 {
		back, title = webhookPath(w.ID), "Edit "+w.Name
		form = p.recordForm("webhook", back, "Save the webhook", w.Version)
		secret.Value, secret.Required, secret.Hint = "", false, "Leave empty to keep the one it has"
	}
	page := entry(p.base(c, title, "alerts"), form, FormPart{Title: "Webhook", Fields: []Field{ownerBadge(c),
		{Name: "name", Label: "Name", Type: "text", Value: w.Name, Required: true, Hint: "What is there: the yard's message board"},
		{Name: "url", Label: "Address", Type: "url", Value: w.URL, Required: true, Hint: "http or https; https keeps what is sent from being read on the way"}, secret}},
		FormPart{Title: "Told of", Fields: []Field{kindsField("Kinds of alert", "", w.Kinds)}})
	page.Kicker, page.Heading, page.Back = "Webhook", title, back
	page.Lead = "Each alert is posted as JSON, with a signature that the secret checks. What is in it, and how to check it, is in the README."
	return page
}

// saveWebhook answers POST /webhooks and POST /webhooks/:id.
func (p *Pages) saveWebhook(c *gin.Context) error {
	before, save := inventory.Webhook{}, p.Ledger.EnterWebhook
	if c.Param("id") != "" {
		var err error
		if before, err = p.webhookAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangeWebhook
	}
	in := p.posted(c)
	e := inventory.WebhookEntry{Edit: in.edit(), Of: inventory.Webhook{ID: before.ID, Name: in.get("name"), URL: in.get("url"), Secret: inventory.Secret(in.get("secret")), Kinds: in.kinds()}}
	err := in.err()
	if err == nil {
		var w inventory.Webhook
		if w, err = save(c.Request.Context(), e); err == nil {
			return saved(c, webhookPath(w.ID), w.Version, e.Person)
		}
	}
	return p.showEntry(c, p.webhookForm(c, before), in, err)
}

// webhook answers GET /webhooks/:id.
func (p *Pages) webhook(c *gin.Context) error {
	w, err := p.webhookAt(c)
	if err != nil {
		return err
	}
	return p.showRecord(c, p.webhookPage(c, w), inventory.WebhookRecord, nil, "", nil)
}

func (p *Pages) webhookPage(c *gin.Context, w inventory.Webhook) *RecordPage {
	path := webhookPath(w.ID)
	page := &RecordPage{Base: p.base(c, w.Name, "alerts"), Kicker: "Webhook", Heading: w.Name, Path: path, Edit: path + "/edit", Subject: strconv.FormatInt(w.ID, 10),
		Lead:  "Alerts are posted here, signed with its secret.",
		Facts: []DemandLine{fact("Address", w.URL), fact("Secret", "kept, and not shown"), fact("Told of", kindsInWords(w.Kinds))}}
	deed := p.deed(path, "retire", "Post nothing more to it", "Retire the webhook", "stop", "The owner's. Messages that wait for it are given up", c.Query("badge"))
	if w.Retired() {
		page.Gone, page.Lead = "retired", "Nothing is posted here."
		deed = p.deed(path, "reinstate", "Post to it again", "Reinstate the webhook", "", "The owner's", c.Query("badge"))
	}
	page.Deeds = []Deed{deed}
	return page
}

// changeWebhook answers POST /webhooks/:id/:deed.
func (p *Pages) changeWebhook(c *gin.Context) error {
	w, err := p.webhookAt(c)
	if err != nil {
		return err
	}
	deed := c.Param("deed")
	if deed != "retire" && deed != "reinstate" {
		return inventory.NotFoundf("no-such-page", "nothing called %q is done to a webhook", deed)
	}
	in := p.posted(c)
	e := in.edit()
	if err = in.err(); err == nil {
		var after inventory.Webhook
		if after, err = p.Ledger.RetireWebhook(c.Request.Context(), e, w.ID, deed == "retire"); err == nil {
			return saved(c, webhookPath(after.ID), after.Version, e.Person)
		}
	}
	return p.showRecord(c, p.webhookPage(c, w), inventory.WebhookRecord, in, deed, err)
}
