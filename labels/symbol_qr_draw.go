package labels

import "math/bits"

// qrGrid is a symbol being drawn, a word a row and a bit a module, the first
// module lowest: which are dark, and which belong to the pattern that every
// symbol of the version has.
type qrGrid struct {
	size        int
	dark, fixed [64]uint64
}

func (g *qrGrid) set(x, y int, dark bool) {
	g.fixed[y] |= 1 << x
	if dark {
		g.dark[y] |= 1 << x
	} else {
		g.dark[y] &^= 1 << x
	}
}

// qrDraw returns the symbol of the version that holds data, under the mask of
// the least penalty.
func qrDraw(version int, data []byte) matrix {
	g := &qrGrid{size: 4*version + 17}
	g.patterns(version)
	g.fill(data)
	var best qrGrid
	least := -1
	for mask := range 8 {
		tried := g.masked(mask)
		if p := tried.penalty(); least < 0 || p < least {
			best, least = tried, p
		}
	}
	return best.matrix()
}

func (g *qrGrid) matrix() matrix {
	modules := make([]bool, g.size*g.size)
	m := make(matrix, g.size)
	for y := range m {
		m[y] = modules[y*g.size : (y+1)*g.size]
		for x := range m[y] {
			m[y][x] = g.dark[y]>>x&1 != 0
		}
	}
	return m
}

// patterns draws what does not depend on the data, and keeps the places of the
// format free.
func (g *qrGrid) patterns(version int) {
	for i := range g.size {
		g.set(6, i, i%2 == 0)
		g.set(i, 6, i%2 == 0)
	}
	g.finder(3, 3)
	g.finder(g.size-4, 3)
	g.finder(3, g.size-4)
	at := qrAlignments(version)
	last := len(at) - 1
	for i, x := range at {
		for j, y := range at {
			if (i == 0 && (j == 0 || j == last)) || (i == last && j == 0) {
				continue // a finder is there
			}
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					g.set(x+dx, y+dy, max(dx, -dx, dy, -dy) != 1)
				}
			}
		}
	}
	g.format(0)
	if version < 7 {
		return
	}
	named := qrVersion(version)
	for i := range 18 {
		dark := named>>i&1 != 0
		g.set(g.size-11+i%3, i/3, dark)
		g.set(i/3, g.size-11+i%3, dark)
	}
}

// finder draws a corner square with its white border around the centre x, y.
func (g *qrGrid) finder(x, y int) {
	for dy := -4; dy <= 4; dy++ {
		for dx := -4; dx <= 4; dx++ {
			if px, py := x+dx, y+dy; px >= 0 && px < g.size && py >= 0 && py < g.size {
				ring := max(dx, -dx, dy, -dy)
				g.set(px, py, ring != 2 && ring != 4)
			}
		}
	}
}

// qrAlignments returns the rows and columns of alignment patterns (ISO/IEC
// 18004, annex E).
func qrAlignments(version int) []int {
	if version == 1 {
		return nil
	}
	n := version/7 + 2
	step := (version*4 + n*2 + 1) / (n*2 - 2) * 2
	at := make([]int, n)
	at[0] = 6
	for i, place := n-1, 4*version+10; i > 0; i-- {
		at[i] = place
		place -= step
	}
	return at
}

// format writes the level and the mask, twice, and the module that is always
// dark.
func (g *qrGrid) format(mask int) {
	named := qrFormat(mask)
	for i := range 15 {
		dark := named>>i&1 != 0
		switch {
		case i < 6:
			g.set(8, i, dark)
		case i < 8:
			g.set(8, i+1, dark)
		case i == 8:
			g.set(7, 8, dark)
		default:
			g.set(14-i, 8, dark)
		}
		if i < 8 {
			g.set(g.size-1-i, 8, dark)
		} else {
			g.set(8, g.size-15+i, dark)
		}
	}
	g.set(8, g.size-8, true)
}

// fill writes data in pairs of columns from the right, up and down in turn.
func (g *qrGrid) fill(data []byte) {
	bit := 0
	for right := g.size - 1; right >= 1; right -= 2 {
		if right == 6 {
			right = 5
		}
		up := (right+1)&2 == 0
		for i := range g.size {
			y := i
			if up {
				y = g.size - 1 - i
			}
			for x := right; x > right-2; x-- {
				if g.fixed[y]>>x&1 == 0 && bit < len(data)*8 {
					g.dark[y] |= uint64(data[bit/8]>>(7-bit%8)&1) << x
					bit++
				}
			}
		}
	}
}

// masked returns the symbol under the mask, its number written.
func (g *qrGrid) masked(mask int) qrGrid {
	out := *g
	for y := range g.size {
		out.dark[y] ^= qrMaskRow(mask, y) &^ g.fixed[y] & (1<<g.size - 1)
	}
	out.format(mask)
	return out
}

// qrMaskRow returns a row of the mask, which repeats after six modules.
func qrMaskRow(mask, y int) uint64 {
	row := uint64(0)
	for x := range 6 {
		if qrMask(mask, x, y) {
			row |= 1 << x
		}
	}
	return row * 0x1041041041041041
}

func qrMask(mask, x, y int) bool {
	switch mask {
	case 0:
		return (x+y)%2 == 0
	case 1:
		return y%2 == 0
	case 2:
		return x%3 == 0
	case 3:
		return (x+y)%3 == 0
	case 4:
		return (x/3+y/2)%2 == 0
	case 5:
		return x*y%2+x*y%3 == 0
	case 6:
		return (x*y%2+x*y%3)%2 == 0
	}
	return ((x+y)%2+x*y%3)%2 == 0
}

// penalty rates how much a symbol looks like its own patterns (ISO/IEC 18004,
// 7.8.3): long runs, blocks, finders, and more of one shade.
func (g *qrGrid) penalty() int {
	columns := g.turned()
	inside := uint64(1)<<(g.size-1) - 1 // modules with one to their right
	total, darks := 0, 0
	for y := range g.size {
		total += qrLine(g.dark[y], g.size) + qrLine(columns[y], g.size)
		darks += bits.OnesCount64(g.dark[y])
		if y > 0 {
			a, b := g.dark[y-1], g.dark[y]
			total += 3 * bits.OnesCount64(^(a^b)&^(a^a>>1)&^(b^b>>1)&inside)
		}
	}
	off, all := darks*20-g.size*g.size*10, g.size*g.size
	return total + (max(off, -off)+all-1)/all*10 - 10
}

// turned returns the columns as rows.
func (g *qrGrid) turned() (columns [64]uint64) {
	for y := range g.size {
		for row := g.dark[y]; row != 0; row &= row - 1 {
			columns[bits.TrailingZeros64(row)] |= 1 << y
		}
	}
	return columns
}

// qrLine rates one row or column: runs of five and more, and the ratio of a
// finder with white beside it.
func qrLine(row uint64, size int) int {
	all := uint64(1)<<size - 1
	alike := ^(row ^ row>>1) & (all >> 1) // modules like the next one
	fifth := alike & (alike >> 1) & (alike >> 2) & (alike >> 3)
	total := bits.OnesCount64(fifth) + 2*bits.OnesCount64(fifth&^(fifth<<1))
	white := ^row & all
	four := white & (white >> 1) & (white >> 2) & (white >> 3)
	finder := row & (white >> 1) & (row >> 2) & (row >> 3) & (row >> 4) & (white >> 5) & (row >> 6)
	return total + 40*(bits.OnesCount64(finder&(four>>7))+bits.OnesCount64(finder>>4&four))
}
