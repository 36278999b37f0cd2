package unit

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// byFraction is what scaled writes, by exact fractions of math/big.
func byFraction(n int64, scale, places int) string {
	den := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(scale)), nil)
	return decimal(new(big.Rat).SetFrac(big.NewInt(n), den), places)
}

func TestScaledAgreesWithExactFractions(t *testing.T) {
	t.Parallel()
	check := func(t interface{ Errorf(string, ...any) }, n int64, scale, places int) {
		if got, want := scaled(n, scale, places), byFraction(n, scale, places); got != want {
			t.Errorf("scaled(%d, %d, %d) = %q, want %q", n, scale, places, got, want)
		}
	}
	for n := int64(-12_000); n <= 12_000; n++ {
		check(t, n, 3, 3)
		check(t, n*101, 6, 2)
		check(t, n*101, 6, 6)
	}
	for _, n := range []int64{math.MaxInt64, math.MinInt64, math.MinInt64 + 1, 10, 100, 1_000_000, 999_999, 995_000, 994_999, -4, -5} {
		for scale := range 19 {
			for places := range 8 {
				check(t, n, scale, places)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.Int64().Draw(t, "n"), rapid.IntRange(0, 18).Draw(t, "scale"), rapid.IntRange(0, 9).Draw(t, "places"))
	})
}

// exactInches is how a length is written in inches, by exact fractions alone.
func exactInches(l Length) string {
	inches := big.NewRat(int64(l), int64(Inch))
	sixtyFourths, thousandths := new(big.Rat).Mul(inches, big.NewRat(64, 1)), new(big.Rat).Mul(inches, big.NewRat(1000, 1))
	switch {
	case sixtyFourths.IsInt() && (!thousandths.IsInt() || l >= Inch/8):
		return fraction(inches) + " in"
	case thousandths.IsInt() && l < Inch:
		return strings.TrimPrefix(inches.FloatString(3), "0") + " in"
	}
	return strings.TrimPrefix(decimal(inches, 4), "0") + " in"
}

func TestInchesAgreeWithExactFractions(t *testing.T) {
	t.Parallel()
	check := func(t interface{ Errorf(string, ...any) }, l Length) {
		if got, want := l.Inches(), exactInches(l); got != want {
			t.Errorf("Length(%d).Inches() = %q, want %q", l, got, want)
		}
	}
	for n := Length(-50); n < 2_100; n++ {
		check(t, n*Inch/1000)
		check(t, n*Inch/64)
		check(t, n*Millimetre/10)
	}
	rapid.Check(t, func(t *rapid.T) { check(t, Length(rapid.Int64Range(-1e9, 1e13).Draw(t, "nm"))) })
}

func TestPlainLengthsReadAsTheOthers(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{0,5}\.?[0-9]{0,8} ?m?m`).Draw(t, "text")
		plain, ok := plainLength(text)
		if l, err := ParseLength(" " + text); ok && (err != nil || l != plain) {
			t.Errorf("plainLength(%q) = %d, want %d, %v", text, plain, l, err)
		}
	})
}

// TestInchesOfThousandths holds the short way of writing a thin wire against
// the exact fraction.
func TestInchesOfThousandths(t *testing.T) {
	t.Parallel()
	for n := Length(0); n < 125; n++ {
		want := big.NewRat(int64(n), 1000).FloatString(3)[1:] + " in"
		if got := (n * Inch / 1000).Inches(); got != want {
			t.Errorf("Length(%d).Inches() = %q, want %q", n*Inch/1000, got, want)
		}
	}
}
