package exposure_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/exposure"
)

var zero = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// span is [from, to) in seconds after zero; a to of -1 is no end.
func span(from, to int) exposure.Span {
	s := exposure.Span{From: zero.Add(time.Duration(from) * time.Second)}
	if to >= 0 {
		s.To = zero.Add(time.Duration(to) * time.Second)
	}
	return s
}

func TestSpans(t *testing.T) {
	day := []exposure.Span{span(0, 100)}
	tests := []struct {
		name      string
		got, want []exposure.Span
	}{
		{"nothing joins to nothing", exposure.Union(), nil},
		{"an empty span is dropped, and one that ends before it begins", exposure.Union(span(5, 5), span(9, 3)), nil},
		{"spans that touch are one", exposure.Union(span(5, 9), span(0, 5)), []exposure.Span{span(0, 9)}},
		{"spans a second apart stay apart", exposure.Union(span(6, 9), span(0, 5)), []exposure.Span{span(0, 5), span(6, 9)}},
		{"what has no end swallows what follows", exposure.Union(span(3, -1), span(0, 4), span(50, 60)), []exposure.Span{span(0, -1)}},
		{"a hole parts a span", exposure.Subtract(day, []exposure.Span{span(40, 60)}), []exposure.Span{span(0, 40), span(60, 100)}},
		{"an endless hole cuts the rest off", exposure.Subtract(day, []exposure.Span{span(40, -1)}), []exposure.Span{span(0, 40)}},
		{"a hole leaves an endless span endless", exposure.Subtract([]exposure.Span{span(0, -1)}, day), []exposure.Span{span(100, -1)}},
		{"nothing is left of what is wholly taken", exposure.Subtract(day, []exposure.Span{span(-5, 200)}), nil},
		{"what touches has nothing in common", exposure.Intersect(day, []exposure.Span{span(100, 120)}), nil},
		{"two endless spans go on together", exposure.Intersect([]exposure.Span{span(5, -1)}, []exposure.Span{span(9, -1)}), []exposure.Span{span(9, -1)}},
		{"a clip at both ends", exposure.Clip([]exposure.Span{span(0, 10), span(20, -1)}, span(5, 0).From, span(0, 30).To), []exposure.Span{span(5, 10), span(20, 30)}},
	}
	for _, tt := range tests {
		if diff := cmp.Diff(tt.want, tt.got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

func TestLengthOfSpansCountsEachInstantOnce(t *testing.T) {
	spans := []exposure.Span{span(0, 10), span(5, 20), span(50, -1)}
	if got := exposure.Length(spans, span(60, 0).From); got != 30*time.Second {
		t.Errorf("Length(%v, +60 s) = %v, want 30 s", spans, got)
	}
}

// seconds is the set of seconds, of the first horizon, that lie in the spans:
// the plainest way to say it, and to reckon with it.
const horizon = 60

func seconds(spans []exposure.Span) (in [horizon]bool) {
	for i := range in {
		for _, s := range spans {
			in[i] = in[i] || s.Holds(span(i, 0).From)
		}
	}
	return in
}

func randomSpans(r *rand.Rand) []exposure.Span {
	out := make([]exposure.Span, r.IntN(6))
	for i := range out {
		from := r.IntN(horizon)
		to := from + r.IntN(20) - 2
		if to < 0 || r.IntN(12) == 0 {
			to = -1
		}
		out[i] = span(from, to)
	}
	return out
}

func TestSpansAgreeWithSetsOfSeconds(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 20_000 {
		a, b := randomSpans(r), randomSpans(r)
		inA, inB := seconds(a), seconds(b)
		results := map[string]struct {
			got  []exposure.Span
			want func(i int) bool
		}{
			"union":     {exposure.Union(append(append([]exposure.Span{}, a...), b...)...), func(i int) bool { return inA[i] || inB[i] }},
			"intersect": {exposure.Intersect(a, b), func(i int) bool { return inA[i] && inB[i] }},
			"subtract":  {exposure.Subtract(a, b), func(i int) bool { return inA[i] && !inB[i] }},
		}
		for name, x := range results {
			in, n := seconds(x.got), 0
			for i := range in {
				if in[i] != x.want(i) {
					t.Fatalf("%s of %v and %v = %v: wrong at second %d", name, a, b, x.got, i)
				}
				if in[i] {
					n++
				}
			}
			if got := exposure.Length(x.got, span(horizon, 0).From); got != time.Duration(n)*time.Second {
				t.Fatalf("%s of %v and %v is %v long, counted %d s", name, a, b, got, n)
			}
			if fault := sorted(x.got); fault != "" {
				t.Fatalf("%s of %v and %v = %v: %s", name, a, b, x.got, fault)
			}
		}
	}
}

// sorted says what keeps spans from being in order, apart and not empty.
func sorted(spans []exposure.Span) string {
	for i, s := range spans {
		if s.Empty() {
			return fmt.Sprintf("span %d is empty", i)
		}
		if i > 0 && (spans[i-1].Endless() || !s.From.After(spans[i-1].To)) {
			return fmt.Sprintf("span %d does not lie apart after the one before", i)
		}
	}
	return ""
}
