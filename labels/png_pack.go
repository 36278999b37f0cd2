package labels

import (
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
)

// packer writes PNG (ISO/IEC 15948). It keeps its compressor: making one takes
// as long as drawing a label.
type packer struct {
	out  writeTo
	zlib *zlib.Writer
}

// newPacker returns a packer whose compressor is made: a compressor makes its
// tables when it is first written to.
func newPacker() *packer {
	p := &packer{}
	p.zlib, _ = zlib.NewWriterLevel(&p.out, zlib.BestSpeed) // the level is one there is
	p.zlib.Write(nil)                                       // into memory: it cannot fail
	return p
}

// writeTo is a slice of bytes that can be written to.
type writeTo []byte

func (w *writeTo) Write(b []byte) (int, error) {
	*w = append(*w, b...)
	return len(b), nil
}

// pack returns b as a PNG of one bit a dot, with the resolution it is meant for
// in a pHYs chunk (11.3.5.3: dots a metre), so that nothing scales it. What it
// returns is good until the next call.
func (p *packer) pack(b bitmap, dpi int) []byte {
	p.out = append(p.out[:0], "\x89PNG\r\n\x1a\n"...)
	header := binary.BigEndian.AppendUint32(nil, uint32(b.rect.Dx()))
	header = binary.BigEndian.AppendUint32(header, uint32(b.rect.Dy()))
	p.chunk("IHDR", append(header, 1, 3, 0, 0, 0)) // one bit, palette
	perMetre := uint32((dpi*10_000 + 127) / 254)
	physical := binary.BigEndian.AppendUint32(nil, perMetre)
	physical = binary.BigEndian.AppendUint32(physical, perMetre)
	p.chunk("pHYs", append(physical, 1)) // the unit is the metre
	p.chunk("PLTE", []byte{255, 255, 255, 0, 0, 0})
	start := len(p.out)
	p.out = append(p.out, 0, 0, 0, 0, 'I', 'D', 'A', 'T')
	p.compress(b)
	p.seal(start)
	p.chunk("IEND", nil)
	return p.out
}

// compress writes the rows: one that repeats the row above says no more than
// that.
func (p *packer) compress(b bitmap) {
	p.zlib.Reset(&p.out)
	same := make([]byte, b.stride+1)
	same[0] = 2 // filter "up": the difference to the row above
	row := make([]byte, b.stride+1)
	for y := range b.rect.Dy() {
		now := b.bits[y*b.stride : (y+1)*b.stride]
		if y > 0 && string(now) == string(row[1:]) {
			p.zlib.Write(same) // into memory: it cannot fail
			continue
		}
		copy(row[1:], now)
		p.zlib.Write(row)
	}
	p.zlib.Close()
}

func (p *packer) chunk(name string, data []byte) {
	start := len(p.out)
	p.out = append(append(append(p.out, 0, 0, 0, 0), name...), data...)
	p.seal(start)
}

// seal writes length and check of the chunk that starts at start.
func (p *packer) seal(start int) {
	body := p.out[start+4:]
	binary.BigEndian.PutUint32(p.out[start:], uint32(len(body)-4))
	p.out = binary.BigEndian.AppendUint32(p.out, crc32.ChecksumIEEE(body))
}
