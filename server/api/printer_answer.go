package api

import (
	"context"

	"wirehold/inventory"
)

// printerAnswerView is what a printer says of itself.
type printerAnswerView struct {
	Name        string           `json:"name,omitempty"`
	Model       string           `json:"model,omitempty"`
	State       string           `json:"state,omitempty" doc:"idle, processing or stopped; left out if it does not say."`
	Reasons     []string         `json:"reasons" doc:"Of its state, in the words of RFC 8011."`
	Accepting   bool             `json:"accepting"`
	Formats     []string         `json:"formats" doc:"Media types of the documents that it takes."`
	Resolutions []int            `json:"resolutions_dpi"`
	Media       []string         `json:"media" doc:"Sizes, as the printer names them."`
	Jobs        []printerJobView `json:"jobs" doc:"That it is not done with, whoever sent them."`
	Doubts      []string         `json:"doubts" doc:"What does not go with the printer as it is entered."`
}

type printerJobView struct {
	Number int    `json:"printer_job"`
	Name   string `json:"name,omitempty"`
	State  string `json:"state,omitempty"`
}

// askPrinter asks a printer what it is and does.
func (h *handlers) askPrinter(ctx context.Context, in *byID) (*bodyOf[printerAnswerView], error) {
	if h.AskPrinter == nil {
		return nil, h.fail(ctx, inventory.NotFoundf("prints-nothing", "this program prints nothing: ask one that serves"))
	}
	printer, err := h.Ledger.PrinterOf(ctx, in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	a, err := h.AskPrinter(ctx, printer.Address)
	return answered(ctx, h, a, err, func(a inventory.PrinterAnswer) printerAnswerView {
		v := printerAnswerView{a.Name, a.Model, a.State, append([]string{}, a.Reasons...), a.Accepting, append([]string{}, a.Formats...), append([]int{}, a.Resolutions...),
			append([]string{}, a.Media...), []printerJobView{}, append([]string{}, a.Doubts(printer)...)}
		for _, j := range a.Jobs {
			v.Jobs = append(v.Jobs, printerJobView{j.Number, j.Name, j.State})
		}
		return v
	})
}
