package pages

import (
	"slices"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// Desk is the scan box and what lies beside it: what the counter and the
// returns page have in common.
type Desk struct {
	Path   string   // of the page: "/counter"
	Hidden []Hidden // the slots so far
	Fault  string   // what is wrong with the last scan
	Tags   []Tag
	Next   Tag  // the first that is due and empty
	Due    bool // there is such a one
	Any    bool // something has been scanned
}

// Photo is the desk's way to scan by photo.
func (d Desk) Photo() Photo { return Photo{d.Path, d.Hidden} }

// Tag is one slot as a tag on the counter.
type Tag struct {
	Label string // "Job"
	Ask   string // "Scan a job"
	Help  string // what to scan and where it is found
	Code  inventory.Code
	Title string
	Lines []string
	Page  string // where more is told; empty if nowhere
	Clear string // where the slot is emptied
	Due   bool   // it must be filled
}

// things is what the slots name, looked up. A slot that names nothing is nil.
type things struct {
	badge, welder *inventory.Person
	job           *inventory.Job
	spool         *inventory.SpoolLine
	feeder        *inventory.Feeder
	place         *inventory.Place
}

// found looks up code with look. An empty code and an unknown one give nil;
// the latter empties the slot, as if it had not been scanned.
func found[T any](slot *inventory.Code, look func(inventory.Code) (T, error)) (*T, error) {
	if *slot == "" {
		return nil, nil
	}
	thing, err := look(*slot)
	switch inventory.KindOf(err) {
	case "":
		return &thing, nil
	case inventory.NotFound:
		*slot = ""
		return nil, nil
	}
	return nil, err
}

// lookUp returns what s names and empties the slots that name nothing.
func (s *slots) lookUp(cat Catalog) (t things, err error) {
	if t.badge, err = found(&s.Badge, cat.Person); err != nil {
		return t, err
	}
	if t.welder, err = found(&s.Welder, cat.Person); err != nil {
		return t, err
	}
	if t.job, err = found(&s.Job, cat.Job); err != nil {
		return t, err
	}
	if t.job == nil || !slices.Contains(t.job.Procedures, s.Procedure) {
		s.Procedure = 0
	}
	if t.spool, err = found(&s.Spool, cat.SpoolLine); err != nil {
		return t, err
	}
	if t.feeder, err = found(&s.Feeder, cat.Feeder); err != nil {
		return t, err
	}
	t.place, err = found(&s.Place, cat.Place)
	return t, err
}

// newDesk returns the desk of the page at path with the tags that are named.
func newDesk(path string, s slots, t things, names ...string) Desk {
	d := Desk{Path: path, Hidden: s.hidden(), Any: s != slots{}}
	for _, name := range names {
		tag := t.tag(name)
		tag.Code = *s.named()[name]
		tag.Clear = path + s.without(name).query()
		if tag.Due && tag.Code == "" && !d.Due {
			d.Next, d.Due = tag, true
		}
		d.Tags = append(d.Tags, tag)
	}
	return d
}

// scanned reads the address of a page with a scan box: the slots, and what the
// last scan makes of them. moved says that there was a scan and it was good.
func (p *Pages) scanned(c *gin.Context) (s slots, moved bool, err error) {
	if s, err = readSlots(c.Query); err != nil {
		return s, false, err
	}
	if err := photoFault(c); err != nil {
		return s, false, err
	}
	text := c.Query("scan")
	if text == "" {
		return s, false, nil
	}
	after, err := s.scan(text, p.Catalog(c.Request.Context()), p.Now())
	if err != nil {
		return s, false, err
	}
	return after, true, nil
}
