package labels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"io"
)

// Press draws labels. It keeps the fonts and the characters it has drawn, so
// make one and keep it. It is safe for concurrent use.
type Press struct {
	setters chan *setter // those that are free
}

// mostSetters is how many setters a press keeps: each holds a few megabytes of
// characters.
const mostSetters = 4

// NewPress returns a press that is ready.
func NewPress() (*Press, error) {
	p := &Press{setters: make(chan *setter, mostSetters)}
	s, err := newSetter()
	if err != nil {
		return nil, err
	}
	p.setters <- s
	return p, nil
}

// setter is what one drawing needs: fonts, and characters as they were drawn.
type setter struct {
	fonts  fonts
	raster raster
	packer *packer
}

func newSetter() (*setter, error) {
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	return &setter{fonts: f, raster: raster{marks: map[mark]bitmap{}}, packer: newPacker()}, nil
}

// with calls f with a setter that nobody else has.
func (p *Press) with(f func(*setter) error) error {
	var s *setter
	select {
	case s = <-p.setters:
	default:
		var err error
		if s, err = newSetter(); err != nil {
			return err
		}
	}
	defer func() {
		select {
		case p.setters <- s:
		default: // enough are kept
		}
	}()
	return f(s)
}

// Print is how labels are drawn.
type Print struct {
	Size  Size
	DPI   int   // of the printer, one of [Resolutions]: modules are whole dots there
	Paper Paper // zero prints a page a label
}

// check refuses what no printer has.
func (p Print) check() error {
	if p.Size.Width <= 0 || p.Size.Height <= 0 {
		return &FieldError{"size", "a label needs stock to be printed on"}
	}
	return checkDPI(p.DPI)
}

// page is one page with its labels.
type page struct {
	bounds image.Rectangle // in dots
	stock  Size            // as the page is cut
	sheets []sheet
	at     []image.Point // corners of sheets
}

// pages lays labels out and hands over one page after the other. done, if it is
// not nil, is told after each label how many are laid out.
func (s *setter) pages(labels []Label, p Print, done func(int), emit func(page) error) error {
	if len(labels) == 0 {
		return errors.New("draw labels: none given")
	}
	if err := p.check(); err != nil {
		return err
	}
	paper, at, next := p.Size, []image.Point{{}}, 0
	if p.Paper.Name != "" {
		var err error
		if at, err = p.Paper.placed(p.Size, p.DPI); err != nil {
			return err
		}
		paper, next = Size{p.Paper.Name, p.Paper.Width, p.Paper.Height}, max(0, p.Paper.Start-1)
	}
	pg := page{bounds: image.Rect(0, 0, dots(paper.Width, p.DPI), dots(paper.Height, p.DPI)), stock: paper}
	for i := range labels {
		laid, err := s.fonts.layOut(&labels[i], p.Size, p.DPI)
		if err != nil {
			return s.elsewhere(&labels[i], p, err)
		}
		pg.sheets, pg.at = append(pg.sheets, laid), append(pg.at, at[next])
		if done != nil {
			done(i + 1)
		}
		if next++; next < len(at) && i+1 < len(labels) {
			continue
		}
		if err := emit(pg); err != nil {
			return err
		}
		pg.sheets, pg.at, next = pg.sheets[:0], pg.at[:0], 0
	}
	return nil
}

// elsewhere adds to the reason why a label cannot be drawn on what stock it
// can.
func (s *setter) elsewhere(l *Label, p Print, err error) error {
	fault, ok := errors.AsType[*FieldError](err)
	if !ok {
		return err
	}
	reason := fault.Reason
	if l.Code != "" && fault.Field != "code" || fault.Field == "code" && len(l.Code) > 0 {
		for _, size := range Sizes() {
			if size.Width*size.Height <= p.Size.Width*p.Size.Height {
				continue
			}
			if _, err := s.fonts.layOut(l, size, p.DPI); err == nil {
				return &FieldError{fault.Field, fmt.Sprintf("%s of %s; %s would do", reason, p.Size, size)}
			}
		}
	}
	return &FieldError{fault.Field, reason}
}

// PNG draws one label, or one sheet of labels, as a black and white PNG of one
// bit a dot for the printer. The same labels always give the same bytes.
//
// A character the font lacks prints as a box. The error is a [*FieldError] when
// a label cannot be printed whole, and says on what stock it can; otherwise it
// comes from w.
func (p *Press) PNG(w io.Writer, labels []Label, how Print) error {
	return p.with(func(s *setter) error {
		pages := 0
		return s.pages(labels, how, nil, func(pg page) error {
			if pages++; pages > 1 {
				return onePage("PNG")
			}
			return s.png(w, pg, how.DPI)
		})
	})
}

// SVG draws one label, or one sheet of labels, as SVG: letters are outlines, so
// that it looks the same everywhere, and a dot of the printer is one unit. It
// fails as [Press.PNG] does.
func (p *Press) SVG(w io.Writer, labels []Label, how Print) error {
	return p.with(func(s *setter) error {
		pages := 0
		return s.pages(labels, how, nil, func(pg page) error {
			if pages++; pages > 1 {
				return onePage("SVG")
			}
			return s.svg(w, pg, how.DPI)
		})
	})
}

func onePage(format string) error {
	return &FieldError{"format", fmt.Sprintf("%s holds one page: ask for PDF, or for fewer labels", format)}
}

// PDF draws labels in the order given, a page each or as many on a sheet as go.
// Nothing in it is an image: letters are letters, and each bar is a filled
// rectangle on the dots of the printer. The same labels always give the same
// bytes. done, if not nil, is told how many labels are done.
//
// It fails as [Press.PNG] does; nothing is written unless all labels fit.
func (p *Press) PDF(w io.Writer, labels []Label, how Print, done func(int)) error {
	return p.with(func(s *setter) error {
		if err := how.check(); err != nil {
			return err
		}
		d, err := newDocument(how, s.fonts)
		if err != nil {
			return err
		}
		if err := s.pages(labels, how, done, d.page); err != nil {
			return err
		}
		var whole bytes.Buffer
		if err := d.pdf.Output(&whole); err != nil {
			return fmt.Errorf("make PDF: %w", err)
		}
		return s.packer.pdf(w, whole.Bytes())
	})
}
