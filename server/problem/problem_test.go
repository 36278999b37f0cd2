package problem

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

func TestEveryKindHasItsAnswer(t *testing.T) {
	tests := []struct {
		kind   inventory.Kind
		status int
	}{
		{inventory.Invalid, 422}, {inventory.Forbidden, 403}, {inventory.NotFound, 404}, {inventory.Conflict, 409},
		{inventory.Refused, 409}, {inventory.Unavailable, 503}, {inventory.Internal, 500},
	}
	if len(tests) != len(kinds) {
		t.Errorf("%d kinds are tried, %d have an answer", len(tests), len(kinds))
	}
	for _, tt := range tests {
		p := From(&inventory.Error{Kind: tt.kind, Code: "some-code", Detail: "some detail"}, "id")
		if p.Status != tt.status || p.Title == "" || p.RequestID != "id" || p.GetStatus() != tt.status {
			t.Errorf("From(%s) = %+v, want status %d", tt.kind, p, tt.status)
		}
		if again := p.GetHeaders().Get("Retry-After"); (again != "") != (tt.kind == inventory.Unavailable) {
			t.Errorf("From(%s) says Retry-After %q", tt.kind, again)
		}
	}
}

func TestWhatIsOurFaultShowsNothing(t *testing.T) {
	const secret = "pq: password of shop is hunter2"
	for _, err := range []error{
		errors.New(secret),
		fmt.Errorf("read: %w", errors.New(secret)),
		&inventory.Error{Kind: inventory.Internal, Code: "x", Detail: secret},
		&inventory.Error{Kind: inventory.Conflict, Code: "spool-out", Detail: "it is out", Err: errors.New(secret)},
	} {
		p := From(err, "id")
		if strings.Contains(fmt.Sprintf("%+v", p), "hunter2") {
			t.Errorf("From(%v) shows the cause: %+v", err, p)
		}
	}
}

func TestFromKeepsFieldsAndFindings(t *testing.T) {
	e := &inventory.Error{Kind: inventory.Refused, Code: "does-not-fit", Detail: "no",
		Fields: []inventory.FieldFault{{Field: "gross", Detail: "too much"}},
		Findings: []fit.Finding{{Rule: fit.RuleGas, Outcome: fit.Stops, Says: "Shut the gas.",
			Demanded: fit.Claim{Text: "CO2 100 %", Source: "procedure WPS-1"}, Offered: fit.Claim{Text: "none", Source: "AWS A5.20", Provenance: filler.Published}}}}
	want := Problem{Type: "/problems/does-not-fit", Title: "A rule says no", Status: 409, Detail: "no", RequestID: "id",
		Errors:   []Fault{{Detail: "too much", Pointer: "#/gross"}},
		Findings: []Finding{{"gas", "stops", Claim{Text: "CO2 100 %", Source: "procedure WPS-1"}, Claim{"none", "AWS A5.20", "published"}, "Shut the gas."}}}
	if diff := cmp.Diff(want, From(fmt.Errorf("issue: %w", e), "id")); diff != "" {
		t.Errorf("From (-want +got):\n%s", diff)
	}
}

func TestATimeOutIsNobodysFault(t *testing.T) {
	if p := From(fmt.Errorf("read: %w", context.DeadlineExceeded), ""); p.Status != 503 {
		t.Errorf("From(deadline exceeded) = %+v, want 503", p)
	}
}
