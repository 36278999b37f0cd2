package labels

import "io"

// press returns a press that is ready.
func press() *Press {
	p, err := NewPress()
	if err != nil {
		panic(err)
	}
	return p
}

// on is the print of the usual stock for a printer.
func on(size string, dpi int) Print {
	s, err := ParseSize(size)
	if err != nil {
		panic(err)
	}
	return Print{Size: s, DPI: dpi}
}

// renderOne draws the label of one spool on the usual stock.
func renderOne(w io.Writer, l Spool, dpi int) error {
	label, err := l.Label()
	if err != nil {
		return err
	}
	return press().PNG(w, []Label{label}, on(UsualSize, dpi))
}

// renderAll draws the labels of spools on the usual stock for a 203 dpi printer.
func renderAll(w io.Writer, spools []Spool) error {
	var labels []Label
	for _, s := range spools {
		label, err := s.Label()
		if err != nil {
			return err
		}
		labels = append(labels, label)
	}
	return press().PDF(w, labels, on(UsualSize, 203), nil)
}
