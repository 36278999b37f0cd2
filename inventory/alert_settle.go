package inventory

import (
	"time"
)

// settle makes the standing alerts of a kind those that are due, by subject:
// it raises what is new, with a message to each who is told of it, renews the
// text of what stands and now says something else, of which nobody is told
// again, and clears what is gone. It is the one way in which an alert is
// raised, renewed and cleared.
func settle(tx Tx, kind AlertKind, due map[string]string, at time.Time) (raised, cleared int, err error) {
	standing, err := tx.OpenAlerts(kind)
	if err != nil {
		return 0, 0, err
	}
	stands := map[string]bool{}
	var renewed []Alert
	for _, a := range standing {
		stands[a.Subject] = true
		if text, still := due[a.Subject]; still {
			if text != a.Text {
				a.Text = text
				renewed = append(renewed, a)
			}
			continue
		}
		if err := tx.ClearAlert(a.ID, at); err != nil {
			return raised, cleared, err
		}
		cleared++
	}
	if err := tx.RenewAlerts(renewed); err != nil {
		return raised, cleared, err
	}
	var fresh []Alert
	for _, subject := range namesOf(due) {
		if stands[subject] {
			continue
		}
		a := Alert{Kind: kind, Subject: subject, Text: due[subject], RaisedAt: at}
		id, isNew, err := tx.RaiseAlert(a)
		if err != nil {
			return raised, cleared, err
		}
		if a.ID = id; isNew {
			fresh = append(fresh, a)
		}
	}
	return len(fresh), cleared, post(tx, fresh)
}
