package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// mostSummarised is how many waivers a summary tells of one by one.
const mostSummarised = 50

// SummariseWaivers raises one alert a week that lists the standing waivers, in
// the week's first run that finds any, and clears the one of the week before.
// It returns how many it raised and cleared; a second run in the week raises
// nothing.
func (l *Ledger) SummariseWaivers(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		week := isoWeek(at)
		due := map[string]string{}
		standing, err := tx.OpenAlerts(WaiverAlert)
		if err != nil {
			return err
		}
		for _, a := range standing {
			if a.Subject == week {
				due[week] = a.Text // told this week: it stays until the next
			}
		}
		if due[week] == "" {
			waivers, err := tx.Waivers(WaiverList{State: "standing", At: at, Limit: 1000})
			if err != nil {
				return err
			}
			if len(waivers) > 0 {
				due[week] = summary(week, waivers)
			}
		}
		raised, cleared, err = settle(tx, WaiverAlert, due, at)
		return err
	})
	return raised, cleared, err
}

// isoWeek names the week of an instant in UTC, as ISO 8601 does: "2026-W48".
func isoWeek(at time.Time) string {
	year, week := at.UTC().ISOWeek()
	return fmt.Sprintf("%d-W%02d", year, week)
}

func summary(week string, waivers []WaiverLine) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Week %s: %d standing.", week, len(waivers))
	for i, w := range waivers {
		if i == mostSummarised {
			fmt.Fprintf(&b, " And %d more.", len(waivers)-i)
			break
		}
		fmt.Fprintf(&b, " %s of spool %s for job %s, until %s, granted by %s: %s (asked by %s).", w.Rule, w.Spool, w.JobNumber, Stamp(w.Until), w.DecidedName, w.Reason, w.AskedName)
	}
	return b.String()
}
