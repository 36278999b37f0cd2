package pages

import (
	"net/url"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// perPage is how many lines of a list are on a page.
const perPage = 50

// List is what every list has: what was asked, and the pages beside this one.
type List struct {
	Path  string
	Text  string
	State string
	First int    // the number of its first line, from 1; 0 if it has none
	Last  int    // of its last
	Prev  string // address of the page before; empty on the first
	Next  string // of the page after; empty on the last

	Meaning *MeaningView // what was understood of Text; nil if it is words alone
}

// listQuery reads what is asked of a list. It asks for one line more than a
// page has, to see whether there is a next page.
func listQuery(c *gin.Context) inventory.Query {
	after, _ := strconv.Atoi(c.Query("after")) // no number is the first page
	return inventory.Query{Text: c.Query("q"), State: c.Query("state"), Limit: perPage + 1, After: max(after, 0)}
}

// paged cuts lines to one page and says which page of the list it is.
func paged[T any](path string, q inventory.Query, lines []T) ([]T, List) {
	l := List{Path: path, Text: q.Text, State: q.State}
	if q.After > 0 {
		l.Prev = address(path, q, max(q.After-perPage, 0))
	}
	if len(lines) > perPage {
		lines = lines[:perPage]
		l.Next = address(path, q, q.After+perPage)
	}
	if len(lines) > 0 {
		l.First, l.Last = q.After+1, q.After+len(lines)
	}
	return lines, l
}

func address(path string, q inventory.Query, after int) string {
	v := url.Values{}
	for name, value := range map[string]string{"q": q.Text, "state": q.State} {
		if value != "" {
			v.Set(name, value)
		}
	}
	if after > 0 {
		v.Set("after", strconv.Itoa(after))
	}
	if len(v) == 0 {
		return path
	}
	return path + "?" + v.Encode()
}

// number reads the number in a page's address. An address without one names
// nothing.
func number(c *gin.Context, name string) (int64, error) {
	n, err := strconv.ParseInt(c.Param(name), 10, 64)
	if err != nil || n <= 0 {
		return 0, inventory.NotFoundf("no-such-page", "there is no page at %s", c.Request.URL.Path)
	}
	return n, nil
}

// codeIn reads the code in a page's address. A text that is no code names
// nothing.
func codeIn(c *gin.Context, kind inventory.CodeKind) (inventory.Code, error) {
	code, err := labels.ReadCode(kind, c.Param("code"))
	if err != nil {
		return "", inventory.NotFoundf("no-such-"+kind.String(), "%s", detailOf(err))
	}
	return code, nil
}
