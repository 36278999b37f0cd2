package fit

import (
	"slices"
	"strings"
	"time"
)

// Certificate is the paper that came with a lot, or that a job demands of it.
// An empty field is not known of a lot, and not demanded by a job.
type Certificate struct {
	Number   string    // as printed; a job demands none
	Type     string    // EN 10204: "2.1", "2.2", "3.1" or "3.2"
	Schedule string    // testing by AWS A5.01: "F" to "K", or the number "1" to "6"
	LotClass string    // AWS A5.01: "T4"; a job lists those it allows: "T3|T4"
	Tested   time.Time // the date of the tests; a job demands none
}

// IsZero reports whether nothing is known or demanded.
func (c Certificate) IsZero() bool { return c == Certificate{} }

// certificateTypes are those of EN 10204, weakest first
// (testdata/code_rules.csv C086, from memory).
func certificateTypes() []string { return []string{"2.1", "2.2", "3.1", "3.2"} }

// schedules are the testing schedules of AWS A5.01 by letter and number,
// weakest first; K lists its own tests and is compared with itself only
// (testdata/code_rules.csv C055-C060).
func schedules() []string { return []string{"F", "G", "H", "I", "J"} }

// scheduleLetter is the letter of a schedule: "G" of "2" and of "g". ok is
// false if there is no such schedule.
func scheduleLetter(text string) (letter string, ok bool) {
	text = strings.ToUpper(strings.TrimSpace(text))
	letters := append(schedules(), "K")
	if n := strings.Index("123456", text); n >= 0 && len(text) == 1 {
		return letters[n], true
	}
	return text, slices.Contains(letters, text)
}

// atLeast reports whether have is want or stronger in an order; known is false
// if one of them is not in it.
func atLeast(order []string, have, want string) (meets, known bool) {
	h, w := slices.Index(order, have), slices.Index(order, want)
	return h >= w, h >= 0 && w >= 0
}
