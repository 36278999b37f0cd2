package inventory

import (
	"strings"
	"testing"
)

func TestTidy(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, typed, want string
		kind              Kind // of the error; empty if it is taken
	}{
		{"a reason is trimmed", "  the right size is on order \n", "the right size is on order", ""},
		{"a joiner inside a word stays", "क\u094d\u200dष", "क\u094d\u200dष", ""},
		{"a zero width space says nothing", "\u200b", "", ""},
		{"nor do a soft hyphen and a word joiner", "\u00ad \u2060", "", ""},
		{"nor a Hangul filler", "\u3164\u115f", "", ""},
		{"nor a braille pattern without dots", "\u2800\u2800", "", ""},
		{"nor variation selectors", "\ufe0f\U000e0101", "", ""},
		{"nor a direction mark alone", "\u202e", "", ""},
		{"a direction mark in a text is refused", "sound\u202ednuos", "", Invalid},
		{"a control character is refused", "\x00", "", Invalid},
		{"what was not UTF-8 is refused", "\ufffd", "", Invalid},
		{"a text past the most characters is refused", strings.Repeat("x", 41), "", Invalid},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := tidy("reason", tt.typed, 40)
			if KindOf(err) != tt.kind || got != tt.want {
				t.Errorf("tidy(%q, 40) = %q, %v; want %q, kind %q", tt.typed, got, err, tt.want, tt.kind)
			}
		})
	}
}
