// Package api is the JSON API, described by OpenAPI 3.1 at /api/openapi.json.
//
// Every write is a use case of [inventory.Ledger]: there is no way round the
// fit check here. Errors are RFC 9457 problems. Weights are whole grams
// (..._g), lengths whole nanometres (..._nm), instants RFC 3339 in UTC.
package api

import (
	"context"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/server/problem"
)

// Catalog is what the API looks up.
type Catalog interface {
	inventory.Reader
	Spools(inventory.Query) ([]inventory.SpoolLine, error)
	SpoolLine(inventory.Code) (inventory.SpoolLine, error)
	Wires(inventory.Query) ([]inventory.WireLine, error)
	Lots(inventory.Query) ([]inventory.LotLine, error)
	Jobs(inventory.Query) ([]inventory.JobLine, error)
	Alerts(cleared bool) ([]inventory.Alert, error)
}

// Deps is what the API is made from.
type Deps struct {
	Ledger  *inventory.Ledger
	Catalog func(context.Context) Catalog
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
	h := &handlers{d}
	h.registerReads(a)
	h.registerWrites(a)
	h.registerCards(a)
}

type handlers struct{ Deps }

type requestID struct{}

// WithRequestID keeps the request's id for the problems that answer it.
func WithRequestID(ctx context.Context, id string) context.Context {
	return context.WithValue(ctx, requestID{}, id)
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
	return problem.From(err, idOf(ctx))
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
		message := detail.Message
		if message == "unexpected property" {
			message = "there is no such field here: check its spelling, or leave it out"
		}
		p.Errors = append(p.Errors, problem.Fault{Detail: message, Pointer: pointer(detail.Location)})
	}
	return p, nil
}

// unreadable is what can be wrong with a request that no use case ever saw.
var unreadable = map[int]struct{ code, title, detail string }{
	http.StatusBadRequest:            {"unreadable", "The body cannot be read", "Send one JSON object. Nothing was changed."},
	http.StatusRequestEntityTooLarge: {"body-too-large", "The body is too large", "A body holds at most 64 KiB, a table of wires 5 MB. Nothing was changed."},
	http.StatusUnsupportedMediaType:  {"not-json", "The body is not JSON", "Send application/json. Nothing was changed."},
	http.StatusUnprocessableEntity:   {"invalid-input", "The input makes no sense", "What is wrong with each field stands under errors. Nothing was changed."},
}

// pointer turns "body.gross_g" into "#/gross_g".
func pointer(location string) string {
	path := strings.TrimPrefix(strings.TrimPrefix(location, "body"), ".")
	return "#/" + strings.ReplaceAll(path, ".", "/")
}

// codeOf reads the code of a thing of kind k from a path or body, naming the
// field it came in.
func codeOf(k inventory.CodeKind, field, text string) (inventory.Code, error) {
	c, err := inventory.ParseCodeOf(k, text)
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
