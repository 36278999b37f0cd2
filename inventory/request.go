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
// and direction marks, and texts past the most characters. A text in which
// nothing shows is empty: it must not pass for a reason. field names it.
func tidy(field, s string, most int) (string, error) {
	if s = strings.TrimSpace(s); !strings.ContainsFunc(s, shows) {
		s = ""
	}
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

// shows reports whether the character leaves a mark on paper or screen. The
// blanks are those of Unicode 15: white space, format characters, fillers and
// variation selectors, and the braille pattern without dots.
func shows(r rune) bool {
	const blankBraille = '\u2800'
	return r != blankBraille && !unicode.In(r, unicode.White_Space, unicode.Cf, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}
