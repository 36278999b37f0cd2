package pages

import (
	"strings"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// list reads texts with commas, semicolons or line ends between them.
func (in *input) list(field string) (out []string) {
	for _, text := range strings.FieldsFunc(in.get(field), func(r rune) bool { return r == ',' || r == ';' || r == '\n' || r == '\r' }) {
		if text = strings.TrimSpace(text); text != "" {
			out = append(out, text)
		}
	}
	return out
}

// rows reads texts one a line.
func (in *input) rows(field string) (out []string) {
	for line := range strings.Lines(in.get(field)) {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// length reads a length; zero if the field is empty.
func (in *input) length(field string) unit.Length {
	text := in.get(field)
	if text == "" {
		return 0
	}
	l, err := unit.ParseLength(text)
	switch {
	case err != nil:
		in.fault(field, err.Error())
	case l == 0:
		in.fault(field, "leave it empty where it is not known")
	}
	return l
}

// lengths reads a list of lengths, all of which must be some.
func (in *input) lengths(field string) (out []unit.Length) {
	for _, text := range in.list(field) {
		l, err := unit.ParseLength(text)
		if err != nil {
			in.fault(field, err.Error())
			return nil
		}
		out = append(out, l)
	}
	return out
}

// gas reads a gas; nil if the field is empty, which is not "no gas".
func (in *input) gas(field string) *fit.Gas {
	text := in.get(field)
	if text == "" {
		return nil
	}
	g, err := fit.ParseGas(text)
	if err != nil {
		in.fault(field, err.Error())
		return nil
	}
	return &g
}

// parsed reads a text with its unit; zero if the field is empty.
func parsed[T any](in *input, field string, parse func(string) (T, error)) (v T) {
	text := in.get(field)
	if text == "" {
		return v
	}
	v, err := parse(text)
	if err != nil {
		in.fault(field, err.Error())
	}
	return v
}
