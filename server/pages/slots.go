package pages

import (
	"errors"
	"net/url"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory"
	"wirehold/labels"
)

// slots is what has been scanned so far. It is all that the counter and the
// returns page remember, and it is kept in their address.
type slots struct {
	Badge  inventory.Code // who runs the counter
	Welder inventory.Code // who takes the spool; empty is whoever runs the counter
	Job    inventory.Code
	Spool  inventory.Code
	Feeder inventory.Code
	Place  inventory.Code // where a returned spool is put

	Procedure int64 // of the job, where it has several and one was chosen; zero is none
}

// slotNames lists the slots under their names in the address.
func (s *slots) named() map[string]*inventory.Code {
	return map[string]*inventory.Code{"badge": &s.Badge, "welder": &s.Welder, "job": &s.Job,
		"spool": &s.Spool, "feeder": &s.Feeder, "place": &s.Place}
}

// slotKinds is what each slot holds.
var slotKinds = map[string]inventory.CodeKind{"badge": inventory.PersonCode, "welder": inventory.PersonCode,
	"job": inventory.JobCode, "spool": inventory.SpoolCode, "feeder": inventory.FeederCode, "place": inventory.PlaceCode}

// readSlots returns the slots that get gives. A text that is no code of its
// slot's kind leaves the slot empty and is the error.
func readSlots(get func(string) string) (s slots, err error) {
	for name, slot := range s.named() {
		text := get(name)
		if text == "" {
			continue
		}
		code, errCode := labels.ReadCode(slotKinds[name], text)
		if errCode != nil {
			err = errors.Join(err, errCode)
			continue
		}
		*slot = code
	}
	if text := get("procedure"); text != "" {
		id, errID := strconv.ParseInt(text, 10, 64)
		if errID != nil {
			err = errors.Join(err, inventory.Invalidf("procedure", "choose one of the job's procedures"))
		}
		s.Procedure = id
	}
	return s, err
}

// under returns the slots with a procedure chosen.
func (s slots) under(procedure int64) slots {
	s.Procedure = procedure
	return s
}

// query writes the slots as an address' query, in order of name, with what
// else is given.
func (s slots) query(more ...string) string {
	q := url.Values{}
	for name, slot := range s.named() {
		if *slot != "" {
			q.Set(name, string(*slot))
		}
	}
	if s.Procedure != 0 {
		q.Set("procedure", strconv.FormatInt(s.Procedure, 10))
	}
	for i := 0; i+1 < len(more); i += 2 {
		q.Set(more[i], more[i+1])
	}
	if len(q) == 0 {
		return ""
	}
	return "?" + q.Encode()
}

// without returns the slots with one emptied.
func (s slots) without(name string) slots {
	if name == "procedure" {
		return s.under(0)
	}
	if name == "job" {
		s.Procedure = 0
	}
	*s.named()[name] = ""
	return s
}

// hidden returns the slots as fields of a form, so that a scan keeps them.
func (s slots) hidden() (out []Hidden) {
	for _, name := range [...]string{"badge", "welder", "job", "spool", "feeder", "place"} {
		if code := *s.named()[name]; code != "" {
			out = append(out, Hidden{name, string(code)})
		}
	}
	if s.Procedure != 0 {
		out = append(out, Hidden{"procedure", strconv.FormatInt(s.Procedure, 10)})
	}
	return out
}

// scan returns the slots as the scanned text leaves them. The text is a code,
// or a job's own number. The first badge runs the counter and a second is the
// welder's who takes the spool, whichever of the two was scanned first. Every
// code must name a thing that is there.
func (s slots) scan(text string, cat Catalog, at time.Time) (slots, error) {
	scanned, err := labels.ReadScan(text, at)
	if err != nil {
		return s, err
	}
	code := scanned.Code
	if scanned.Kind == labels.BoxScan {
		return s, inventory.Invalidf("code", "that is the code on a maker's box: scan the spool's own label. A box that has just come is scanned at Receiving")
	}
	if scanned.Kind != labels.CodeScan {
		_, err = inventory.ParseCode(text)
		job, errJob := cat.JobNumbered(strings.TrimSpace(text))
		if errJob == nil {
			s.Job, s.Procedure = job.Code, 0
			return s, nil
		}
		if under, ok := s.scanProcedure(text, cat); ok {
			return s.under(under), nil
		}
		if inventory.KindOf(errJob) != inventory.NotFound {
			return s, errJob
		}
		return s, err
	}
	switch code.Kind() {
	case inventory.PersonCode:
		return s.scanBadge(code, cat)
	case inventory.JobCode:
		_, err = cat.Job(code)
		s.Job, s.Procedure = code, 0
	case inventory.SpoolCode:
		_, err = cat.Spool(code)
		s.Spool = code
	case inventory.FeederCode:
		_, err = cat.Feeder(code)
		s.Feeder = code
	case inventory.PlaceCode:
		_, err = cat.Place(code)
		s.Place = code
	}
	return s, err
}

// scanProcedure returns the one of the job's procedures whose number was
// scanned or typed.
func (s slots) scanProcedure(text string, cat Catalog) (int64, bool) {
	job, err := cat.Job(s.Job)
	if err != nil {
		return 0, false
	}
	choices, err := cat.ProceduresWith(job.Procedures)
	if err != nil {
		return 0, false
	}
	return inventory.ProcedureNamed(choices, text)
}

func (s slots) scanBadge(code inventory.Code, cat Catalog) (slots, error) {
	person, err := cat.Person(code)
	if err == nil {
		err = person.Good()
	}
	if err != nil || code == s.Badge {
		return s, err
	}
	if s.Badge == "" {
		s.Badge = code
		return s, nil
	}
	first, err := cat.Person(s.Badge)
	if err != nil {
		return s, err
	}
	if person.Role.MayIssue() && !first.Role.MayIssue() {
		s.Badge, s.Welder = code, s.Badge // the welder's badge came first
		return s, nil
	}
	s.Welder = code
	return s, nil
}
