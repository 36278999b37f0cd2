package pages

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wirehold/inventory"
)

// HistoryLine is one movement of a spool in words.
type HistoryLine struct {
	inventory.Movement
	Says    string   // "Issued for job 2207 to R. Vale"
	Details []string // weight, reason, what an issue was checked against
	By      string   // who entered it
}

// names is what codes are called.
type names struct {
	zone    *time.Location
	people  map[inventory.Code]string
	places  map[inventory.Code]string
	jobs    map[inventory.Code]string
	shelves []inventory.Place
}

// mostJobs is how many jobs are named on a spool's history; others show their
// code.
const mostJobs = 200

func readNames(cat Catalog, zone *time.Location) (n names, err error) {
	n = names{zone: zone, people: map[inventory.Code]string{}, places: map[inventory.Code]string{}, jobs: map[inventory.Code]string{}}
	people, err := cat.People()
	if err != nil {
		return n, err
	}
	for _, p := range people {
		n.people[p.Code] = p.Name
	}
	n.people[inventory.ExposureClock] = "the exposure clock, by rule"
	if n.shelves, err = cat.Places(); err != nil {
		return n, err
	}
	for _, p := range n.shelves {
		n.places[p.Code] = p.Name
	}
	feeders, err := cat.Feeders()
	if err != nil {
		return n, err
	}
	for _, f := range feeders {
		n.places[f.Code] = f.Name
	}
	jobs, err := cat.Jobs(inventory.Query{Limit: mostJobs})
	if err != nil {
		return n, err
	}
	for _, j := range jobs {
		n.jobs[j.Code] = j.Number
	}
	return n, nil
}

// name returns what code is called, or the code.
func name(of map[inventory.Code]string, code inventory.Code) string {
	if n, ok := of[code]; ok {
		return n
	}
	return string(code)
}

// history returns the movements in words, the latest first.
func (n names) history(movements []inventory.Movement) []HistoryLine {
	out := make([]HistoryLine, 0, len(movements))
	for _, m := range movements {
		out = append(out, HistoryLine{Movement: m, Says: n.says(m), Details: n.details(m), By: name(n.people, m.Person)})
	}
	slices.Reverse(out)
	return out
}

// says tells what m did in one clause.
func (n names) says(m inventory.Movement) string {
	switch m.Type {
	case inventory.Received:
		return "Received into " + name(n.places, m.To)
	case inventory.Opened:
		return "Package opened: the exposure clock runs"
	case inventory.Issued:
		return fmt.Sprintf("Issued for job %s to %s", name(n.jobs, m.Job), name(n.people, m.Holder))
	case inventory.Returned:
		return "Returned to " + name(n.places, m.To)
	case inventory.Weighed:
		return "Weighed"
	case inventory.Moved:
		return "Moved to " + name(n.places, m.To)
	case inventory.Held:
		return "Put on hold"
	case inventory.Released:
		return "Released from hold"
	case inventory.Scrapped:
		return "Scrapped"
	case inventory.Dried:
		return "Dried in " + name(n.places, m.Drying.Oven)
	case inventory.Damaged:
		return "Package found damaged: its exposure is not known"
	case inventory.Corrected:
		return fmt.Sprintf("Corrects movement %d", m.Corrects)
	}
	return string(m.Type)
}

// details tells what else m brought.
func (n names) details(m inventory.Movement) (out []string) {
	if m.Net != nil {
		out = append(out, fmt.Sprintf("%s left (%s)", *m.Net, m.Net.Pounds()))
	}
	if m.Type == inventory.Issued && m.To != "" {
		out = append(out, "for "+name(n.places, m.To))
	}
	if m.Type == inventory.Corrected {
		out = append(out, n.corrected(m)...)
	}
	if d := m.Drying; d != nil {
		out = append(out, fmt.Sprintf("%s held for %s, from %s to %s", d.At, inventory.HoursText(d.Held), d.From.In(n.zone).Format("2006-01-02 15:04"), d.Until.In(n.zone).Format("2006-01-02 15:04 MST")), "by the rule "+d.Rule)
	}
	if m.Reason != "" {
		out = append(out, "because: "+m.Reason)
	}
	if m.Verdict != "" {
		out = append(out, m.Verdict)
	}
	for waiver := range strings.SplitSeq(m.Waiver, "\n") {
		if waiver != "" {
			out = append(out, "waived: "+waiver)
		}
	}
	if m.Checked != "" {
		out = append(out, "checked against "+m.Checked)
	}
	return out
}

func (n names) corrected(m inventory.Movement) (out []string) {
	if m.To != "" {
		out = append(out, "it is in "+name(n.places, m.To))
	}
	if m.Undone {
		out = append(out, "it never was")
	}
	switch {
	case m.OpenedAt == nil:
	case m.OpenedAt.IsZero():
		out = append(out, "it is still sealed")
	default:
		out = append(out, "opened "+m.OpenedAt.In(n.zone).Format("2006-01-02 15:04 MST"))
	}
	return out
}
