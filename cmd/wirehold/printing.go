package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"log/slog"
	mathrand "math/rand/v2"
	"net/http"
	"time"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/server/notify"
	"wirehold/server/notify/ipp"
)

// newPrinting returns who sends queued labels to their printers.
func newPrinting(p *program, queue notify.PrintQueue, catalog func(context.Context) labels.Catalog, shop labels.Shop, log *slog.Logger) (*notify.Printing, error) {
	press, err := labels.NewPress()
	if err != nil {
		return nil, err
	}
	client := &http.Client{Timeout: 20 * time.Second}
	return &notify.Printing{Queue: queue, Log: log, Now: p.now, NewID: rand.Text, Chance: mathrand.Float64,
		Reach: func(address string) (notify.Printer, error) { return ipp.New(address, "wirehold", client) },
		Draw: func(ctx context.Context, t inventory.PrintTask) ([]notify.Drawn, error) {
			all, err := taskLabels(catalog(ctx), shop, t)
			if err != nil {
				return nil, err
			}
			return drawTask(press, all, t.On)
		}}, nil
}

// taskLabels looks up what each label of a print job says.
func taskLabels(catalog labels.Catalog, shop labels.Shop, t inventory.PrintTask) ([]labels.Label, error) {
	out := make([]labels.Label, 0, len(t.Labels))
	for _, printed := range t.Labels {
		l, err := taskLabel(catalog, shop, labels.Kind(t.Kind), printed)
		if err != nil {
			return nil, asFault(err)
		}
		out = append(out, l.Printed(printed.Number))
	}
	return out, nil
}

func taskLabel(catalog labels.Catalog, shop labels.Shop, kind labels.Kind, printed inventory.PrintedLabel) (labels.Label, error) {
	if lot, ok := inventory.LotOfLabel(printed.Of); ok {
		all, err := shop.OfLot(catalog, kind, lot)
		if err != nil {
			return labels.Label{}, err
		}
		return all[0], nil
	}
	code, err := inventory.ParseCode(printed.Of)
	if err != nil {
		return labels.Label{}, err
	}
	return shop.Of(catalog, kind, code)
}

// drawTask draws the labels for the printer: one PDF, or a PNG each.
func drawTask(press *labels.Press, all []labels.Label, on inventory.Printer) ([]notify.Drawn, error) {
	order := labels.Order{Size: on.Size, Format: on.Format, DPI: on.DPI}
	how, format, err := order.Print()
	if err != nil {
		return nil, asFault(err)
	}
	batches := [][]labels.Label{all}
	if format == labels.PNG {
		batches = batches[:0]
		for i := range all {
			batches = append(batches, all[i:i+1])
		}
	}
	var out []notify.Drawn
	for _, batch := range batches {
		var document bytes.Buffer
		if err := press.Draw(&document, batch, how, format, nil); err != nil {
			return nil, asFault(err)
		}
		out = append(out, notify.Drawn{Format: format.MediaType(), Data: document.Bytes()})
	}
	return out, nil
}

// asFault makes what a label cannot say an error that may be shown: it will
// not print however often it is tried.
func asFault(err error) error {
	if e, ok := errors.AsType[*labels.FieldError](err); ok {
		return inventory.Invalidf(e.Field, "%s", e.Reason)
	}
	return err
}
