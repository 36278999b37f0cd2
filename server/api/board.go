package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
)

func (h *handlers) registerBoard(a huma.API) {
	huma.Get(a, "/api/v1/board", h.board)
}

type boardView struct {
	At    time.Time       `json:"at"`
	Items []boardLineView `json:"items" doc:"The shortest time left first; at most 100."`
	More  int             `json:"more" doc:"Spools that are out or open and not among the items."`
}

type boardLineView struct {
	Spool      spoolView  `json:"spool"`
	PlaceName  string     `json:"place_name,omitempty"`
	HolderName string     `json:"holder_name,omitempty"`
	JobNumber  string     `json:"job_number,omitempty"`
	Stand      string     `json:"stand" enum:"past its limit,past a caution,near its limit,limit not known,in time,sealed" doc:"How it stands against its limit; past a caution is past a limit that is unconfirmed or only cautions."`
	ExposedS   int64      `json:"exposed_s"`
	Runs       bool       `json:"runs" doc:"Its clock runs: it is open and not dry-kept."`
	LeftS      *int64     `json:"left_s,omitempty" doc:"Until the limit; less than zero past it. Left out if no limit is known."`
	RunsOutAt  *time.Time `json:"runs_out_at,omitempty" doc:"When the limit is reached if nothing moves, or was."`
	Limit      string     `json:"limit,omitempty"`
	Source     string     `json:"source,omitempty" doc:"Who gives the limit."`
	ReturnAt   *time.Time `json:"return_at,omitempty" doc:"By when it is to be back in the store."`
	Late       bool       `json:"late"`
}

func viewBoardLine(l inventory.BoardLine, at time.Time) boardLineView {
	v := boardLineView{Spool: viewSpoolLine(l.SpoolLine), PlaceName: l.PlaceName, HolderName: l.HolderName, JobNumber: l.JobNumber, Stand: string(l.Stand),
		ExposedS: int64(l.Exposed / time.Second), Runs: l.Runs, RunsOutAt: known(l.RunsOut), Limit: l.Limit, Source: l.Source, ReturnAt: known(l.Returns), Late: l.Late(at)}
	if l.Limited {
		left := int64(l.Left / time.Second)
		v.LeftS = &left
	}
	return v
}

func (h *handlers) board(ctx context.Context, _ *struct{}) (*bodyOf[boardView], error) {
	b, err := h.Ledger.Board(ctx)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := boardView{At: b.At, Items: make([]boardLineView, len(b.Lines)), More: b.More}
	for i, l := range b.Lines {
		v.Items[i] = viewBoardLine(l, b.At)
	}
	return &bodyOf[boardView]{v}, nil
}
