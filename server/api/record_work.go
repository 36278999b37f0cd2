package api

import (
	"context"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

func (h *handlers) registerWork(a huma.API, bounded func(*huma.Operation)) {
	huma.Get(a, "/api/v1/procedures", lists(h, func(c Catalog, p page) ([]inventory.ProcedureLine, error) { return c.Procedures(p.query()) }, viewProcedureLine))
	huma.Post(a, "/api/v1/procedures", entered[procedureBody](h, h.Ledger.EnterProcedure, viewProcedure), bounded)
	huma.Get(a, "/api/v1/procedures/{id}", h.procedure)
	huma.Get(a, "/api/v1/procedures/{id}/changes", h.procedureChanges)
	huma.Post(a, "/api/v1/procedures/{id}/retire", h.retireProcedure(true), bounded)
	huma.Post(a, "/api/v1/procedures/{id}/reinstate", h.retireProcedure(false), bounded)

	huma.Post(a, "/api/v1/jobs", entered[jobBody](h, h.Ledger.EnterJob, viewWholeJob), bounded)
	huma.Get(a, "/api/v1/jobs/{code}", one(h, inventory.JobCode, Catalog.Job, viewWholeJob))
	huma.Put(a, "/api/v1/jobs/{code}", edited[jobEdit](h, inventory.JobCode, h.Ledger.ChangeJob, viewWholeJob), bounded)
	huma.Post(a, "/api/v1/jobs/{code}/close", switched(h, inventory.JobCode, h.Ledger.CloseJob, true, viewWholeJob), bounded)
	huma.Post(a, "/api/v1/jobs/{code}/reopen", switched(h, inventory.JobCode, h.Ledger.CloseJob, false, viewWholeJob), bounded)
	huma.Get(a, "/api/v1/jobs/{code}/changes", changesOf(h, inventory.JobRecord, inventory.JobCode))
}

// ProcedureFields is what a revision demands of the wire. What is left out
// asks nothing.
type ProcedureFields struct {
	Number          string   `json:"number" maxLength:"40"`
	Revision        string   `json:"revision" maxLength:"40"`
	Title           string   `json:"title,omitempty" maxLength:"120"`
	Processes       []string `json:"processes,omitempty" doc:"Any of these: FCAW-G, FCAW-S, GMAW metal cored, GMAW, GTAW."`
	Classifications []string `json:"classifications,omitempty" maxItems:"40" doc:"Any of these."`
	Diameters       []string `json:"diameters,omitempty" maxItems:"40" doc:"Any of these, with their unit."`
	Polarity        string   `json:"polarity,omitempty" doc:"DCEP, DCEN or AC"`
	Gas             string   `json:"gas,omitempty" doc:"75 Ar 25 CO2, CO2, or none for no gas."`
	Passes          string   `json:"passes,omitempty" doc:"single pass or multiple passes"`
	PassCount       int      `json:"pass_count,omitempty" minimum:"0" maximum:"99"`
	Positions       []string `json:"positions,omitempty" doc:"Every one of these: flat, horizontal, vertical up, vertical down, overhead."`
	Tensile         string   `json:"tensile,omitempty" doc:"At least: 70 ksi or 490 MPa."`
	Matching        bool     `json:"matching,omitempty" doc:"The strength must match the base metals, by the groups of AWS D1.1."`
	Toughness       string   `json:"toughness,omitempty" doc:"20 ft-lbf at -20 degF or 27 J at -30 degC"`
	Hydrogen        int      `json:"hydrogen,omitempty" minimum:"0" maximum:"100" doc:"At most, in mL/100 g."`
	Prequalified    bool     `json:"prequalified,omitempty"`
	IntermixReport  string   `json:"intermix_report,omitempty" maxLength:"120"`
	ThicknessLeast  string   `json:"thickness_least,omitempty" doc:"The thinnest plate that it is qualified for, with its unit."`
	ThicknessMost   string   `json:"thickness_most,omitempty" doc:"The thickest plate that it is qualified for, with its unit."`
	BaseMetals      []string `json:"base_metals,omitempty" maxItems:"40" doc:"That it is qualified for, any of these: A36 (carbon steel), stainless steel, or group II of AWS D1.1."`
}

type procedureBody struct {
	Edit
	From int64 `json:"from,omitempty" minimum:"1" doc:"The id of the revision that this one follows; left out for a new procedure. It is not changed."`
	ProcedureFields
}

func (b procedureBody) entry(f *faults) inventory.ProcedureEntry {
	return inventory.ProcedureEntry{Edit: b.read(f, 0), From: b.From, Of: inventory.Procedure{Number: b.Number, Revision: b.Revision, Title: b.Title,
		Processes: asWords[fit.Process](b.Processes), Classifications: b.Classifications, Diameters: measuredAll(f, "diameters", b.Diameters, unit.ParseLength),
		Polarity: fit.Polarity(b.Polarity), Gas: gasOf(f, b.Gas), Passes: fit.Passes(b.Passes), PassCount: b.PassCount, Positions: asWords[fit.Position](b.Positions),
		Tensile: measured(f, "tensile", b.Tensile, unit.ParseStress), Matching: b.Matching, Toughness: measured(f, "toughness", b.Toughness, unit.ParseToughness),
		Hydrogen: b.Hydrogen, Prequalified: b.Prequalified, IntermixReport: b.IntermixReport, Qualified: b.qualified(f)}}
}

func (b ProcedureFields) qualified(f *faults) fit.Qualified {
	return fit.Qualified{Least: measured(f, "thickness_least", b.ThicknessLeast, unit.ParseLength), Most: measured(f, "thickness_most", b.ThicknessMost, unit.ParseLength),
		Metals: measuredAll(f, "base_metals", b.BaseMetals, inventory.ParseMetal)}
}

type procedureView struct {
	ID int64 `json:"id"`
	ProcedureFields
	RetiredAt *time.Time `json:"retired_at,omitempty" doc:"Since when no wire goes to work welded to it."`
	OpenJobs  *int       `json:"open_jobs,omitempty"`
	Version   int        `json:"version"`
}

func viewProcedure(p inventory.Procedure) procedureView {
	v := procedureView{ID: p.ID, RetiredAt: known(p.RetiredAt), Version: p.Version, ProcedureFields: ProcedureFields{Number: p.Number, Revision: p.Revision, Title: p.Title,
		Processes: asTexts(p.Processes), Classifications: p.Classifications, Diameters: lengthTexts(p.Diameters), Polarity: string(p.Polarity), Gas: gasText(p.Gas),
		Passes: string(p.Passes), PassCount: p.PassCount, Positions: asTexts(p.Positions), Matching: p.Matching, Hydrogen: p.Hydrogen, Prequalified: p.Prequalified,
		IntermixReport: p.IntermixReport, ThicknessLeast: lengthText(p.Qualified.Least), ThicknessMost: lengthText(p.Qualified.Most), BaseMetals: metalTexts(p.Qualified.Metals)}}
	if !p.Tensile.IsZero() {
		v.Tensile = p.Tensile.String()
	}
	if !p.Toughness.IsZero() {
		v.Toughness = p.Toughness.String()
	}
	return v
}

func metalTexts(metals []fit.BaseMetal) []string {
	var out []string
	for _, m := range metals {
		out = append(out, m.String())
	}
	return out
}

func viewProcedureLine(p inventory.ProcedureLine) procedureView {
	v := viewProcedure(p.Procedure)
	v.OpenJobs = &p.Jobs
	return v
}

func (h *handlers) procedure(ctx context.Context, in *byID) (*bodyOf[procedureView], error) {
	p, err := h.Catalog(ctx).Procedure(in.ID)
	return answered(ctx, h, p, err, viewProcedure)
}

func (h *handlers) procedureChanges(ctx context.Context, in *byID) (*bodyOf[listOf[changeView]], error) {
	if _, err := h.Catalog(ctx).Procedure(in.ID); err != nil {
		return nil, h.fail(ctx, err)
	}
	changes, err := h.Ledger.Changes(ctx, inventory.ProcedureRecord, inventory.ProcedureSubject(in.ID))
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(changes, viewChange), nil
}

func (h *handlers) retireProcedure(retired bool) func(context.Context, *struct {
	ID   int64 `path:"id"`
	Body Edit
}) (*bodyOf[procedureView], error) {
	return func(ctx context.Context, in *struct {
		ID   int64 `path:"id"`
		Body Edit
	}) (*bodyOf[procedureView], error) {
		var f faults
		e := in.Body.read(&f, 0)
		if err := f.err(); err != nil {
			return nil, h.fail(ctx, err)
		}
		p, err := h.Ledger.RetireProcedure(ctx, e, in.ID, retired)
		return answered(ctx, h, p, err, viewProcedure)
	}
}

// JobFields is what is entered of a job. What is left out is not stated.
type JobFields struct {
	Number      string       `json:"number" maxLength:"40" doc:"The shop's own."`
	Name        string       `json:"name,omitempty" maxLength:"120"`
	Procedures  []int64      `json:"procedure_ids" minItems:"1" maxItems:"10" doc:"The ids of the revisions that it is welded to, in order."`
	Profile     string       `json:"profile" doc:"The id of its rule profile."`
	Site        string       `json:"site" enum:"shop,field"`
	Wind        string       `json:"wind,omitempty" doc:"At the weld, measured: 5 mph, 8 km/h or 2 m/s. 0 m/s is no wind; left out is not stated."`
	Sheltered   bool         `json:"sheltered,omitempty"`
	BaseMetals  []SideFields `json:"base_metals,omitempty" maxItems:"2" doc:"The sides of the joint."`
	Joint       string       `json:"joint,omitempty" doc:"butt, tee, lap, corner or edge"`
	Welds       []string     `json:"welds,omitempty" maxItems:"20" doc:"Weld to lay: 12 m of 8 mm fillet; 3 m of V groove 12 mm deep, gap 3 mm, 60 deg, cap 2 mm."`
	Certificate CertFields   `json:"certificate,omitempty" doc:"That the contract demands of a lot."`
	Origin      OriginFields `json:"origin,omitempty" doc:"That the contract demands."`
}

// SideFields is one side of a joint.
type SideFields struct {
	Name      string `json:"name" doc:"As on the drawing: A572 Gr 50."`
	Family    string `json:"family" doc:"carbon steel, low-alloy steel, stainless steel or aluminium"`
	Thickness string `json:"thickness,omitempty" doc:"With its unit."`
}

// CertFields is a certificate that is demanded.
type CertFields struct {
	Type     string   `json:"type,omitempty" doc:"EN 10204: 2.1, 2.2, 3.1 or 3.2."`
	Schedule string   `json:"schedule,omitempty" doc:"AWS A5.01: F to K."`
	LotClass []string `json:"lot_class,omitempty" doc:"AWS A5.01, any of these."`
}

// OriginFields is an origin clause.
type OriginFields struct {
	Clause string   `json:"clause,omitempty" maxLength:"120"`
	Melted []string `json:"melted,omitempty" maxItems:"40" doc:"Countries that are allowed."`
	Made   []string `json:"made,omitempty" maxItems:"40" doc:"Countries that are allowed."`
}

func (b JobFields) job(f *faults) inventory.Job {
	j := inventory.Job{Number: b.Number, Name: b.Name, Procedures: b.Procedures, ProfileID: b.Profile, Site: inventory.Site(b.Site),
		Wind: measured(f, "wind", b.Wind, unit.ParseSpeed), WindKnown: b.Wind != "", Sheltered: b.Sheltered, Joint: b.Joint,
		Welds:       measuredAll(f, "welds", b.Welds, inventory.ParseWeld),
		Certificate: fit.Certificate{Type: b.Certificate.Type, Schedule: b.Certificate.Schedule, LotClass: inventory.LotClasses(b.Certificate.LotClass)},
		Origin:      fit.Origin{Clause: b.Origin.Clause, Melted: b.Origin.Melted, Made: b.Origin.Made}}
	for i, side := range b.BaseMetals {
		j.BaseMetals = append(j.BaseMetals, fit.BaseMetal{Name: side.Name, Family: side.Family})
		j.Plates = append(j.Plates, measured(f, "thickness_"+strconv.Itoa(i+1), side.Thickness, unit.ParseLength))
	}
	return j
}

type jobBody struct {
	Edit
	JobFields
}

func (b jobBody) entry(f *faults) inventory.JobEntry {
	return inventory.JobEntry{Edit: b.read(f, 0), Of: b.job(f)}
}

type jobEdit struct {
	EditSeen
	JobFields
}

func (b jobEdit) entryOf(f *faults, code inventory.Code) inventory.JobEntry {
	e := inventory.JobEntry{Edit: b.read(f, b.Version), Of: b.job(f)}
	e.Of.Code = code
	return e
}

type wholeJobView struct {
	Code string `json:"code"`
	JobFields
	Closed  bool `json:"closed"`
	Version int  `json:"version"`
}

func viewWholeJob(j inventory.Job) wholeJobView {
	v := wholeJobView{Code: string(j.Code), Closed: j.Closed, Version: j.Version, JobFields: JobFields{Number: j.Number, Name: j.Name, Procedures: j.Procedures,
		Profile: j.ProfileID, Site: string(j.Site), Sheltered: j.Sheltered, Joint: j.Joint,
		Certificate: CertFields{Type: j.Certificate.Type, Schedule: j.Certificate.Schedule, LotClass: inventory.LotClassList(j.Certificate.LotClass)},
		Origin:      OriginFields{j.Origin.Clause, j.Origin.Melted, j.Origin.Made}}}
	if j.WindKnown {
		v.Wind = j.Wind.String()
	}
	for _, w := range j.Welds {
		v.Welds = append(v.Welds, inventory.WeldText(w))
	}
	for i, m := range j.BaseMetals {
		side := SideFields{Name: m.Name, Family: m.Family}
		switch {
		case i < len(j.Plates):
			side.Thickness = lengthText(j.Plates[i])
		case i == 0:
			side.Thickness = lengthText(j.Thickness)
		}
		v.BaseMetals = append(v.BaseMetals, side)
	}
	return v
}
