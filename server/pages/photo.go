package pages

import (
	"net/url"
	"slices"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// Photo is the form that sends a photo of a code where there is no scanner.
type Photo struct {
	Return string   // the page that the scan is for: "/counter"
	Hidden []Hidden // what it has kept so far
}

// photoKept lists, of each page that takes photos, what it keeps between scans.
func photoKept(page string) (names []string, ok bool) {
	switch page {
	case "/counter", "/load", "/returns":
		return []string{"badge", "welder", "job", "procedure", "spool", "feeder", "place"}, true
	case "/receiving":
		return []string{"badge", "scan"}, true
	}
	return nil, false
}

// readPhoto answers POST /scan/photo: it reads the codes in a photo and goes
// back to the page with them, as if they had been scanned. It keeps nothing.
func (p *Pages) readPhoto(c *gin.Context) error {
	in, photo := p.uploaded(c, "photo")
	page := in.get("return")
	names, ok := photoKept(page)
	if !ok {
		in.fault("return", "open the counter and send the photo from there")
	}
	if photo.content == nil && len(in.faults) == 0 {
		in.fault("photo", "choose a photo of the code")
	}
	if err := in.err(); err != nil {
		return err
	}
	kept := url.Values{}
	for _, name := range names {
		for _, value := range c.PostFormArray(name) {
			kept.Add(name, value)
		}
	}
	texts, err := labels.ReadPhoto(photo.content)
	if err == nil && page != "/receiving" {
		texts, err = p.oneLabel(texts)
	}
	if err != nil {
		kept.Set("photo", inventory.CodeOf(err))
	}
	for _, text := range texts {
		kept.Add("scan", text)
	}
	return seeOther(c, page+"?"+kept.Encode())
}

// oneLabel returns the one code in what a photo of a label says, or what was
// read first if none of it is a code. The error says that there are several.
func (p *Pages) oneLabel(texts []string) ([]string, error) {
	var codes []string
	for _, text := range texts {
		scan, err := labels.ReadScan(text, p.Now())
		if err == nil && scan.Kind == labels.CodeScan && !slices.Contains(codes, string(scan.Code)) {
			codes = append(codes, string(scan.Code))
		}
	}
	if len(codes) > 1 {
		return nil, &inventory.Error{Kind: inventory.Invalid, Code: manyLabels}
	}
	if len(codes) == 1 {
		return codes, nil
	}
	return texts[:1], nil
}

const manyLabels = "many-labels"

// photoFault says what was wrong with the photo that was sent before; nil if
// nothing was.
func photoFault(c *gin.Context) error {
	switch c.Query("photo") {
	case "":
		return nil
	case manyLabels:
		return inventory.Invalidf("scan", "more than one label is in the photo: take one at a time")
	}
	return inventory.Invalidf("scan", "no bar code can be read in the photo: hold the phone straight over it, near enough to fill half the picture, in good light; or type the code")
}
