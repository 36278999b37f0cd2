package pages

import (
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// MessagesPage lists what was given up, what waits and what was sent.
type MessagesPage struct {
	Base
	Tabs   []NavItem
	NoMail bool  // no e-mail is sent: there is no mail server
	Again  *Form // has those tried again that were given up; nil if there are none
	Parts  []MessagePart
}

// MessagePart is the messages in one state.
type MessagePart struct {
	Title, None string
	Rows        []MessageRow
	More        bool
}

// MessageRow is a message in words.
type MessageRow struct {
	inventory.MessageLine
	Title string // of its alert
	To    string
	Href  string // of who gets it
	State string
}

func messageRow(m inventory.MessageLine) MessageRow {
	row := MessageRow{MessageLine: m, Title: m.Kind.Title(), To: m.RecipientName, Href: "/people/" + m.Recipient + "/alerts", State: m.State()}
	if m.Channel == inventory.WebhookChannel {
		row.Href = "/webhooks/" + m.Recipient
	}
	return row
}

// messages answers GET /messages.
func (p *Pages) messages(c *gin.Context) error {
	page, err := p.messagesPage(c)
	if err != nil {
		return err
	}
	if c.Query("done") != "" {
		page.Flash = "It is tried again now."
	}
	return p.show(c, http.StatusOK, "messages", page)
}

func (p *Pages) messagesPage(c *gin.Context) (*MessagesPage, error) {
	page := &MessagesPage{Base: p.base(c, "Messages", "alerts"), Tabs: alertTabs("messages"), NoMail: !p.Email}
	parts := [...]struct{ state, title, none string }{
		{inventory.MessageDead, "Given up", "None was given up"},
		{inventory.MessageWaiting, "Waiting", "None waits"},
		{inventory.MessageSent, "Sent", "None was sent yet"},
	}
	for _, part := range parts {
		lines, err := p.Catalog(c.Request.Context()).Messages(inventory.MessageQuery{State: part.state, Limit: perPage})
		if err != nil {
			return nil, err
		}
		out := MessagePart{Title: part.title, None: part.none, More: len(lines) == perPage}
		for _, line := range lines {
			out.Rows = append(out.Rows, messageRow(line))
		}
		if part.state == inventory.MessageDead && len(lines) > 0 {
			f := p.againForm(c, lines)
			page.Again = &f
		}
		page.Parts = append(page.Parts, out)
	}
	return page, nil
}

// againForm asks which of those that were given up is tried again.
func (p *Pages) againForm(c *gin.Context, dead []inventory.MessageLine) Form {
	which := Field{Name: "message", Label: "Message", Type: "select", Required: true}
	for _, m := range dead {
		id := strconv.FormatInt(m.ID, 10)
		which.Options = append(which.Options, Option{Value: id, Label: id + ": to " + m.RecipientName + ", " + string(m.Kind) + " " + m.Subject})
	}
	return Form{Name: "again", Action: "/messages/again", Submit: "Try again"}.fields(which, workBadge(c))
}

// retryMessage answers POST /messages/again.
func (p *Pages) retryMessage(c *gin.Context) error {
	in := p.posted(c)
	badge, id := in.badge(), in.whole("message")
	err := in.err()
	if err == nil {
		if _, err = p.Ledger.RetryMessage(c.Request.Context(), id, badge); err == nil {
			return saved(c, "/messages", 1, badge)
		}
	}
	if !again(err) {
		return err
	}
	page, failed := p.messagesPage(c)
	if failed != nil {
		return failed
	}
	page.Trouble = trouble(c, err)
	if page.Again != nil {
		f := page.Again.filled(in.get, err)
		page.Again = &f
	}
	return p.show(c, page.Trouble.status(), "messages", page)
}
