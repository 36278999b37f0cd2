package pages

import (
	"context"
	"errors"
	"log/slog"
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/server/problem"
)

// handle makes a gin handler of h: it answers the error that h returns.
func (p *Pages) handle(h func(*gin.Context) error) gin.HandlerFunc {
	return func(c *gin.Context) {
		if err := h(c); err != nil {
			p.fail(c, err)
		}
	}
}

// guard sets what every page tells the browser: to load and run nothing but
// the program's own files, and to keep no page.
func guard(c *gin.Context) {
	h := c.Writer.Header()
	h.Set("Content-Security-Policy", "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// show renders the page and answers with it.
func (p *Pages) show(c *gin.Context, status int, page string, content any) error {
	html, err := p.templates.render(page, content)
	if err != nil {
		return err
	}
	c.Data(status, "text/html; charset=utf-8", html)
	return nil
}

// FailPage is the page that answers an error.
type FailPage struct {
	Base
	Trouble Trouble
}

// fail answers err with a page; a client that hung up gets none.
func (p *Pages) fail(c *gin.Context, err error) {
	if errors.Is(err, context.Canceled) && c.Request.Context().Err() != nil {
		c.Abort()
		return
	}
	t := trouble(c, err)
	if t.Kind == inventory.Internal {
		p.Log.LogAttrs(c.Request.Context(), slog.LevelError, "page failed",
			slog.String("path", c.FullPath()), slog.String("request_id", t.RequestID), slog.Any("error", err))
	}
	if t.Problem.Status == http.StatusServiceUnavailable {
		c.Header("Retry-After", "5")
	}
	page := FailPage{Base: p.base(c, t.Title, ""), Trouble: *t}
	if err := p.show(c, t.Problem.Status, "fail", page); err != nil {
		p.Log.LogAttrs(c.Request.Context(), slog.LevelError, "error page failed", slog.Any("error", err))
		c.String(http.StatusInternalServerError, "Something went wrong on our side. Request id: %s", t.RequestID)
	}
	c.Abort()
}

// NotFound answers an address that no page has.
func (p *Pages) NotFound(c *gin.Context) {
	guard(c)
	p.fail(c, inventory.NotFoundf("no-such-page", "there is no page at %s", c.Request.URL.Path))
}

// NotAllowed answers a method that the address does not take.
func (p *Pages) NotAllowed(c *gin.Context) {
	guard(c)
	t := Trouble{Kind: inventory.Invalid, Code: "method-not-allowed", Problem: problem.Problem{Type: "/problems/method-not-allowed",
		Title: "The address does not take this method", Status: http.StatusMethodNotAllowed, RequestID: c.GetString("request_id"),
		Detail: "pages are read with GET and their forms sent with POST. Nothing was changed"}}
	page := FailPage{Base: p.base(c, t.Title, ""), Trouble: t}
	if err := p.show(c, t.Problem.Status, "fail", page); err != nil {
		p.fail(c, err)
	}
	c.Abort()
}

// seeOther sends the browser on after a form or a scan.
func seeOther(c *gin.Context, to string) error {
	c.Redirect(http.StatusSeeOther, to)
	return nil
}
