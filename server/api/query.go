package api

import (
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"
)

// knownQuery refuses an address with a parameter that the operation does not
// know: a check whose feeder is misspelt would answer for none, and nobody would
// see it.
func knownQuery(a huma.API) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		at := ctx.URL()
		var faults []error
		for name := range at.Query() {
			if !slices.ContainsFunc(ctx.Operation().Parameters, func(p *huma.Param) bool { return p.In == "query" && p.Name == name }) {
				faults = append(faults, &huma.ErrorDetail{Message: unexpected, Location: "query." + name})
			}
		}
		if faults == nil {
			next(ctx)
			return
		}
		_ = huma.WriteErr(a, ctx, http.StatusUnprocessableEntity, "", faults...) // it says by itself what it could not write
	}
}

// unexpected is what the framework says of a field of a body that it does not
// know.
const unexpected = "unexpected property"
