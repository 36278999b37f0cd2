package api

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/server/problem"
)

// LabelQuery is how labels are asked for. It is exported so that the framework
// reads it where it is embedded.
type LabelQuery struct {
	Kind    string `query:"kind" doc:"Of a spool: spool, hub, hold or slip. Of a lot: spool or hub for each of its spools, lot for its own. The usual one if left out."`
	Size    string `query:"size" default:"100x75" enum:"50x25,2x1in,75x50,3x2in,100x75,4x3in,100x150,4x6in" doc:"The stock, in millimetres or inches."`
	Format  string `query:"format" default:"pdf" enum:"pdf,png,svg"`
	DPI     int    `query:"dpi" default:"203" doc:"The printer's resolution, 203, 300 or 600: bars are whole dots of it."`
	Sheet   string `query:"sheet" doc:"As many labels on a sheet as go; a page a label if left out."`
	Columns int    `query:"columns" minimum:"0" doc:"Labels across the sheet; as many as go if left out."`
	Rows    int    `query:"rows" minimum:"0" doc:"Labels down the sheet; as many as go if left out."`
	Start   int    `query:"start" minimum:"0" doc:"The first free place of the sheet, from 1, row by row."`
}

type drawing struct {
	ContentType string `header:"Content-Type"`
	Body        []byte
}

func (h *handlers) registerLabels(a huma.API) {
	answers := map[string]*huma.Response{"200": {Description: "The labels, as they are asked for.", Content: map[string]*huma.MediaType{}}}
	for _, f := range labels.Formats() {
		answers["200"].Content[f.MediaType()] = &huma.MediaType{Schema: &huma.Schema{Type: "string", Format: "binary"}}
	}
	huma.Register(a, huma.Operation{OperationID: "label", Method: http.MethodGet, Path: "/api/v1/labels/{code}", Responses: answers,
		Summary: "Draw the label of a spool, place, feeder, job or person"}, h.label)
	huma.Register(a, huma.Operation{OperationID: "lot-labels", Method: http.MethodGet, Path: "/api/v1/lots/{id}/labels", Responses: answers,
		Summary: "Draw the labels of a lot's spools, or the lot's own"}, h.lotLabels)
}

func (h *handlers) label(ctx context.Context, in *struct {
	Code string `path:"code" doc:"The code of a spool, place, feeder, job or person."`
	LabelQuery
}) (*drawing, error) {
	code, err := inventory.ParseCode(in.Code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	kind, err := labels.ParseKind(code.Kind(), in.Kind)
	if err != nil {
		return nil, h.failLabel(ctx, err)
	}
	l, err := h.Shop.Of(h.Catalog(ctx), kind, code)
	if err != nil {
		return nil, h.failLabel(ctx, err)
	}
	return h.draw(ctx, []labels.Label{l}, in.LabelQuery)
}

func (h *handlers) lotLabels(ctx context.Context, in *struct {
	ID int64 `path:"id"`
	LabelQuery
}) (*drawing, error) {
	kind, err := labels.ParseLotKind(in.Kind)
	if err != nil {
		return nil, h.failLabel(ctx, err)
	}
	all, err := h.Shop.OfLot(h.Catalog(ctx), kind, in.ID)
	if err != nil {
		return nil, h.failLabel(ctx, err)
	}
	return h.draw(ctx, all, in.LabelQuery)
}

func (h *handlers) draw(ctx context.Context, all []labels.Label, q LabelQuery) (*drawing, error) {
	how, format, err := labels.Order{Size: q.Size, Format: q.Format, DPI: q.DPI, Sheet: q.Sheet, Columns: q.Columns, Rows: q.Rows, Start: q.Start}.Print()
	if err != nil {
		return nil, h.failLabel(ctx, err)
	}
	var out bytes.Buffer
	if err := h.Press.Draw(&out, all, how, format, nil); err != nil {
		return nil, h.failLabel(ctx, err)
	}
	return &drawing{format.MediaType(), out.Bytes()}, nil
}

// failLabel makes what a label cannot say a fault of the parameter it is asked
// for by.
func (h *handlers) failLabel(ctx context.Context, err error) error {
	if e, ok := errors.AsType[*labels.FieldError](err); ok {
		err = inventory.Invalidf(e.Field, "%s", e.Error())
	}
	p, ok := errors.AsType[problem.Problem](h.fail(ctx, err))
	if !ok {
		return err
	}
	for i, f := range p.Errors {
		p.Errors[i].Pointer, p.Errors[i].Parameter = "", strings.TrimPrefix(f.Pointer, "#/")
	}
	return p
}
