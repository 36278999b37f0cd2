package labels

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // photos are JPEG
	_ "image/png"  // pictures of a screen are PNG
	"slices"
	"strings"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
	"golang.org/x/image/draw"

	"wirehold/inventory"
)

// What a photo may be at most: a phone takes 50 million pixels and sends a few
// megabytes. The picture is looked through at each of the sizes, for a symbol
// may be too small in a small one and too noisy in a large one.
const (
	MaxPhoto    = 12 << 20 // bytes
	mostPixels  = 64 << 20
	smallPhoto  = 1000 // pixels on the long side
	mediumPhoto = 2000
)

// ReadPhoto returns what the bar codes in a photo say, as a reader would send it
// for [ReadScan], each once: Code 128, QR, Data Matrix and the EAN and UPC codes.
//
// The error is [inventory.Invalid] with field "photo": the file is no picture or
// too large, or no code can be read in it.
func ReadPhoto(content []byte) ([]string, error) {
	size, _, err := image.DecodeConfig(bytes.NewReader(content))
	switch {
	case err != nil:
		return nil, inventory.Invalidf("photo", "the file is no picture that can be read here: take a photo, or send a JPEG or PNG")
	case size.Width*size.Height > mostPixels:
		return nil, inventory.Invalidf("photo", "the picture has %d × %d pixels: send a smaller one, of %d million at most", size.Width, size.Height, mostPixels>>20)
	}
	photo, _, err := image.Decode(bytes.NewReader(content))
	if err != nil {
		return nil, inventory.Invalidf("photo", "the picture is damaged: take it again")
	}
	var found []string
	for _, longest := range [...]int{smallPhoto, mediumPhoto} {
		grey := shrunk(photo, longest)
		for _, view := range views(grey) {
			found = append(found, symbolsIn(view, qrcode.NewQRCodeReader(), oned.NewCode128Reader(), oned.NewMultiFormatUPCEANReader(nil))...)
		}
		for _, patch := range patches(grey) {
			found = append(found, symbolsIn(grey.SubImage(patch), datamatrix.NewDataMatrixReader(), qrcode.NewQRCodeReader())...)
		}
		if len(found) > 0 {
			slices.Sort(found)
			return slices.Compact(found), nil
		}
	}
	return nil, inventory.Invalidf("photo", "no bar code can be read in the photo: hold the phone straight over it, near enough to fill half the picture, in good light")
}

// shrunk returns the picture in grey with at most longest pixels on its long
// side.
func shrunk(photo image.Image, longest int) *image.Gray {
	b := photo.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > longest {
		w, h = max(w*longest/long, 1), max(h*longest/long, 1)
	}
	out := image.NewGray(image.Rect(0, 0, w, h))
	draw.ApproxBiLinear.Scale(out, out.Bounds(), photo, b, draw.Src, nil)
	return out
}

// views returns the whole picture and its overlapping halves: a decoder finds
// one symbol of a sort in each.
func views(whole *image.Gray) []image.Image {
	b := whole.Bounds()
	w, h := b.Dx(), b.Dy()
	out := []image.Image{whole}
	for _, part := range [...]image.Rectangle{image.Rect(0, 0, w*5/8, h), image.Rect(w*3/8, 0, w, h), image.Rect(0, 0, w, h*5/8), image.Rect(0, h*3/8, w, h)} {
		out = append(out, whole.SubImage(part))
	}
	return out
}

// symbolsIn reads one symbol with each of the readers.
func symbolsIn(view image.Image, readers ...gozxing.Reader) (found []string) {
	source := gozxing.NewLuminanceSourceFromImage(view)
	hints := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true, gozxing.DecodeHintType_ASSUME_GS1: true}
	for _, binarize := range [...]func(gozxing.LuminanceSource) gozxing.Binarizer{gozxing.NewHybridBinarizer, gozxing.NewGlobalHistgramBinarizer} {
		bitmap, err := gozxing.NewBinaryBitmap(binarize(source))
		if err != nil {
			continue // too small to hold a symbol
		}
		for _, reader := range readers {
			if result, err := decoded(reader, bitmap, hints); err == nil {
				found = append(found, asSent(result))
			}
		}
	}
	return found
}

// decoded reads with one reader. A reader that fails on odd input by a panic
// has read nothing.
func decoded(reader gozxing.Reader, bitmap *gozxing.BinaryBitmap, hints map[gozxing.DecodeHintType]any) (result *gozxing.Result, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("read: %v", p)
		}
	}()
	return reader.Decode(bitmap, hints)
}

// asSent returns the text with the symbology identifier that tells a GS1 symbol
// from others.
func asSent(r *gozxing.Result) string {
	text := r.GetText()
	id, _ := r.GetResultMetadata()[gozxing.ResultMetadataType_SYMBOLOGY_IDENTIFIER].(string)
	if strings.HasPrefix(text, "]") || len(id) != 3 || !gs1Symbology(id[1:]) {
		return text
	}
	return id + strings.TrimLeft(text, string(separator))
}
