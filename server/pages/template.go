package pages

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"strings"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// templates is one set for each page: the layout, the partials and the page.
// In development a set is parsed again each time it is used.
type templates struct {
	files fs.FS
	dev   bool
	funcs template.FuncMap
	sets  map[string]*template.Template
}

func newTemplates(files fs.FS, dev bool, clock clock, assets assets) (*templates, error) {
	t := &templates{files: files, dev: dev, sets: map[string]*template.Template{}, funcs: template.FuncMap{
		"asset":  assets.url,
		"styles": func() []string { return assets.styles },
		"stamp":  clock.stamp,
		"ago":    clock.ago,
		"until":  clock.until,
		"rule":   ruleName,
		"either": func(value string) string { return strings.ReplaceAll(value, "|", ", ") },
		"spaced": func(name string) string { return strings.ReplaceAll(name, "_", " ") },
	}}
	pages, err := fs.Glob(files, "templates/pages/*/page.html")
	if err != nil {
		return nil, fmt.Errorf("templates: %w", err)
	}
	for _, file := range pages {
		name := path.Base(path.Dir(file))
		if t.sets[name], err = t.parse(name); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func (t *templates) parse(page string) (*template.Template, error) {
	set := template.New("layout.html").Funcs(t.funcs).Option("missingkey=error")
	set, err := set.ParseFS(t.files, "templates/layout.html", "templates/partials/*.html", "templates/pages/"+page+"/page.html")
	if err != nil {
		return nil, fmt.Errorf("template of page %s: %w", page, err)
	}
	return set, nil
}

// part returns one template of the page's set as HTML, or an error and nothing.
func (t *templates) part(page, name string, content any) ([]byte, error) {
	var out bytes.Buffer
	if err := t.sets[page].ExecuteTemplate(&out, name, content); err != nil {
		return nil, fmt.Errorf("part %s of page %s: %w", name, page, err)
	}
	return out.Bytes(), nil
}

// render returns the page as HTML, or an error and nothing.
func (t *templates) render(page string, content any) ([]byte, error) {
	set, ok := t.sets[page]
	if !ok {
		return nil, fmt.Errorf("there is no template of page %s", page)
	}
	if t.dev {
		fresh, err := t.parse(page)
		if err != nil {
			return nil, err
		}
		set = fresh
	}
	var out bytes.Buffer
	if err := set.Execute(&out, content); err != nil {
		return nil, fmt.Errorf("page %s: %w", page, err)
	}
	return out.Bytes(), nil
}

// clock shows instants as the shop reads them.
type clock struct {
	zone *time.Location
	now  func() time.Time
}

// stamp writes an instant to the minute with its zone: "2026-11-25 07:10 UTC".
func (c clock) stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(c.zone).Format("2006-01-02 15:04 MST")
}

// until writes how far off a day is in the shop's zone: "in 12 days", "today",
// or "past".
func (c clock) until(d inventory.Day) string {
	today := inventory.DayOf(c.now().In(c.zone)).Time()
	switch days := int(d.Time().Sub(today).Hours()) / 24; {
	case days < 0:
		return "past"
	case days == 0:
		return "today"
	case days == 1:
		return "tomorrow"
	default:
		return fmt.Sprintf("in %d days", days)
	}
}

// ago writes how long ago an instant was, in the largest whole unit.
func (c clock) ago(t time.Time) string {
	d := c.now().Sub(t)
	switch {
	case d < time.Minute:
		return "just now"
	case d < time.Hour:
		return fmt.Sprintf("%d min ago", int(d.Minutes()))
	case d < 48*time.Hour:
		return fmt.Sprintf("%d h ago", int(d.Hours()))
	}
	return fmt.Sprintf("%d days ago", int(d.Hours())/24)
}

// ruleName writes a rule's id as a heading: "Base metal".
func ruleName(r fit.Rule) string {
	return capital(strings.ReplaceAll(string(r), "-", " "))
}

// capital writes text with its first letter large.
func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
