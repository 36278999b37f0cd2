package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"
	"unicode"

	"wirehold/inventory/unit"
)

// wish returns the SHA-256 of what a request asks for, in hexadecimal. A
// request key that comes again with another wish is another request.
func wish(parts ...any) string {
	h := sha256.New()
	for _, part := range parts {
		switch p := part.(type) {
		case time.Time:
			text(h, fmt.Sprint(unixOrZero(p)))
		case *time.Time:
			if p == nil {
				text(h, "none")
				continue
			}
			text(h, fmt.Sprint("at ", unixOrZero(*p)))
		case *unit.Grams:
			grams(h, p)
		default:
			text(h, fmt.Sprint(p))
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

const longestReason = 500 // characters

// tidy trims what a person typed and refuses what cannot be read back: control
// and direction marks, and texts past the most characters. field names it.
func tidy(field, s string, most int) (string, error) {
	s = strings.TrimSpace(s)
	if n := len([]rune(s)); n > most {
		return "", Invalidf(field, "%d characters are too many: at most %d", n, most)
	}
	if i := strings.IndexFunc(s, func(r rune) bool {
		return r == unicode.ReplacementChar || unicode.In(r, unicode.Cc, unicode.Bidi_Control) && r != '\n' && r != '\t'
	}); i >= 0 {
		return "", Invalidf(field, "there is a character in it that cannot be shown: type it anew")
	}
	return s, nil
}
