// Package api is the JSON API, described by OpenAPI 3.1 at /api/openapi.json.
//
// Every write is a use case of [inventory.Ledger]: there is no way round the
// fit check here. Errors are RFC 9457 problems. Weights are whole grams
// (..._g), lengths whole nanometres (..._nm), instants RFC 3339 in UTC.
package api

import (
	"context"
	"errors"
	"net/http"
	"reflect"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/labels"
	"wirehold/server/problem"
)

// Catalog is what the API looks up.
type Catalog interface {
	inventory.Reader
	labels.Register
	Spools(inventory.Query) ([]inventory.SpoolLine, error)
	SpoolLine(inventory.Code) (inventory.SpoolLine, error)
	Wires(inventory.Query) ([]inventory.WireLine, error)
	Lots(inventory.Query) ([]inventory.LotLine, error)
	Jobs(inventory.Query) ([]inventory.JobLine, error)
	Places() ([]inventory.Place, error)
	Feeders() ([]inventory.Feeder, error)
	Procedures(inventory.Query) ([]inventory.ProcedureLine, error)
}

// Deps is what the API is made from.
type Deps struct {
	Ledger  *inventory.Ledger
	Catalog func(context.Context) Catalog
	Now     func() time.Time
	Press   *labels.Press // draws labels
	Shop    labels.Shop   // what they say of the shop
	// Schedule runs the jobs that recur; nil if this program runs none.
	Schedule Schedule
	// AskPrinter asks the printer at an address what it is and does; nil if this
	// program prints nothing.
	AskPrinter func(ctx context.Context, address string) (inventory.PrinterAnswer, error)
	// Failed is told of every error that is our fault, with the request it
	// failed: the answer says nothing of it.
	Failed func(ctx context.Context, err error)
}

// MaxBody is the most that a request's body may hold, in bytes.
const MaxBody = 64 << 10

// Register adds the API to r, below /api.
func Register(r *gin.Engine, d Deps) {
	config := huma.DefaultConfig("Wirehold", "1")
	config.Info.Description = "The ledger and gate of a welding-wire store. An aid: local codes, the contract and qualified people decide."
	config.OpenAPIPath, config.DocsPath, config.SchemasPath = "/api/openapi", "", "/api/schemas"
	config.Transformers = []huma.Transformer{asProblem}
	config.CreateHooks = nil // no $schema member: a body holds what it is about
	a := humagin.New(r, config)
	a.UseMiddleware(knownQuery(a))
	h := &handlers{d}
	h.registerReads(a)
	h.registerWrites(a)
	h.registerImport(a)
	h.registerWires(a)
	h.registerCards(a)
	h.registerLoads(a)
	h.registerWaivers(a)
	h.registerProfiles(a)
	h.registerRecords(a)
	h.registerLabels(a)
	h.registerLots(a)
	h.registerClimate(a)
	h.registerScans(a)
	h.registerPrinters(a)
	h.registerAlerts(a)
	h.registerBoard(a)
	h.registerSchedule(a)
	describeProblems(a.OpenAPI())
}

// describeProblems makes every operation's error the problem that is really
// sent.
func describeProblems(o *huma.OpenAPI) {
	schema := o.Components.Schemas.Schema(reflect.TypeFor[problem.Problem](), true, "Problem")
	for _, path := range o.Paths {
		for _, op := range []*huma.Operation{path.Get, path.Post, path.Put, path.Delete} {
			if op == nil {
				continue
			}
			for status, response := range op.Responses {
				if status != "200" && status != "204" {
					response.Content = map[string]*huma.MediaType{"application/problem+json": {Schema: schema}}
				}
			}
		}
	}
	delete(o.Components.Schemas.Map(), "ErrorModel")
	delete(o.Components.Schemas.Map(), "ErrorDetail")
}

type handlers struct{ Deps }

type (
	requestID struct{}
	bodiless  struct{}
	languages struct{}
)

// WithRequest keeps the request's id for the problems that answer it, whether
// its method has a body that they could point into, and the languages that are
// wanted.
func WithRequest(ctx context.Context, id, method, accept string) context.Context {
	ctx = context.WithValue(ctx, languages{}, accept)
	return context.WithValue(context.WithValue(ctx, requestID{}, id), bodiless{}, method == http.MethodGet)
}

// languageOf is the language in which findings are wanted.
func languageOf(ctx context.Context) fit.Language {
	accept, _ := ctx.Value(languages{}).(string)
	return problem.Language(accept)
}

func idOf(ctx context.Context) string {
	id, _ := ctx.Value(requestID{}).(string)
	return id
}

// fail makes err the problem that answers it.
func (h *handlers) fail(ctx context.Context, err error) error {
	if inventory.KindOf(err) == inventory.Internal {
		h.Failed(ctx, err)
	}
	p := problem.In(languageOf(ctx), err, idOf(ctx))
	noBody, _ := ctx.Value(bodiless{}).(bool)
	for i, f := range p.Errors {
		field := strings.TrimPrefix(f.Pointer, "#/")
		switch {
		case noBody || inPath[field]:
			p.Errors[i].Pointer, p.Errors[i].Parameter = "", field
		default:
			p.Errors[i].Pointer = "#/" + bodyField(field)
		}
	}
	return p
}

// bodyField is where a body holds a field of the domain: "procedure_ids/1" for
// the second procedure of a job.
func bodyField(field string) string {
	if known := inBody[field]; known != "" {
		return known
	}
	if n, isProcedure := strings.CutPrefix(field, "procedure_"); isProcedure {
		if i, err := strconv.Atoi(n); err == nil {
			return "procedure_ids/" + strconv.Itoa(i-1)
		}
	}
	return field
}

// asProblem makes what the framework itself finds wrong with a request a
// problem like every other.
func asProblem(ctx huma.Context, _ string, v any) (any, error) {
	e, ok := v.(*huma.ErrorModel)
	if !ok {
		return v, nil
	}
	known, ok := unreadable[e.Status]
	if !ok {
		known = unreadable[http.StatusUnprocessableEntity]
	}
	p := problem.Problem{Type: "/problems/" + known.code, Title: known.title, Status: e.Status, Detail: known.detail, RequestID: idOf(ctx.Context())}
	for _, detail := range e.Errors {
		p.Errors = append(p.Errors, fault(detail))
	}
	return p, nil
}

// fault says in our words what the framework finds wrong with a field.
func fault(detail *huma.ErrorDetail) problem.Fault {
	f := problem.Fault{Detail: detail.Message}
	switch {
	case detail.Message == unexpected:
		f.Detail = "there is no such field here: check its spelling, or leave it out"
	case strings.Contains(detail.Message, "Go struct field"), strings.Contains(detail.Message, "Go value"):
		f.Detail = "a value is not of the sort that /api/openapi.json asks for"
	}
	place, name, found := strings.Cut(detail.Location, ".")
	switch {
	case place == "query" || place == "path" || place == "header":
		f.Parameter = name
	case found:
		f.Pointer = "#/" + strings.ReplaceAll(name, ".", "/")
	default:
		f.Pointer = "#/"
	}
	return f
}

// inBody is what a field of the domain is called in a body, where the API adds
// the unit.
var inBody = map[string]string{"near_before": "near_before_min", "grace": "grace_min", "shelf_before": "shelf_before_d", "max_gap": "max_gap_s", "gross": "gross_g", "net": "net_g", "tare": "tare_g", "minimum": "minimum_g",
	"largest_package": "largest_package_g", "plates": "base_metals",
	"metal_1": "base_metals/0/name", "family_1": "base_metals/0/family", "thickness_1": "base_metals/0/thickness",
	"metal_2": "base_metals/1/name", "family_2": "base_metals/1/family", "thickness_2": "base_metals/1/thickness",
	"certificate_type": "certificate/type", "certificate_schedule": "certificate/schedule", "certificate_lot_class": "certificate/lot_class",
	"papers_type": "papers/type", "papers_schedule": "papers/schedule", "papers_lot_class": "papers/lot_class", "papers_tested_on": "papers/tested_on",
	"papers_melted_in": "papers/melted_in", "papers_made_in": "papers/made_in", "papers_made_on": "papers/made_on", "papers_expires_on": "papers/expires_on",
	"papers_sealing": "papers/sealing", "papers_tested_exposure": "papers/tested_exposure",
	"origin_clause": "origin/clause", "origin_melted": "origin/melted", "origin_made": "origin/made"}

// inPath are the parameters that stand in the path or the query.
var inPath = map[string]bool{"code": true, "d": true, "spool": true, "state": true}

// unreadable is what can be wrong with a request that no use case ever saw.
var unreadable = map[int]struct{ code, title, detail string }{
	http.StatusBadRequest:            {"unreadable", "The body cannot be read", "Send one JSON object. Nothing was changed."},
	http.StatusRequestEntityTooLarge: {"body-too-large", "The body is too large", "A body holds at most 64 KiB, a table of wires 5 MB. Nothing was changed."},
	http.StatusUnsupportedMediaType:  {"not-json", "The body is not JSON", "Send application/json. Nothing was changed."},
	http.StatusUnprocessableEntity:   {"invalid-input", "The input makes no sense", "What is wrong with each field stands under errors. Nothing was changed."},
}

// codeOf reads the code of a thing of kind k from a path or body, naming the
// field it came in.
func codeOf(k inventory.CodeKind, field, text string) (inventory.Code, error) {
	c, err := labels.ReadCode(k, text)
	if err != nil {
		return "", inventory.Invalidf(field, "%s", detailOf(err))
	}
	return c, nil
}

// optionalCode is codeOf for a field that may be left out.
func optionalCode(k inventory.CodeKind, field, text string) (inventory.Code, error) {
	if text == "" {
		return "", nil
	}
	return codeOf(k, field, text)
}

// NotFound answers an address below /api that nothing serves.
func NotFound(c *gin.Context) {
	answer(c, problem.From(inventory.NotFoundf("no-such-address", "nothing answers at %s: /api/openapi.json lists what does", c.Request.URL.Path), idOf(c.Request.Context())))
}

// NotAllowed answers a method that the address does not take.
func NotAllowed(c *gin.Context) {
	answer(c, problem.Problem{Type: "/problems/method-not-allowed", Title: "The address does not take this method", Status: http.StatusMethodNotAllowed,
		Detail: "/api/openapi.json lists the methods of each address. Nothing was changed.", RequestID: idOf(c.Request.Context())})
}

func answer(c *gin.Context, p problem.Problem) {
	c.Header("Content-Type", p.ContentType(""))
	c.JSON(p.Status, p)
	c.Abort()
}

// Failed answers a bug in the program, which has been logged.
func Failed(c *gin.Context) {
	answer(c, problem.From(errors.New("panic"), idOf(c.Request.Context())))
}
