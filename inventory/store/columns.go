package store

import (
	"database/sql"
	"strconv"
	"strings"
	"time"

	"gorm.io/gorm"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// seconds is an instant as the database keeps it; NULL for the zero time.
func seconds(t time.Time) sql.NullInt64 {
	return sql.NullInt64{Int64: t.Unix(), Valid: !t.IsZero()}
}

// instant reads what seconds wrote.
func instant(n sql.NullInt64) time.Time {
	if !n.Valid {
		return time.Time{}
	}
	return time.Unix(n.Int64, 0).UTC()
}

// nullable is a code as a foreign key: NULL for no code.
func nullable(c inventory.Code) sql.NullString {
	return sql.NullString{String: string(c), Valid: c != ""}
}

func code(s sql.NullString) inventory.Code { return inventory.Code(s.String) }

func grams(g *unit.Grams) sql.NullInt64 {
	if g == nil {
		return sql.NullInt64{}
	}
	return sql.NullInt64{Int64: int64(*g), Valid: true}
}

func gramsFrom(n sql.NullInt64) *unit.Grams {
	if !n.Valid {
		return nil
	}
	g := unit.Grams(n.Int64)
	return &g
}

// lines writes a list one item a line.
func lines[T ~string](items []T) string {
	texts := make([]string, len(items))
	for i, item := range items {
		texts[i] = string(item)
	}
	return strings.Join(texts, "\n")
}

// items reads what lines wrote; nil for an empty text.
func items[T ~string](s string) []T {
	if s == "" {
		return nil
	}
	var out []T
	for line := range strings.SplitSeq(s, "\n") {
		out = append(out, T(line))
	}
	return out
}

func lengths(ls []unit.Length) string {
	texts := make([]string, len(ls))
	for i, l := range ls {
		texts[i] = strconv.FormatInt(int64(l), 10)
	}
	return lines(texts)
}

func lengthsFrom(s string) ([]unit.Length, error) {
	var out []unit.Length
	for _, text := range items[string](s) {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			return nil, err
		}
		out = append(out, unit.Length(n))
	}
	return out, nil
}

// gas writes a gas by parts of a hundred: "75 25 0 0" for argon, CO2, oxygen
// and helium; NULL for no demand or not known.
func gas(g *fit.Gas) sql.NullString {
	if g == nil {
		return sql.NullString{}
	}
	parts := []string{strconv.Itoa(g.Argon), strconv.Itoa(g.CO2), strconv.Itoa(g.Oxygen), strconv.Itoa(g.Helium)}
	return sql.NullString{String: strings.Join(parts, " "), Valid: true}
}

func gasFrom(s sql.NullString) (*fit.Gas, error) {
	if !s.Valid {
		return nil, nil
	}
	g := &fit.Gas{}
	fields := strings.Fields(s.String)
	for i, to := range []*int{&g.Argon, &g.CO2, &g.Oxygen, &g.Helium} {
		if i >= len(fields) {
			return nil, strconv.ErrSyntax
		}
		n, err := strconv.Atoi(fields[i])
		if err != nil {
			return nil, err
		}
		*to = n
	}
	return g, nil
}

func baseMetals(ms []fit.BaseMetal) string {
	texts := make([]string, len(ms))
	for i, m := range ms {
		texts[i] = m.Name + "\t" + m.Family
	}
	return lines(texts)
}

func baseMetalsFrom(s string) []fit.BaseMetal {
	var out []fit.BaseMetal
	for _, line := range items[string](s) {
		name, family, _ := strings.Cut(line, "\t")
		out = append(out, fit.BaseMetal{Name: name, Family: family})
	}
	return out
}

// oneLine writes what lines wrote on one line.
func oneLine(s string) string { return strings.ReplaceAll(s, "\n", " ") }

// welds writes weld a line each, as a drawing would.
func welds(ws []fit.Weld) string {
	texts := make([]string, len(ws))
	for i, w := range ws {
		texts[i] = inventory.WeldText(w)
	}
	return lines(texts)
}

func weldsFrom(s string) ([]fit.Weld, error) {
	var out []fit.Weld
	for _, line := range items[string](s) {
		w, err := inventory.ParseWeld(line)
		if err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	return out, nil
}

// packages writes packages one a line: "12 in spool".
func packages(ps []fit.Package) string {
	texts := make([]string, len(ps))
	for i, p := range ps {
		texts[i] = p.String()
	}
	return lines(texts)
}

func packagesFrom(s string) ([]fit.Package, error) {
	var out []fit.Package
	for _, line := range items[string](s) {
		p, ok := fit.ParsePackage(line)
		if !ok {
			return nil, strconv.ErrSyntax
		}
		out = append(out, p)
	}
	return out, nil
}

// prefixed names the table of each of the columns: "p.id, p.number".
func prefixed(table, columns string) string {
	return table + strings.ReplaceAll(columns, ", ", ", "+table)
}

// updated makes an update that found no row at the version before it a
// conflict.
func updated(res *gorm.DB) error {
	if res.Error == nil && res.RowsAffected != 1 {
		return inventory.Conflictf("record-changed", "somebody changed it a moment ago: look at it again")
	}
	return res.Error
}
