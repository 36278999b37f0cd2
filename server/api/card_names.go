package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// termView is one process that a name may stand for.
type termView struct {
	Name       string `json:"name"`
	Process    string `json:"process" doc:"FCAW-G, FCAW-S, GMAW metal cored, GMAW, GTAW or SMAW"`
	Words      string `json:"words"`
	Provenance string `json:"provenance" doc:"practice: said everywhere; shop: this shop's own"`
	Source     string `json:"source,omitempty"`
	Note       string `json:"note,omitempty"`
}

type nicknameView struct {
	ID      int64     `json:"id"`
	Name    string    `json:"name"`
	Process string    `json:"process"`
	Words   string    `json:"words"`
	Person  string    `json:"person" doc:"The badge code of whoever entered it."`
	At      time.Time `json:"entered_at"`
}

func viewNickname(n inventory.Nickname) nicknameView {
	return nicknameView{n.ID, n.Name, string(n.Process), inventory.ProcessWords(n.Process), string(n.Person), n.At}
}

// meaningView is what was understood of a text typed into a search.
type meaningView struct {
	Names []nameRead `json:"names"`
	Sizes []sizeRead `json:"sizes"`
	Words []string   `json:"words" doc:"What was not understood, and is searched for as it stands."`
}

type nameRead struct {
	Typed string     `json:"typed"`
	Clear bool       `json:"clear" doc:"False where it must be asked which is meant."`
	Means []termView `json:"means"`
}

type sizeRead struct {
	Typed      string `json:"typed"`
	DiameterNm int64  `json:"diameter_nm"`
}

func viewMeaning(m inventory.Meaning) meaningView {
	v := meaningView{Names: []nameRead{}, Sizes: []sizeRead{}, Words: append([]string{}, m.Words...)}
	for _, n := range m.Names {
		read := nameRead{Typed: n.Typed, Clear: len(n.Processes()) == 1}
		for _, t := range n.Terms {
			read.Means = append(read.Means, termView{t.Name, string(t.Process), t.Words(), string(t.Provenance), t.Source, t.Note})
		}
		v.Names = append(v.Names, read)
	}
	for _, s := range m.Sizes {
		v.Sizes = append(v.Sizes, sizeRead{s.Typed, int64(s.Size)})
	}
	return v
}

func (h *handlers) registerNames(a huma.API) {
	post := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/names", h.names)
	huma.Get(a, "/api/v1/names/read", h.readNames)
	huma.Post(a, "/api/v1/names", h.addName, post)
	huma.Post(a, "/api/v1/names/{id}/retire", h.retireName, post)
}

func (h *handlers) names(ctx context.Context, _ *struct{}) (*bodyOf[listOf[nicknameView]], error) {
	nicknames, err := h.Ledger.Nicknames(ctx)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(nicknames, viewNickname), nil
}

func (h *handlers) readNames(ctx context.Context, in *struct {
	Text string `query:"q" required:"true" maxLength:"200" doc:"What somebody typed into a search: \"gasless .035\"."`
}) (*bodyOf[meaningView], error) {
	m, err := h.Ledger.Understand(ctx, in.Text)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewMeaning(m)), nil
}

// NameBody is a nickname to enter.
type NameBody struct {
	Person  string `json:"person" doc:"The badge code of the welding engineer or owner."`
	Name    string `json:"name" maxLength:"100"`
	Process string `json:"process" enum:"FCAW-G,FCAW-S,GMAW metal cored,GMAW,GTAW,SMAW"`
}

func (h *handlers) addName(ctx context.Context, in *struct{ Body NameBody }) (*bodyOf[nicknameView], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	n, err := h.Ledger.AddNickname(ctx, inventory.Nickname{Name: in.Body.Name, Process: fit.Process(in.Body.Process), Person: person})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewNickname(n)), nil
}

func (h *handlers) retireName(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		Person string `json:"person" doc:"The badge code of the welding engineer or owner."`
	}
}) (*bodyOf[listOf[nicknameView]], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	if err := h.Ledger.RetireNickname(ctx, in.ID, person); err != nil {
		return nil, h.fail(ctx, err)
	}
	return h.names(ctx, nil)
}
