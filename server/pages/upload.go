package pages

import (
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// LargeBodies returns the routes that take more than every other, by method
// and pattern: the most bytes of their bodies.
func LargeBodies() map[string]int64 {
	return map[string]int64{
		"POST /scan/photo":           labels.MaxPhoto + mostBody,
		"POST /wires/import":         mostImportBody,
		"POST /climate/:code/import": mostImportBody,
		"POST /wires/import/enter":   mostImportBody,
		"POST /wires/:id/sheets":     inventory.MaxSheet + mostBody,
	}
}

// upload is a file that came with a form.
type upload struct {
	name    string
	content []byte
}

// uploaded returns the form that c carries and the file in field. The body
// holds at most the route's own bound of [LargeBodies].
func (p *Pages) uploaded(c *gin.Context, field string) (*input, upload) {
	most := LargeBodies()[c.Request.Method+" "+c.FullPath()]
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, most)
	in := &input{get: func(name string) string { return strings.TrimSpace(c.PostForm(name)) }, zone: p.Zone}
	err := c.Request.ParseMultipartForm(most)
	if c.Request.MultipartForm != nil {
		defer c.Request.MultipartForm.RemoveAll()
	}
	if in.unread = unread(err, field, strconv.FormatInt(most>>20, 10)+" MB"); err != nil {
		return in, upload{}
	}
	file, header, err := c.Request.FormFile(field)
	if errors.Is(err, http.ErrMissingFile) {
		return in, upload{}
	}
	if err == nil {
		defer file.Close()
		var content []byte
		if content, err = io.ReadAll(file); err == nil {
			return in, upload{header.Filename, content}
		}
	}
	in.fault(field, "the file could not be read: choose it again")
	return in, upload{}
}
