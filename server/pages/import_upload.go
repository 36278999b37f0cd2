package pages

import (
	"encoding/base64"
	"fmt"
	"net/http"
	"path"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/spreadsheet"
)

// mostImportBody is the most that is read of a posted table, in bytes. It is
// well above what is taken, so that a file that is somewhat too large is
// answered with a page rather than with a connection that breaks off.
const mostImportBody = 4 * inventory.MostImportBytes

// importUpload returns the form that c carries, with its table.
func (p *Pages) importUpload(c *gin.Context) (*input, upload) {
	in, up := p.uploaded(c, "file")
	up.name = fileName(up.name)
	switch {
	case len(in.faults) > 0:
	case len(up.content) > inventory.MostImportBytes:
		in.fault("file", detailOf(spreadsheet.TooLarge()))
	case len(up.content) == 0:
		in.fault("file", "choose a file that is not empty")
	}
	return in, up
}

// carried returns the form that imports, with the file that the dry run put
// into it.
func (p *Pages) carried(c *gin.Context) (*input, upload) {
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, mostImportBody)
	in := &input{get: func(name string) string { return strings.TrimSpace(c.PostForm(name)) }, zone: p.Zone}
	if err := c.Request.ParseForm(); err != nil {
		in.fault("file", "the form could not be read: choose the file again")
		return in, upload{}
	}
	content, err := base64.RawURLEncoding.DecodeString(in.get("content"))
	if err != nil || len(content) == 0 {
		in.fault("file", "the form lost its file: choose it again")
		return in, upload{}
	}
	return in, upload{fileName(in.get("file_name")), content}
}

// fileName returns the name of a file without its folders, short enough to
// keep.
func fileName(name string) string {
	name = path.Base(strings.ReplaceAll(strings.TrimSpace(name), `\`, "/"))
	if name == "." || name == "/" {
		return ""
	}
	const most = 100
	if r := []rune(strings.ToValidUTF8(name, "?")); len(r) > most {
		return string(r[:most])
	}
	return strings.ToValidUTF8(name, "?")
}

// enterForm imports what was checked. It carries the file itself, which is
// read and checked again: nothing in it is taken on trust.
func enterForm(key, badge string, up upload, wires int) *Form {
	submit := "Import the wires"
	switch {
	case wires == 1:
		submit = "Import 1 wire"
	case wires > 1:
		submit = fmt.Sprintf("Import %d wires", wires)
	}
	f := Form{Name: "enter", Action: "/wires/import/enter", Submit: submit,
		Hidden: []Hidden{{"request_key", key}, {"file_name", up.name}, {"content", base64.RawURLEncoding.EncodeToString(up.content)}}}
	f = f.fields(importBadge(badge))
	return &f
}
