package pages

import (
	"io/fs"
	"path"
	"reflect"
	"strings"
	"testing"
	"time"

	"wirehold/web"
)

// everyPage has the struct of each page under the name of its template.
var everyPage = map[string]any{
	"alerts": AlertsPage{}, "alert": AlertPage{}, "messages": MessagesPage{}, "told": ToldPage{}, "card": CardPage{}, "compare": ComparePage{}, "names": NamesPage{}, "counter": CounterPage{}, "decode": DecodePage{}, "fail": FailPage{}, "find": FindPage{}, "import": ImportPage{},
	"job": JobPage{}, "jobs": JobsPage{}, "load": LoadPage{}, "lot": LotPage{}, "lots": LotsPage{}, "entry": EntryPage{}, "record": RecordPage{}, "list": ListPage{}, "procedures": ProceduresPage{}, "procedure": ProcedurePage{}, "problem": ProblemPage{},
	"label": LabelPage{}, "printjobs": PrintJobsPage{},
	"receiving": ReceivingPage{}, "returns": ReturnsPage{}, "spool": SpoolPage{}, "spools": SpoolsPage{}, "wire": WirePage{}, "wires": WiresPage{},
	"board": BoardPage{}, "schedule": SchedulePage{}, "scheduledjob": ScheduledJobPage{},
	"wireform": WireFormPage{},
	"climate":  ClimatePage{}, "climates": ClimatesPage{},
	"waivers": WaiversPage{}, "waiver": WaiverPage{}, "waiverask": WaiverAskPage{}, "profiles": ProfilesPage{}, "profile": ProfilePage{},
}

// TestTemplatesTakeTheirStruct runs every template with its page's struct:
// empty, and with everything in it that it can hold, so that a field that a
// template names and the struct lacks is found on either side of a choice.
func TestTemplatesTakeTheirStruct(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 11, 25, 7, 10, 0, 0, time.UTC)
	sets, err := newTemplates(web.Files, false, clock{time.UTC, func() time.Time { return at }}, assets{hash: "0"})
	if err != nil {
		t.Fatalf("newTemplates: %v", err)
	}
	for name, page := range everyPage {
		for _, filled := range []bool{false, true} {
			v := reflect.New(reflect.TypeOf(page)).Elem()
			if filled {
				fill(v, at)
			}
			html, err := sets.render(name, v.Interface())
			if err != nil {
				t.Errorf("render(%q, filled %t): %v", name, filled, err)
			}
			if !strings.HasSuffix(strings.TrimSpace(string(html)), "</html>") {
				t.Errorf("render(%q, filled %t) ends before the page does", name, filled)
			}
		}
	}
	files, err := fs.Glob(web.Files, "templates/pages/*/page.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if name := path.Base(path.Dir(file)); everyPage[name] == nil {
			t.Errorf("%s has no struct in this test", file)
		}
	}
}

// fill puts something into everything that v holds.
func fill(v reflect.Value, at time.Time) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), at)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), at)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(at))
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(v.Field(i), at)
			}
		}
	case reflect.String:
		v.SetString("words")
	case reflect.Int, reflect.Int64:
		v.SetInt(1)
	case reflect.Bool:
		v.SetBool(true)
	}
}
