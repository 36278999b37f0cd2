package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"iter"
	"log/slog"
	mathrand "math/rand/v2"
	"net/http"
	"slices"
	"time"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/server/notify"
	"wirehold/server/notify/ipp"
)

// newPrinting returns who sends queued labels to their printers.
func newPrinting(p *program, queue notify.PrintQueue, catalog func(context.Context) labels.Register, shop labels.Shop, log *slog.Logger) (*notify.Printing, error) {
	press, err := labels.NewPress()
	if err != nil {
		return nil, err
	}
	client := &http.Client{Timeout: 20 * time.Second}
	return &notify.Printing{Queue: queue, Log: log, Now: p.now, NewID: rand.Text, Chance: mathrand.Float64,
		Reach: func(address string) (notify.Printer, error) { return ipp.New(address, "wirehold", client) },
		Draw: func(ctx context.Context, t inventory.PrintTask) iter.Seq2[notify.Drawn, error] {
			all, err := taskLabels(catalog(ctx), shop, t)
			if err != nil {
				return func(yield func(notify.Drawn, error) bool) { yield(notify.Drawn{}, err) }
			}
			return drawTask(press, all, t.On)
		}}, nil
}

// taskLabels looks up what each label of a print job says that its printer has
// not taken yet.
func taskLabels(catalog labels.Register, shop labels.Shop, t inventory.PrintTask) ([]labels.Label, error) {
	left := t.Labels[min(t.Taken, len(t.Labels)):]
	kind, out := labels.Kind(t.Kind), make([]labels.Label, len(left))
	var codes []inventory.Code
	var lines []int // on which the codes are
	for i, printed := range left {
		if lot, ok := inventory.LotOfLabel(printed.Of); ok { // a print job of lots has one
			all, err := shop.OfLot(catalog, kind, lot)
			if err != nil {
				return nil, asFault(err)
			}
			out[i] = all[0]
			continue
		}
		code, err := inventory.ParseCode(printed.Of)
		if err != nil {
			return nil, err
		}
		codes, lines = append(codes, code), append(lines, i)
	}
	each, err := shop.Each(catalog, kind, codes)
	if err != nil {
		return nil, asFault(err)
	}
	for i, l := range each {
		out[lines[i]] = l
	}
	for i, printed := range left {
		out[i] = out[i].Printed(printed.Number)
	}
	return out, nil
}

// drawTask draws the labels for the printer: one PDF, or a PNG each as its turn
// comes.
func drawTask(press *labels.Press, all []labels.Label, on inventory.Printer) iter.Seq2[notify.Drawn, error] {
	return func(yield func(notify.Drawn, error) bool) {
		order := labels.Order{Size: on.Size, Format: on.Format, DPI: on.DPI}
		how, format, err := order.Print()
		if err != nil {
			yield(notify.Drawn{}, asFault(err))
			return
		}
		most := len(all)
		if format == labels.PNG {
			most = 1
		}
		for batch := range slices.Chunk(all, max(most, 1)) {
			var document bytes.Buffer
			err := press.Draw(&document, batch, how, format, nil)
			if !yield(notify.Drawn{Format: format.MediaType(), Labels: len(batch), Data: document.Bytes()}, asFault(err)) || err != nil {
				return
			}
		}
	}
}

// asFault makes what a label cannot say an error that may be shown: it will
// not print however often it is tried.
func asFault(err error) error {
	if e, ok := errors.AsType[*labels.FieldError](err); ok {
		return inventory.Invalidf(e.Field, "%s", e.Reason)
	}
	return err
}
