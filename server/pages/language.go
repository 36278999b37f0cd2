package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory/fit"
	"wirehold/server/problem"
)

// Languages is the choice of the language of findings, with what the chosen
// one is worth.
type Languages struct {
	Choices []LanguageChoice
	Notes   []Said // beside a translation, in both languages; nil for English
}

// LanguageChoice is a link to the same page in another language.
type LanguageChoice struct {
	Href, Name string
	Lang       fit.Language
	Chosen     bool
}

// Said is a text in a language.
type Said struct {
	Lang fit.Language
	Text string
}

// languageCookie keeps the choice of a phone or tablet; a link to a page in a
// language has it under the same name in its query.
const languageCookie = "language"

// language returns the language of findings: the one that is chosen here, now
// or before, or else what the browser asks for.
func language(c *gin.Context) fit.Language {
	if l, ok := fit.ParseLanguage(c.Query(languageCookie)); ok {
		return l
	}
	kept, _ := c.Cookie(languageCookie) // none is kept, or an old one: ask the browser
	if l, ok := fit.ParseLanguage(kept); ok {
		return l
	}
	return problem.Language(c.GetHeader("Accept-Language"))
}

// languages returns the choice for the page with the slots s, and keeps what
// was chosen.
func languages(c *gin.Context, path string, s slots) Languages {
	if l, ok := fit.ParseLanguage(c.Query(languageCookie)); ok {
		http.SetCookie(c.Writer, &http.Cookie{Name: languageCookie, Value: string(l), Path: "/", MaxAge: 365 * 24 * 60 * 60, HttpOnly: true, SameSite: http.SameSiteLaxMode})
	}
	l := language(c)
	var out Languages
	for _, each := range fit.Languages() {
		out.Choices = append(out.Choices, LanguageChoice{path + s.query(languageCookie, string(each)), each.Name(), each, each == l})
	}
	if l != fit.English {
		out.Notes = []Said{{l, l.NotReviewed()}, {fit.English, fit.NotReviewed}, {l, l.Aid()}}
	}
	return out
}
