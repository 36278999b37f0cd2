package labels

import (
	"fmt"
	"math/bits"
	"strings"
)

// QR symbols (ISO/IEC 18004, level M) are encoded here: the library takes most
// of a millisecond for one, which is ten times what the rest of a label takes,
// corrupts digits with signs in its Auto and Numeric modes, and does not choose
// the mask of the least penalty (testdata/barcodes.csv K-01, K-02). Only
// alphanumeric and byte mode are used; a text in byte mode is UTF-8, as phones
// take it.

// qrLargest is the largest version that is drawn, of 61 modules: more do not
// fit onto a label, and a row of no more fits into a word.
const qrLargest = 11

// qrBlocks returns, for each version from 1, how many error-correction bytes a
// block of level M has and how many blocks there are (ISO/IEC 18004, table 9;
// the capacities are held against testdata/barcodes.csv qr_capacity, the
// modules against the boombuler library).
func qrBlocks(version int) (correction, blocks int) {
	corrections := [...]int{10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30}
	counts := [...]int{1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5}
	return corrections[version-1], counts[version-1]
}

// qrBytes returns how many bytes a version holds, error correction included.
func qrBytes(version int) int {
	modules := (16*version+128)*version + 64
	if version >= 2 {
		n := version/7 + 2
		modules -= (25*n-10)*n - 55
		if version >= 7 {
			modules -= 36
		}
	}
	return modules / 8
}

// qrMatrix encodes text as QR, error correction level M.
func qrMatrix(text string) (matrix, error) {
	if text == "" {
		return nil, fmt.Errorf("there is nothing to encode")
	}
	for version := 1; version <= qrLargest; version++ {
		correction, blocks := qrBlocks(version)
		room := qrBytes(version) - correction*blocks
		if data, ok := qrData(text, version, room); ok {
			return qrDraw(version, qrWithCorrection(data, version)), nil
		}
	}
	return nil, fmt.Errorf("%d bytes are too many for a QR symbol on a label", len(text))
}

// qrAlphabet is the alphabet of the alphanumeric mode, in the order of its
// values.
const qrAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// utf8Text is the number of UTF-8 among the extended channel interpretations
// (AIM ECI 000026). Without it readers guess, and take some letters with
// accents for Chinese: seen with zbar.
const utf8Text = 26

// qrData returns text as room bytes of data, or false if it does not go in.
func qrData(text string, version, room int) ([]byte, bool) {
	w := bitWriter{bytes: make([]byte, 0, room)}
	wide := version >= 10
	if strings.Trim(text, qrAlphabet) == "" {
		w.add(2, 4)
		w.add(len(text), map[bool]int{false: 9, true: 11}[wide])
		i := 0
		for ; i+1 < len(text); i += 2 {
			w.add(45*strings.IndexByte(qrAlphabet, text[i])+strings.IndexByte(qrAlphabet, text[i+1]), 11)
		}
		if i < len(text) {
			w.add(strings.IndexByte(qrAlphabet, text[i]), 6)
		}
	} else {
		if strings.IndexFunc(text, func(r rune) bool { return r > '~' }) >= 0 {
			w.add(7, 4)
			w.add(utf8Text, 8)
		}
		w.add(4, 4)
		w.add(len(text), map[bool]int{false: 8, true: 16}[wide])
		for i := range len(text) {
			w.add(int(text[i]), 8)
		}
	}
	if w.n > room*8 {
		return nil, false
	}
	w.add(0, min(4, room*8-w.n))
	w.n = (w.n + 7) / 8 * 8
	for pad := 236; len(w.bytes) < room; pad ^= 236 ^ 17 {
		w.bytes = append(w.bytes, byte(pad))
	}
	return w.bytes, true
}

// bitWriter collects bits, the highest of each number first.
type bitWriter struct {
	bytes []byte
	n     int
}

func (w *bitWriter) add(value, size int) {
	for i := size - 1; i >= 0; i-- {
		if w.n%8 == 0 {
			w.bytes = append(w.bytes, 0)
		}
		w.bytes[w.n/8] |= byte(value>>i&1) << (7 - w.n%8)
		w.n++
	}
}

// qrWithCorrection splits data into the blocks of the version, gives each its
// error correction, and returns all interleaved.
func qrWithCorrection(data []byte, version int) []byte {
	correction, count := qrBlocks(version)
	total := qrBytes(version)
	short, longer := total/count-correction, total%count
	field := newField()
	divisor := field.divisor(correction)
	blocks, checks := make([][]byte, count), make([][]byte, count)
	for i := range blocks {
		size := short
		if i >= count-longer {
			size++
		}
		blocks[i], data = data[:size], data[size:]
		checks[i] = field.remainder(blocks[i], divisor)
	}
	out := make([]byte, 0, total)
	for i := range short + 1 {
		for _, block := range blocks {
			if i < len(block) {
				out = append(out, block[i])
			}
		}
	}
	for i := range correction {
		for _, check := range checks {
			out = append(out, check[i])
		}
	}
	return out
}

// field is the field of 256 elements with the polynomial 0x11D: the powers of
// its element 2 and their logarithms.
type field struct{ power, log [256]byte }

func newField() *field {
	f := &field{}
	x := 1
	for i := range 255 {
		f.power[i], f.log[x] = byte(x), byte(i)
		if x <<= 1; x > 255 {
			x ^= 0x11D
		}
	}
	return f
}

func (f *field) times(x, y byte) byte {
	if x == 0 || y == 0 {
		return 0
	}
	return f.power[(int(f.log[x])+int(f.log[y]))%255]
}

// divisor returns the generator polynomial of the degree, its leading 1 left
// out.
func (f *field) divisor(degree int) []byte {
	out := make([]byte, degree)
	out[degree-1] = 1
	for i := range degree {
		for j := range out {
			out[j] = f.times(out[j], f.power[i])
			if j+1 < degree {
				out[j] ^= out[j+1]
			}
		}
	}
	return out
}

// remainder returns the Reed-Solomon check of data.
func (f *field) remainder(data, divisor []byte) []byte {
	out := make([]byte, len(divisor))
	for _, b := range data {
		factor := b ^ out[0]
		copy(out, out[1:])
		out[len(out)-1] = 0
		for i, d := range divisor {
			out[i] ^= f.times(d, factor)
		}
	}
	return out
}

// qrFormat returns the 15 bits that name level M and the mask: a (15,5) BCH
// code over the polynomial 0x537, masked with 0x5412.
func qrFormat(mask int) int {
	rest := mask << 10 // level M is 00
	for i := 14; i >= 10; i-- {
		if rest>>i&1 != 0 {
			rest ^= 0x537 << (i - 10)
		}
	}
	return (mask<<10 | rest) ^ 0x5412
}

// qrVersion returns the 18 bits that name the version: an (18,6) Golay code
// over the polynomial 0x1F25.
func qrVersion(version int) int {
	rest := version << 12
	for bits.Len(uint(rest)) > 12 {
		rest ^= 0x1F25 << (bits.Len(uint(rest)) - 13)
	}
	return version<<12 | rest
}
