package labels

import (
	"image"
	"math"
	"slices"
)

const (
	patchCell    = 8    // pixels on a side
	patchTexture = 35.0 // standard deviation of grey in a cell of black and white modules
	mostPatches  = 8
)

// patches returns the parts of a picture that are speckled black and white as a
// matrix symbol is, the largest first, with a margin all round. A decoder of
// Data Matrix looks from the middle outwards, so each symbol must be in the
// middle of what it is shown.
func patches(grey *image.Gray) (out []image.Rectangle) {
	b := grey.Bounds()
	columns, rows := b.Dx()/patchCell, b.Dy()/patchCell
	speckled := make([]bool, columns*rows)
	for i := range speckled {
		speckled[i] = texture(grey, i%columns*patchCell, i/columns*patchCell) > patchTexture
	}
	for i := range speckled {
		if !speckled[i] {
			continue
		}
		patch := joined(speckled, columns, i)
		if patch.Dx() < 2 || patch.Dy() < 2 {
			continue
		}
		margin := max(patch.Dx(), patch.Dy())/4 + 1
		cells := patch.Inset(-margin)
		out = append(out, image.Rect(cells.Min.X*patchCell, cells.Min.Y*patchCell, cells.Max.X*patchCell, cells.Max.Y*patchCell).Intersect(b))
	}
	slices.SortStableFunc(out, func(p, q image.Rectangle) int { return q.Dx()*q.Dy() - p.Dx()*p.Dy() })
	return out[:min(len(out), mostPatches)]
}

// texture returns the standard deviation of grey in the cell at x, y.
func texture(grey *image.Gray, x, y int) float64 {
	sum, squares := 0, 0
	for dy := range patchCell {
		from := grey.PixOffset(x, y+dy)
		for _, v := range grey.Pix[from : from+patchCell] {
			sum += int(v)
			squares += int(v) * int(v)
		}
	}
	const n = patchCell * patchCell
	mean := float64(sum) / n
	return math.Sqrt(max(float64(squares)/n-mean*mean, 0))
}

// joined takes the cells that hang together with cell i out of speckled, and
// returns the rectangle of cells that holds them. Cells hang together across one
// plain cell.
func joined(speckled []bool, columns, i int) image.Rectangle {
	rows := len(speckled) / columns
	box := image.Rect(i%columns, i/columns, i%columns+1, i/columns+1)
	speckled[i] = false
	for open := []int{i}; len(open) > 0; {
		at := image.Pt(open[len(open)-1]%columns, open[len(open)-1]/columns)
		open = open[:len(open)-1]
		box = box.Union(image.Rectangle{at, at.Add(image.Pt(1, 1))})
		for y := max(at.Y-2, 0); y <= min(at.Y+2, rows-1); y++ {
			for x := max(at.X-2, 0); x <= min(at.X+2, columns-1); x++ {
				if next := y*columns + x; speckled[next] {
					speckled[next] = false
					open = append(open, next)
				}
			}
		}
	}
	return box
}
