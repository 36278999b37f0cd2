package notify

import (
	"fmt"
	"strings"
	"time"

	"wirehold/inventory"
)

// subject names the alert; of several, it says how many and names the gravest,
// which is the first.
func subject(news []inventory.News) string {
	if n := len(news); n > 1 {
		return fmt.Sprintf("%d alerts, the gravest: %s", n, heading(news[0].Alert))
	}
	return heading(news[0].Alert)
}

func heading(a inventory.Alert) string {
	s := a.Kind.Title()
	if about := a.Kind.About(); about == inventory.AboutSpool || about == inventory.AboutWeek {
		s += ": " + string(about) + " " + a.Subject
	}
	return s
}

// footer says why somebody gets this.
const footer = "Wirehold sent this because you are told of such alerts. Change that on your page under People.\nIt is an aid: local codes, the contract and qualified people decide.\n"

// text says what, where, since when and what to do, a paragraph each. Several
// alerts are listed kind by kind, what to do once for each kind.
func (e *Email) text(news []inventory.News) string {
	if len(news) > 1 {
		return e.list(news)
	}
	var b strings.Builder
	say := func(label, text string) {
		if text != "" {
			fmt.Fprintf(&b, "%s:\n%s\n\n", label, text)
		}
	}
	n := news[0]
	say("What", n.Alert.Text)
	say("Where it is now", n.Where)
	say("Raised", e.stamp(n.Alert.RaisedAt))
	if cleared := e.cleared(n.Alert); cleared != "" {
		say("Cleared", cleared)
	} else {
		say("What to do", n.Alert.Kind.Advice())
	}
	say("More", e.link(n.Alert))
	b.WriteString(footer)
	return b.String()
}

// list says the same of several alerts, which come by kind.
func (e *Email) list(news []inventory.News) string {
	all, standing := map[inventory.AlertKind]int{}, map[inventory.AlertKind]bool{}
	for _, n := range news {
		all[n.Alert.Kind]++
		standing[n.Alert.Kind] = standing[n.Alert.Kind] || n.Alert.ClearedAt.IsZero()
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%d alerts, the gravest first.\n\n", len(news))
	say := func(label, text string) {
		if text != "" {
			fmt.Fprintf(&b, "   %s: %s\n", label, text)
		}
	}
	for i, n := range news {
		if kind := n.Alert.Kind; i == 0 || kind != news[i-1].Alert.Kind {
			fmt.Fprintf(&b, "%s: %d\n", strings.ToUpper(kind.Title()), all[kind])
			if standing[kind] {
				fmt.Fprintf(&b, "What to do: %s\n", kind.Advice())
			}
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "%d. %s\n", i+1, n.Alert.Text)
		say("Where it is now", n.Where)
		say("Raised", e.stamp(n.Alert.RaisedAt))
		say("Cleared", e.cleared(n.Alert))
		say("More", e.link(n.Alert))
		b.WriteString("\n")
	}
	b.WriteString(footer)
	return b.String()
}

func (e *Email) stamp(t time.Time) string { return t.In(e.zone).Format("2006-01-02 15:04 MST") }

// cleared says since when there is nothing more to do; empty while there is.
func (e *Email) cleared(a inventory.Alert) string {
	if a.ClearedAt.IsZero() {
		return ""
	}
	return e.stamp(a.ClearedAt) + ": nothing more to do"
}

// link is the address of the alert's page; empty if it is not known where the
// pages are reached.
func (e *Email) link(a inventory.Alert) string {
	if e.base == "" {
		return ""
	}
	return fmt.Sprintf("%s/alerts/%d", e.base, a.ID)
}
