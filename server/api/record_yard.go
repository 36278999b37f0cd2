package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

func (h *handlers) registerYard(a huma.API, bounded func(*huma.Operation)) {
	huma.Get(a, "/api/v1/people", all(h, Catalog.People, viewPerson))
	huma.Post(a, "/api/v1/people", entered[personBody](h, h.Ledger.EnterPerson, viewPerson), bounded)
	huma.Get(a, "/api/v1/people/{code}", one(h, inventory.PersonCode, Catalog.Person, viewPerson))
	huma.Put(a, "/api/v1/people/{code}", edited[personEdit](h, inventory.PersonCode, h.Ledger.ChangePerson, viewPerson), bounded)
	huma.Post(a, "/api/v1/people/{code}/retire", switched(h, inventory.PersonCode, h.Ledger.RetirePerson, true, viewPerson), bounded)
	huma.Post(a, "/api/v1/people/{code}/reinstate", switched(h, inventory.PersonCode, h.Ledger.RetirePerson, false, viewPerson), bounded)
	huma.Get(a, "/api/v1/people/{code}/changes", changesOf(h, inventory.PersonRecord, inventory.PersonCode))

	huma.Get(a, "/api/v1/places", all(h, Catalog.Places, viewPlace))
	huma.Post(a, "/api/v1/places", entered[placeBody](h, h.Ledger.EnterPlace, viewPlace), bounded)
	huma.Get(a, "/api/v1/places/{code}", one(h, inventory.PlaceCode, Catalog.Place, viewPlace))
	huma.Put(a, "/api/v1/places/{code}", edited[placeEdit](h, inventory.PlaceCode, h.Ledger.ChangePlace, viewPlace), bounded)
	huma.Get(a, "/api/v1/places/{code}/changes", changesOf(h, inventory.PlaceRecord, inventory.PlaceCode))

	huma.Get(a, "/api/v1/feeders", all(h, Catalog.Feeders, viewFeeder))
	huma.Post(a, "/api/v1/feeders", entered[feederBody](h, h.Ledger.EnterFeeder, viewFeeder), bounded)
	huma.Get(a, "/api/v1/feeders/{code}", one(h, inventory.FeederCode, Catalog.Feeder, viewFeeder))
	huma.Put(a, "/api/v1/feeders/{code}", edited[feederEdit](h, inventory.FeederCode, h.Ledger.ChangeFeeder, viewFeeder), bounded)
	huma.Get(a, "/api/v1/feeders/{code}/changes", changesOf(h, inventory.FeederRecord, inventory.FeederCode))
}

// all answers a list that is given whole.
func all[From, To any](h *handlers, find func(Catalog) ([]From, error), view func(From) To) func(context.Context, *struct{}) (*bodyOf[listOf[To]], error) {
	return func(ctx context.Context, _ *struct{}) (*bodyOf[listOf[To]], error) {
		items, err := find(h.Catalog(ctx))
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return list(items, view), nil
	}
}

// one answers the thing that the code in the path names.
func one[From, To any](h *handlers, kind inventory.CodeKind, find func(Catalog, inventory.Code) (From, error), view func(From) To) func(context.Context, *byCode) (*bodyOf[To], error) {
	return func(ctx context.Context, in *byCode) (*bodyOf[To], error) {
		code, err := codeOf(kind, "code", in.Code)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		thing, err := find(h.Catalog(ctx), code)
		return answered(ctx, h, thing, err, view)
	}
}

// PersonFields is what is entered of a person.
type PersonFields struct {
	Name string `json:"name" maxLength:"120"`
	Role string `json:"role" enum:"store attendant,welder,buyer,welding engineer,owner"`
}

type personBody struct {
	Person     string `json:"person,omitempty" doc:"The owner's badge code. Left out only while nobody is entered: the first person is the owner."`
	RequestKey string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated: a repeated request changes nothing."`
	PersonFields
}

func (b personBody) entry(f *faults) inventory.PersonEntry {
	person, err := optionalCode(inventory.PersonCode, "person", b.Person)
	f.add("person", err)
	return inventory.PersonEntry{Edit: inventory.Edit{Person: person, RequestKey: b.RequestKey}, Of: inventory.Person{Name: b.Name, Role: inventory.Role(b.Role)}}
}

type personEdit struct {
	EditSeen
	PersonFields
}

func (b personEdit) entryOf(f *faults, code inventory.Code) inventory.PersonEntry {
	return inventory.PersonEntry{Edit: b.read(f, b.Version), Of: inventory.Person{Code: code, Name: b.Name, Role: inventory.Role(b.Role)}}
}

type personView struct {
	Code      string     `json:"code"`
	Name      string     `json:"name"`
	Role      string     `json:"role"`
	RetiredAt *time.Time `json:"retired_at,omitempty" doc:"Since when the badge is refused."`
	Version   int        `json:"version"`
}

func viewPerson(p inventory.Person) personView {
	return personView{string(p.Code), p.Name, string(p.Role), known(p.RetiredAt), p.Version}
}

// PlaceFields is what is entered of a place.
type PlaceFields struct {
	Name    string `json:"name" maxLength:"120"`
	Kind    string `json:"kind" enum:"shelf,dry cabinet,quarantine rack"`
	DryKept bool   `json:"dry_kept"`
}

func (b PlaceFields) place() inventory.Place {
	return inventory.Place{Name: b.Name, Kind: inventory.PlaceKind(b.Kind), DryKept: b.DryKept}
}

type placeBody struct {
	Edit
	PlaceFields
}

func (b placeBody) entry(f *faults) inventory.PlaceEntry {
	return inventory.PlaceEntry{Edit: b.read(f, 0), Of: b.place()}
}

type placeEdit struct {
	EditSeen
	PlaceFields
}

func (b placeEdit) entryOf(f *faults, code inventory.Code) inventory.PlaceEntry {
	e := inventory.PlaceEntry{Edit: b.read(f, b.Version), Of: b.place()}
	e.Of.Code = code
	return e
}

type placeView struct {
	Code    string `json:"code"`
	Name    string `json:"name"`
	Kind    string `json:"kind"`
	DryKept bool   `json:"dry_kept"`
	Version int    `json:"version"`
}

func viewPlace(p inventory.Place) placeView {
	return placeView{string(p.Code), p.Name, string(p.Kind), p.DryKept, p.Version}
}

// FeederFields is what is entered of a feeder. What is left out is not known.
type FeederFields struct {
	Name            string   `json:"name" maxLength:"120"`
	DryKept         bool     `json:"dry_kept"`
	Polarities      []string `json:"polarities,omitempty" doc:"What its source can give: DCEP, DCEN, AC."`
	Polarity        string   `json:"polarity,omitempty" doc:"As it is set now."`
	Gas             string   `json:"gas,omitempty" doc:"What is connected: 75 Ar 25 CO2, CO2, or none."`
	Diameters       []string `json:"diameters,omitempty" maxItems:"40" doc:"The sizes its rolls and liner take, with their unit: .045 in."`
	Rolls           string   `json:"rolls,omitempty" doc:"knurled V, smooth V or U groove"`
	RollSize        string   `json:"roll_size,omitempty" doc:"With its unit."`
	Gun             string   `json:"gun,omitempty" doc:"The thickest wire its gun takes, with its unit."`
	Liner           string   `json:"liner,omitempty" doc:"The thickest wire its liner takes, with its unit."`
	Packages        []string `json:"packages,omitempty" maxItems:"40" doc:"That its hub takes: 12 in spool, drum."`
	LargestPackageG int64    `json:"largest_package_g,omitempty" minimum:"0" doc:"Wire in the heaviest package it carries, in grams."`
}

func (b FeederFields) feeder(f *faults) inventory.Feeder {
	out := inventory.Feeder{Place: inventory.Place{Name: b.Name, DryKept: b.DryKept}, Polarities: asWords[fit.Polarity](b.Polarities), Polarity: fit.Polarity(b.Polarity),
		Gas: gasOf(f, b.Gas), Diameters: measuredAll(f, "diameters", b.Diameters, unit.ParseLength), Rolls: fit.Rolls(b.Rolls),
		RollSize: measured(f, "roll_size", b.RollSize, unit.ParseLength), Gun: measured(f, "gun", b.Gun, unit.ParseLength),
		Liner: measured(f, "liner", b.Liner, unit.ParseLength), LargestPackage: unit.Grams(b.LargestPackageG)}
	for _, text := range b.Packages {
		p, ok := fit.ParsePackage(text)
		if !ok {
			f.add("packages", inventory.Invalidf("packages", "name a spool, coil or drum with its size, such as 12 in spool"))
		}
		out.Packages = append(out.Packages, p)
	}
	return out
}

type feederBody struct {
	Edit
	FeederFields
}

func (b feederBody) entry(f *faults) inventory.FeederEntry {
	return inventory.FeederEntry{Edit: b.read(f, 0), Of: b.feeder(f)}
}

type feederEdit struct {
	EditSeen
	FeederFields
}

func (b feederEdit) entryOf(f *faults, code inventory.Code) inventory.FeederEntry {
	e := inventory.FeederEntry{Edit: b.read(f, b.Version), Of: b.feeder(f)}
	e.Of.Code = code
	return e
}

type feederView struct {
	Code string `json:"code"`
	FeederFields
	Version int `json:"version"`
}

func viewFeeder(f inventory.Feeder) feederView {
	v := feederView{Code: string(f.Code), Version: f.Version, FeederFields: FeederFields{Name: f.Name, DryKept: f.DryKept, Polarities: asTexts(f.Polarities),
		Polarity: string(f.Polarity), Gas: gasText(f.Gas), Diameters: lengthTexts(f.Diameters), Rolls: string(f.Rolls), RollSize: lengthText(f.RollSize),
		Gun: lengthText(f.Gun), Liner: lengthText(f.Liner), LargestPackageG: int64(f.LargestPackage)}}
	for _, p := range f.Packages {
		v.Packages = append(v.Packages, p.String())
	}
	return v
}
