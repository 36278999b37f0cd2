package fit

import (
	"math"
	"strconv"

	"wirehold/inventory/unit"
)

// Angle is an angle in tenths of a degree.
type Angle int

func (a Angle) String() string { return strconv.FormatFloat(float64(a)/10, 'f', -1, 64) + " deg" }

// tan is the tangent of a.
func (a Angle) tan() float64 { return math.Tan(float64(a) / 10 * math.Pi / 180) }

// WeldShape is the cross-section of a weld.
type WeldShape string

// The shapes that can be reckoned.
const (
	FilletWeld   WeldShape = "fillet"
	SquareGroove WeldShape = "square groove"
	VGroove      WeldShape = "V groove"
	BevelGroove  WeldShape = "bevel groove"
)

// Weld is weld that a job still needs, by its drawing. Fields that are not of
// its shape are zero.
type Weld struct {
	Shape     WeldShape
	Length    unit.Length // all of it together
	Leg       unit.Length // fillet: equal legs
	Convexity int         // fillet: per cent of weld metal on top of the flat face
	Depth     unit.Length // grooves: the plate thickness that is filled
	Gap       unit.Length // grooves: root opening
	RootFace  unit.Length // V and bevel: the part of Depth that is not bevelled
	Angle     Angle       // V: the included angle; bevel: of the one bevelled face
	Cap       unit.Length // grooves: height of the reinforcement, a parabola; zero is none
	CapWidth  unit.Length // zero is the width of the groove at its top
}

// Validate reports why a weld cannot be reckoned; nil if it can.
func (w Weld) Validate() error {
	switch {
	case w.Length <= 0:
		return cannotReckon("the weld has no length")
	case w.Shape == FilletWeld && w.Leg <= 0:
		return cannotReckon("the fillet has no leg")
	case w.Shape == FilletWeld && (w.Convexity < 0 || w.Convexity > 100):
		return cannotReckon("a convexity of %d %% is none", w.Convexity)
	case w.Shape == FilletWeld:
		return nil
	case w.Shape != SquareGroove && w.Shape != VGroove && w.Shape != BevelGroove:
		return cannotReckon("there is no weld shape %q", w.Shape)
	case w.Depth <= 0 || w.Gap < 0 || w.Cap < 0 || w.CapWidth < 0:
		return cannotReckon("the groove has no depth, or a size below zero")
	case w.Shape == SquareGroove:
		return nil
	case w.RootFace < 0 || w.RootFace >= w.Depth:
		return cannotReckon("the root face is not less than the depth")
	case w.Angle <= 0 || w.bevel() > 800:
		return cannotReckon("a groove angle of %s is none", w.Angle)
	}
	return nil
}

// bevel is the angle of one bevelled face.
func (w Weld) bevel() Angle {
	if w.Shape == VGroove {
		return w.Angle / 2
	}
	return w.Angle
}

// area is the cross-section in square millimetres: a flat fillet leg x leg / 2;
// a groove its root opening, a triangle for each bevelled face, and a cap that
// is a parabola (handbook tables, testdata/weld_metal.csv). The tangent of an
// angle is no ratio of whole numbers, so the sum is a float; it is rounded
// once, up to the whole gram, where it becomes a weight.
func (w Weld) area() float64 {
	leg, depth, gap, height := inMM(w.Leg), inMM(w.Depth), inMM(w.Gap), inMM(w.Cap)
	if w.Shape == FilletWeld {
		return leg * leg / 2 * (1 + float64(w.Convexity)/100)
	}
	faces := map[WeldShape]float64{VGroove: 2, BevelGroove: 1}[w.Shape]
	bevelled, slope := depth-inMM(w.RootFace), w.bevelSlope()
	width := inMM(w.CapWidth)
	if width == 0 {
		width = gap + faces*bevelled*slope
	}
	return depth*gap + faces*bevelled*bevelled*slope/2 + 2*width*height/3
}

// bevelSlope is the tangent of the bevel; half the included angle of a V is
// taken before it is rounded to tenths.
func (w Weld) bevelSlope() float64 {
	switch w.Shape {
	case VGroove:
		return math.Tan(float64(w.Angle) / 20 * math.Pi / 180)
	case BevelGroove:
		return w.Angle.tan()
	}
	return 0
}

func inMM(l unit.Length) float64 { return float64(l) / float64(unit.Millimetre) }

// metal is the weld metal in grams, at a density in g/cm3.
func (w Weld) metal(density float64) float64 { return w.area() * inMM(w.Length) / 1000 * density }

// String writes the weld as a drawing would: "12 m of 8 mm fillet", "3 m of V
// groove 12 mm deep, gap 3 mm, 60 deg, cap 3 mm".
func (w Weld) String() string { return w.message().String() }

func (w Weld) message() *Message {
	length := strconv.FormatFloat(inMM(w.Length)/1000, 'f', -1, 64)
	if w.Shape == FilletWeld {
		out := say("%s m of %s fillet", length, w.Leg.Millimetres(2))
		if w.Convexity > 0 {
			out = say("%s, %d %% convex", out, w.Convexity)
		}
		return out
	}
	out := say("%s m of %s %s deep, gap %s", length, word(w.Shape), w.Depth.Millimetres(2), w.Gap.Millimetres(2))
	if w.Shape != SquareGroove {
		out = say("%s, %s", out, w.Angle)
	}
	if w.Cap > 0 {
		out = say("%s, cap %s", out, w.Cap.Millimetres(2))
	}
	return out
}
