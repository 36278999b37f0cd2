package inventory

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// WeldLines says how weld is written, a line each.
const WeldLines = "One a line: 12 m of 8 mm fillet, or 3 m of V groove 12 mm deep, gap 3 mm, root face 2 mm, 60 deg, cap 2 mm"

// ParseWeld reads weld as a drawing would write it: "12 m of 8 mm fillet", "12
// m of 5/16 in fillet, 10 % convex", "3 m of V groove 12 mm deep, gap 3 mm, root
// face 2 mm, 60 deg, cap 2 mm, cap width 18 mm", "900 mm of square groove 3 mm
// deep, gap 1 mm". [WeldText] writes it back. The error is [Invalid] with field
// "welds".
func ParseWeld(text string) (fit.Weld, error) {
	bad := func(why string) (fit.Weld, error) {
		return fit.Weld{}, Invalidf("welds", "%q: %s. Write it as %s", clip(text), why, strings.ToLower(WeldLines[:1])+WeldLines[1:])
	}
	length, rest, found := strings.Cut(strings.Join(strings.Fields(text), " "), " of ")
	if !found {
		return bad("it does not say how much of which weld")
	}
	w := fit.Weld{}
	var err error
	if w.Length, err = unit.ParseLength(length); err != nil {
		return bad("how much is a length with its unit")
	}
	parts := strings.Split(rest, ", ")
	if err := weldShape(&w, parts[0]); err != nil {
		return bad(err.Error())
	}
	for _, part := range parts[1:] {
		if err := weldPart(&w, part); err != nil {
			return bad(err.Error())
		}
	}
	if err := w.Validate(); err != nil {
		return bad(err.Error())
	}
	if w != ofShape(w) {
		return bad("something in it is not of this shape")
	}
	return w, nil
}

// ofShape keeps the fields that belong to the weld's shape.
func ofShape(w fit.Weld) fit.Weld {
	switch w.Shape {
	case fit.FilletWeld:
		return fit.Weld{Shape: w.Shape, Length: w.Length, Leg: w.Leg, Convexity: w.Convexity}
	case fit.SquareGroove:
		w.RootFace, w.Angle = 0, 0
	}
	w.Leg, w.Convexity = 0, 0
	return w
}

var groove = regexp.MustCompile(`^(square|V|v|bevel) groove (.+) deep$`)

// weldShape reads "8 mm fillet" or "V groove 12 mm deep".
func weldShape(w *fit.Weld, text string) (err error) {
	if leg, ok := strings.CutSuffix(text, " fillet"); ok {
		w.Shape = fit.FilletWeld
		if w.Leg, err = unit.ParseLength(leg); err != nil {
			return fmt.Errorf("the leg is a length with its unit")
		}
		return nil
	}
	m := groove.FindStringSubmatch(text)
	if m == nil {
		return fmt.Errorf("a weld is a fillet with its leg, or a square, V or bevel groove with its depth")
	}
	w.Shape = map[string]fit.WeldShape{"square": fit.SquareGroove, "v": fit.VGroove, "bevel": fit.BevelGroove}[strings.ToLower(m[1])]
	if w.Depth, err = unit.ParseLength(m[2]); err != nil {
		return fmt.Errorf("the depth is a length with its unit")
	}
	return nil
}

var (
	weldAngle  = regexp.MustCompile(`^(\d{1,3}(?:\.\d)?) deg$`)
	weldConvex = regexp.MustCompile(`^(\d{1,3}) % convex$`)
)

// weldPart reads one of the sizes that follow the shape.
func weldPart(w *fit.Weld, text string) error {
	if m := weldAngle.FindStringSubmatch(text); m != nil {
		degrees, err := strconv.ParseFloat(m[1], 64)
		w.Angle = fit.Angle(degrees*10 + 0.5)
		return err
	}
	if m := weldConvex.FindStringSubmatch(text); m != nil {
		var err error
		w.Convexity, err = strconv.Atoi(m[1])
		return err
	}
	for _, p := range [...]struct {
		word string
		to   *unit.Length
	}{{"gap ", &w.Gap}, {"root face ", &w.RootFace}, {"cap width ", &w.CapWidth}, {"cap ", &w.Cap}} {
		if size, ok := strings.CutPrefix(text, p.word); ok {
			l, err := unit.ParseLength(size)
			*p.to = l
			if err != nil {
				return fmt.Errorf("%q is no length with its unit", clip(text))
			}
			return nil
		}
	}
	return fmt.Errorf("%q says nothing of a weld", clip(text))
}

// WeldText writes a weld as [ParseWeld] reads it, exactly.
func WeldText(w fit.Weld) string {
	out := metres(w.Length) + " of "
	if w.Shape == fit.FilletWeld {
		out += exact(w.Leg) + " fillet"
		if w.Convexity > 0 {
			out += fmt.Sprintf(", %d %% convex", w.Convexity)
		}
		return out
	}
	out += string(w.Shape) + " " + exact(w.Depth) + " deep"
	for _, p := range [...]struct {
		word string
		size unit.Length
	}{{"gap", w.Gap}, {"root face", w.RootFace}} {
		if p.size > 0 {
			out += ", " + p.word + " " + exact(p.size)
		}
	}
	if w.Angle > 0 {
		out += ", " + w.Angle.String()
	}
	if w.Cap > 0 {
		out += ", cap " + exact(w.Cap)
	}
	if w.CapWidth > 0 {
		out += ", cap width " + exact(w.CapWidth)
	}
	return out
}

// metres writes a length of weld in metres where that is exact.
func metres(l unit.Length) string {
	const metre = 1000 * unit.Millimetre
	if l%(metre/1000) == 0 && l >= metre {
		return strconv.FormatFloat(float64(l/unit.Millimetre)/1000, 'f', -1, 64) + " m"
	}
	return exact(l)
}

// exact writes a length so that it reads back the same: in millimetres, or in
// inches where those are shorter.
func exact(l unit.Length) string {
	mm := l.String()
	if inches := l.Inches(); len(inches) < len(mm) {
		if back, err := unit.ParseLength(inches); err == nil && back == l {
			return inches
		}
	}
	return mm
}
