package labels

import (
	"bytes"
	"errors"
	"image"
	"io"
	"strings"
	"sync"
	"testing"
)

// A sheet is begun at any place, and goes on on the next one.
func TestSheetsStartAnywhere(t *testing.T) {
	t.Parallel()
	p := press()
	a4, err := ParsePaper("a4")
	if err != nil {
		t.Fatal(err)
	}
	how := on(UsualSize, 203)
	for start := 1; start <= 6; start++ { // two across and three down
		how.Paper = a4
		how.Paper.Start = start
		var b bytes.Buffer
		if err := p.PNG(&b, []Label{usualOf(t, KindSpool)}, how); err != nil {
			t.Fatal(err)
		}
		img := decodePNG(t, b.Bytes())
		if want := image.Pt(1678, 2374); img.Rect.Size() != want { // 210 x 297 mm at 203 dots an inch
			t.Fatalf("an A4 sheet has %v dots, want %v", img.Rect.Size(), want)
		}
		column, row := (start-1)%2, (start-1)/2
		left, top := 5+100*column, 36+75*row // millimetres: the grid stands in the middle of the sheet
		place := image.Rect(left*203*10/254, top*203*10/254, (left+100)*203*10/254+1, (top+75)*203*10/254+9)
		if ink := inkOf(img); ink.Empty() || !ink.In(place) {
			t.Errorf("a label at place %d has its ink within %v, want within %v", start, ink, place)
		}
	}
	how.Paper.Start = 5
	var b bytes.Buffer
	if err := p.PDF(&b, many(t, 7), how, nil); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(b.String(), "/Type /Page\n"); n != 2 {
		t.Errorf("seven labels from place 5 of six take %d sheets, want 2", n)
	}
}

func inkOf(img *image.Gray) (all image.Rectangle) {
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if img.Pix[y*img.Stride+x] < 128 {
				all = all.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return all
}

func TestOrdersThatMakeNoSense(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		order Order
		field string
	}{
		{"a size that there is not", Order{Size: "60x60"}, "size"},
		{"a format that there is not", Order{Format: "gif"}, "format"},
		{"a printer that there is not", Order{DPI: 150}, "dpi"},
		{"a sheet that there is not", Order{Sheet: "A3"}, "sheet"},
		{"more across than go", Order{Sheet: "A4", Columns: 3}, "columns"},
		{"more down than go", Order{Sheet: "Letter", Rows: 4}, "rows"},
		{"a place that there is not", Order{Sheet: "A4", Start: 7}, "start"},
		{"a place of a smaller grid", Order{Sheet: "A4", Columns: 1, Rows: 2, Start: 3}, "start"},
	}
	p := press()
	for _, tt := range tests {
		how, format, err := tt.order.Print()
		if err == nil {
			err = p.Draw(io.Discard, []Label{usualOf(t, KindSpool)}, how, format, nil)
		}
		if fault, ok := errors.AsType[*FieldError](err); !ok || fault.Field != tt.field {
			t.Errorf("%s: %+v: error %v, want one of field %q", tt.name, tt.order, err, tt.field)
		}
	}
	how, format, err := Order{}.Print()
	if err != nil || how.Size.Name != UsualSize || how.DPI != 203 || format != PDF {
		t.Errorf("an empty order is %+v as %s (%v), want PDF on %s at 203 dpi", how, format, err, UsualSize)
	}
}

// A press draws for many at once, and each gets their own label.
func TestAPressServesManyAtOnce(t *testing.T) {
	t.Parallel()
	p, labels := press(), many(t, 40)
	var want [40][]byte
	for i := range labels {
		var b bytes.Buffer
		if err := p.PNG(&b, labels[i:i+1], on("75x50", 203)); err != nil {
			t.Fatal(err)
		}
		want[i] = b.Bytes()
	}
	var wait sync.WaitGroup
	for worker := range 8 {
		wait.Go(func() {
			for i := range labels {
				n := (i*7 + worker*5) % len(labels)
				var b bytes.Buffer
				if err := p.PNG(&b, labels[n:n+1], on("75x50", 203)); err != nil || !bytes.Equal(b.Bytes(), want[n]) {
					t.Errorf("label %d drawn beside others: %d bytes (%v), want the %d it has alone", n, b.Len(), err, len(want[n]))
				}
			}
		})
	}
	wait.Wait()
}
