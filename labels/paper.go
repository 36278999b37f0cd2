package labels

import (
	"fmt"
	"image"
	"strings"

	"wirehold/inventory/unit"
)

// Paper is a sheet that holds many labels. The zero Paper is none: each label
// has a page of its own.
type Paper struct {
	Name          string // "A4", "Letter"
	Width, Height unit.Length
	Columns, Rows int // labels across and down; zero is as many as go
	Start         int // the place of the first label, from 1, row by row; zero is 1
}

// Papers lists the sheets: ISO 216 A4, and Letter of 8.5 x 11 in.
func Papers() []Paper {
	return []Paper{
		{Name: "A4", Width: 210 * unit.Millimetre, Height: 297 * unit.Millimetre},
		{Name: "Letter", Width: 8*unit.Inch + unit.Inch/2, Height: 11 * unit.Inch},
	}
}

// ParsePaper returns the sheet of the name. The error is a [*FieldError].
func ParsePaper(name string) (Paper, error) {
	for _, p := range Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
	}
	return Paper{}, &FieldError{"sheet", fmt.Sprintf("%q is no sheet: A4 or Letter", name)}
}

// edge is the white that a printer of sheets needs around them (practice).
const edge = 4 * unit.Millimetre

// placed returns the paper with its grid for labels of the size, and the
// corners of its places in dots. The error is a [*FieldError].
func (p Paper) placed(s Size, dpi int) ([]image.Point, error) {
	mostColumns, mostRows := int((p.Width-2*edge)/s.Width), int((p.Height-2*edge)/s.Height)
	columns, rows := p.Columns, p.Rows
	if columns == 0 {
		columns = mostColumns
	}
	if rows == 0 {
		rows = mostRows
	}
	switch {
	case columns < 1 || columns > mostColumns:
		return nil, &FieldError{"columns", fmt.Sprintf("%s holds 1 to %d labels of %s across, not %d", p.Name, mostColumns, s, columns)}
	case rows < 1 || rows > mostRows:
		return nil, &FieldError{"rows", fmt.Sprintf("%s holds 1 to %d labels of %s down, not %d", p.Name, mostRows, s, rows)}
	case p.Start < 0 || p.Start > columns*rows:
		return nil, &FieldError{"start", fmt.Sprintf("the sheet has %d places, and there is no place %d", columns*rows, p.Start)}
	}
	left, top := (p.Width-s.Width*unit.Length(columns))/2, (p.Height-s.Height*unit.Length(rows))/2
	var at []image.Point
	for row := range rows {
		for column := range columns {
			at = append(at, image.Pt(dots(left+s.Width*unit.Length(column), dpi), dots(top+s.Height*unit.Length(row), dpi)))
		}
	}
	return at, nil
}
