package api

import (
	"errors"
	"strings"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/server/problem"
)

func detailOf(err error) string {
	if e, ok := errors.AsType[*inventory.Error](err); ok {
		return e.Detail
	}
	return "not readable"
}

// spoolView is a spool as the API writes it. What is not known is left out.
type spoolView struct {
	Code      string     `json:"code"`
	State     string     `json:"state" doc:"sealed, open, issued, on hold or scrapped"`
	LotID     int64      `json:"lot_id"`
	Place     string     `json:"place,omitempty"`
	NetG      int64      `json:"net_g" doc:"Wire left, in grams."`
	TareG     int64      `json:"tare_g" doc:"The empty spool, in grams."`
	OpenedAt  *time.Time `json:"opened_at,omitempty"`
	Held      string     `json:"held,omitempty" doc:"Why it is on hold."`
	Job       string     `json:"job,omitempty"`
	Procedure int64      `json:"procedure_id,omitempty" doc:"The revision it was issued under."`
	Holder    string     `json:"holder,omitempty"`
	OutSince  *time.Time `json:"out_since,omitempty"`
	Feeder    string     `json:"feeder,omitempty" doc:"The feeder it is loaded on."`
	Version   int        `json:"version"`
	LotNumber string     `json:"lot_number,omitempty"`
	WireID    int64      `json:"wire_id,omitempty"`
	Wire      string     `json:"wire,omitempty"`
	Class     string     `json:"classifications,omitempty"`
	Disputed  bool       `json:"disputed,omitempty" doc:"Box and sheet of its wire disagree: it is not issued until the engineer has settled it."`
}

func viewSpool(s inventory.Spool) spoolView {
	return spoolView{Code: string(s.Code), State: string(s.State()), LotID: s.LotID, Place: string(s.Place), NetG: int64(s.Net), TareG: int64(s.Tare),
		OpenedAt: known(s.OpenedAt), Held: s.Held, Job: string(s.Job), Procedure: s.Procedure, Holder: string(s.Holder), OutSince: known(s.OutSince), Feeder: string(s.Feeder), Version: s.Version}
}

func viewSpoolLine(s inventory.SpoolLine) spoolView {
	v := viewSpool(s.Spool)
	v.LotNumber, v.WireID, v.Wire, v.Class = s.LotNumber, s.WireID, s.TradeName, s.Class
	v.Disputed = s.Disputed
	return v
}

func known(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

// movementView is one line of the ledger.
type movementView struct {
	Seq         int64     `json:"seq"`
	Version     int       `json:"version"`
	Type        string    `json:"type"`
	EffectiveAt time.Time `json:"effective_at" doc:"When it happened."`
	EnteredAt   time.Time `json:"entered_at" doc:"When it was written down."`
	Person      string    `json:"person"`
	To          string    `json:"to,omitempty"`
	Job         string    `json:"job,omitempty"`
	Holder      string    `json:"holder,omitempty"`
	ProcedureID int64     `json:"procedure_id,omitempty" doc:"Of an issue or loading: the revision it was checked against."`
	NetG        *int64    `json:"net_g,omitempty"`
	Reason      string    `json:"reason,omitempty"`
	Corrects    int64     `json:"corrects,omitempty"`
	Verdict     string    `json:"verdict,omitempty"`
	Checked     string    `json:"checked,omitempty"`
	Waivers     []string  `json:"waivers,omitempty" doc:"The waivers that an issue or loading rests on."`
	Hash        string    `json:"hash"`
}

func viewMovement(m inventory.Movement) movementView {
	v := movementView{Seq: m.Seq, Version: m.Version, Type: string(m.Type), EffectiveAt: m.EffectiveAt, EnteredAt: m.EnteredAt, Person: string(m.Person),
		To: string(m.To), Job: string(m.Job), ProcedureID: m.Procedure, Holder: string(m.Holder), Reason: m.Reason, Corrects: m.Corrects, Verdict: m.Verdict, Checked: m.Checked, Hash: m.Hash}
	if m.Net != nil {
		g := int64(*m.Net)
		v.NetG = &g
	}
	if m.Waiver != "" {
		v.Waivers = strings.Split(m.Waiver, "\n")
	}
	return v
}

// FactView is one fact of a designation or wire.
type FactView struct {
	Fact       string `json:"fact"`
	Value      string `json:"value"`
	Unit       string `json:"unit"`
	Condition  string `json:"condition,omitempty" doc:"When it holds; left out if always."`
	From       string `json:"from" doc:"The characters of the designation that gave it."`
	Provenance string `json:"provenance" doc:"published, memory, practice, data sheet or shop"`
	Source     string `json:"source"`
}

// ViewFacts returns facts as the API and the decode command write them.
func ViewFacts(facts filler.Facts) []FactView {
	out := make([]FactView, len(facts))
	for i, f := range facts {
		out[i] = FactView{f.Name, f.Value, f.Unit, f.Condition, f.From, string(f.Provenance), f.Source}
	}
	return out
}

// CheckView is a fit check as the API and the check command write it.
type CheckView struct {
	Spool     string            `json:"spool"`
	Job       string            `json:"job"`
	Feeder    string            `json:"feeder,omitempty"`
	Procedure string            `json:"procedure"`
	Profile   string            `json:"profile"`
	Verdict   string            `json:"verdict" doc:"fits, fits with cautions or does not fit"`
	Findings  []problem.Finding `json:"findings"`
	// Translation is what the translation of the findings is worth.
	Translation string   `json:"translation,omitempty" doc:"What the translation of the findings is worth; left out where they are in English."`
	Waivers     []int64  `json:"waivers,omitempty" doc:"The standing waivers that the verdict rests on."`
	MayWaive    []string `json:"may_waive,omitempty" doc:"The rules that stop and that the welding engineer may waive."`
}

// ViewCheckIn is [ViewCheck] with the findings in a language. The verdict is one
// of its three English words in every language.
func ViewCheckIn(l fit.Language, c inventory.Check) CheckView {
	c.Verdict = c.Verdict.In(l)
	v := ViewCheck(c)
	v.Translation = l.NotReviewed()
	return v
}

// ViewCheck returns c as the API and the check command write it.
func ViewCheck(c inventory.Check) CheckView {
	v := CheckView{Spool: string(c.Spool.Code), Job: c.Job.Number, Procedure: c.Procedure.Name(), Profile: c.Profile.Name,
		Verdict: string(c.Verdict.Answer), Findings: problem.Findings(c.Verdict.Findings)}
	if c.Feeder != nil {
		v.Feeder = c.Feeder.Name
	}
	for _, w := range c.Waivers {
		v.Waivers = append(v.Waivers, w.ID)
	}
	for _, rule := range c.Waivable {
		v.MayWaive = append(v.MayWaive, string(rule))
	}
	return v
}

type wireView struct {
	ID              int64      `json:"id"`
	Maker           string     `json:"maker"`
	TradeName       string     `json:"trade_name"`
	Classifications []string   `json:"classifications"`
	DiameterNm      int64      `json:"diameter_nm"`
	Marked          string     `json:"marked" doc:"The size as the box prints it."`
	Package         string     `json:"package"`
	NetG            int64      `json:"net_g"`
	TareG           int64      `json:"tare_g" doc:"The empty spool, in grams."`
	MinimumG        int64      `json:"minimum_g" doc:"The shop's minimum in stock; 0 is none."`
	UsableG         *int64     `json:"usable_g,omitempty" doc:"In the store and may be issued; none while box and sheet disagree."`
	WaitsG          *int64     `json:"waits_g,omitempty" doc:"What would be usable if box and sheet agreed."`
	OutG            *int64     `json:"out_g,omitempty"`
	Facts           []FactView `json:"facts,omitempty"`
	Version         int        `json:"version"`

	Supplied     []WireFactBody    `json:"supplied,omitempty" doc:"What sheet and shop say, as it is sent back to edit the wire."`
	Conflicts    []conflictView    `json:"conflicts,omitempty" doc:"On what box and sheet disagree."`
	BoxQuestions []boxQuestionView `json:"box_questions,omitempty" doc:"What rests on memory: a receipt answers each."`
}

func viewWire(w inventory.Wire) wireView {
	return wireView{ID: w.ID, Maker: w.Maker, TradeName: w.TradeName, Classifications: w.Classifications, DiameterNm: int64(w.Diameter),
		Marked: w.Marked, Package: w.Package, NetG: int64(w.Net), TareG: int64(w.Tare), MinimumG: int64(w.Minimum), Version: w.Version}
}

type lotView struct {
	ID          int64     `json:"id"`
	WireID      int64     `json:"wire_id"`
	Number      string    `json:"number"`
	Certificate string    `json:"certificate,omitempty"`
	ReceivedAt  time.Time `json:"received_at"`
	Status      string    `json:"status" doc:"accepted, on hold or rejected"`
	Reason      string    `json:"reason,omitempty"`
	Version     int       `json:"version"`

	Papers *PapersFields `json:"papers,omitempty" doc:"What certificate and box say; what is left out is not known."`
}

func viewLot(l inventory.Lot) lotView {
	return lotView{l.ID, l.WireID, l.Number, l.Certificate, l.ReceivedAt, string(l.Status), l.Reason, l.Version, viewPapers(l.Papers)}
}

type jobView struct {
	Code        string `json:"code"`
	Number      string `json:"number"`
	Name        string `json:"name"`
	Procedure   string `json:"procedure"`
	Profile     string `json:"profile"`
	ThicknessNm int64  `json:"thickness_nm,omitempty"`
	Joint       string `json:"joint,omitempty"`
	Closed      bool   `json:"closed"`
	Out         int    `json:"spools_out"`
}

func viewJob(j inventory.JobLine) jobView {
	return jobView{string(j.Code), j.Number, j.Name, j.ProcedureName, j.ProfileID, int64(j.Thickness), j.Joint, j.Closed, j.Out}
}
