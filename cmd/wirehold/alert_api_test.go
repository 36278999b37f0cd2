package main

import (
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestAlertsByAPI takes alerts, messages and who is told through the API.
func TestAlertsByAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	standing := must(s.store.Catalog(t.Context()).Alerts(inventory.AlertQuery{Kind: inventory.ReorderAlert, Limit: 1}))(t)
	dead := must(s.store.Catalog(t.Context()).Messages(inventory.MessageQuery{State: inventory.MessageDead, Limit: 1}))(t)
	if len(standing) != 1 || len(dead) != 1 {
		t.Fatalf("the yard has %d alerts of a wire to order and %d messages given up, want one of each at least", len(standing), len(dead))
	}
	fill := strings.NewReplacer("{owner}", string(s.withRole(inventory.Owner)[0].Code), "{engineer}", string(s.withRole(inventory.Engineer)[0].Code), "{welder}", string(s.withRole(inventory.Welder)[1].Code),
		"{alert}", fmt.Sprint(standing[0].ID), "{message}", fmt.Sprint(dead[0].ID))
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    string
	}{
		{"those of a kind", "GET", "/alerts?kind=certificate+missing", "", 200, `"about":"lot"`},
		{"no such kind", "GET", "/alerts?kind=weather", "", 422, `"parameter":"kind"`},
		{"those that were cleared", "GET", "/alerts?cleared=true&limit=3", "", 200, `"cleared_at"`},
		{"one is seen", "POST", "/alerts/{alert}/seen", `{"person":"{welder}"}`, 200, `"person":"{welder}"`},
		{"by no badge", "POST", "/alerts/{alert}/seen", `{"person":"x"}`, 422, "#/person"},
		{"it says so", "GET", "/alerts/{alert}", "", 200, `"person":"{welder}"`},
		{"no such alert", "GET", "/alerts/99999", "", 404, "/problems/no-such-alert"},
		{"what was given up", "GET", "/messages?state=given+up", "", 200, `"fault":"it answered 403 Forbidden"`},
		{"a welder has nothing tried again", "POST", "/messages/{message}/again", `{"person":"{welder}"}`, 403, "/problems/may-not-retry"},
		{"the engineer does", "POST", "/messages/{message}/again", `{"person":"{engineer}"}`, 200, `"state":"waiting"`},
		{"but once", "POST", "/messages/{message}/again", `{"person":"{engineer}"}`, 409, "/problems/message-not-given-up"},
		{"the shop", "GET", "/shop", "", 200, `"shift_ends":["Mon-Fri 15:30"],"grace_min":30,"quiet":"20:00-06:00","near_before_min":240`},
		{"it is changed", "PUT", "/shop", `{"person":"{engineer}","request_key":"a1","version":2,"shift_ends":["Mon-Thu 16:00","Fri 13:00"],"grace_min":15,"near_before_min":120,"shelf_before_d":45}`, 200, `"version":3`},
		{"with a grace that is too long", "PUT", "/shop", `{"person":"{engineer}","request_key":"a2","version":3,"grace_min":1000,"near_before_min":120,"shelf_before_d":45}`, 422, "#/grace_min"},
		{"with days that are none", "PUT", "/shop", `{"person":"{engineer}","request_key":"a3","version":3,"shift_ends":["Fry 13:00"],"grace_min":10,"near_before_min":120,"shelf_before_d":45}`, 422, "#/shift_ends"},
		{"nobody chose for the welder yet", "GET", "/people/{welder}/alerts", "", 200, `"version":0`},
		{"they do", "PUT", "/people/{welder}/alerts", `{"person":"{welder}","request_key":"a4","version":0,"email":"hand@yard.example","kinds":["exposure","not returned"]}`, 200, `"version":1`},
		{"nobody else", "PUT", "/people/{owner}/alerts", `{"person":"{welder}","request_key":"a5","version":0,"email":"x@yard.example"}`, 403, "/problems/may-not-change-contact"},
		{"a webhook", "POST", "/webhooks", `{"person":"{owner}","request_key":"a6","name":"Two","url":"http://127.0.0.1:9/x","secret":"0123456789abcdef","kinds":["reorder"]}`, 200, `"id":2`},
		{"of a scheme that is none", "POST", "/webhooks", `{"person":"{owner}","request_key":"a7","name":"Three","url":"gopher://x","secret":"0123456789abcdef","kinds":["reorder"]}`, 422, "#/url"},
		{"is edited without its secret", "PUT", "/webhooks/2", `{"person":"{owner}","request_key":"a8","version":1,"name":"Second","url":"http://127.0.0.1:9/x","kinds":["reorder","waiver"]}`, 200, `"name":"Second"`},
		{"and retired", "POST", "/webhooks/2/retire", `{"person":"{owner}","request_key":"a9"}`, 200, "retired_at"},
	}
	for _, tt := range steps {
		status, _, answer := s.do(t, tt.method, "/api/v1"+fill.Replace(tt.path), "application/json", fill.Replace(tt.body))
		if status != tt.status || !strings.Contains(answer, fill.Replace(tt.holds)) {
			t.Errorf("%s: %s %s: status %d, want %d and %q\n%s", tt.name, tt.method, tt.path, status, tt.status, fill.Replace(tt.holds), answer)
		}
		if strings.Contains(answer, "0123456789abcdef") {
			t.Errorf("%s: the answer has the secret", tt.name)
		}
	}
}
