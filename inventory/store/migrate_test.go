package store_test

import (
	"io/fs"
	"log/slog"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"wirehold/inventory/store"
	"wirehold/migrations"
)

func TestTwoProgramsThatStartAtOnceShareOneDatabase(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "shop.db")
	var wg sync.WaitGroup
	errs := make([]error, 4)
	for i := range errs {
		wg.Go(func() {
			s, err := store.Open(t.Context(), path, slog.New(slog.DiscardHandler))
			if err == nil {
				err = s.Close()
			}
			errs[i] = err
		})
	}
	wg.Wait()
	for i, err := range errs {
		if err != nil {
			t.Errorf("program %d: %v", i, err)
		}
	}
}

func TestASchemaNewerThanTheProgramStopsIt(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	tamper(t, s.path, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, 1)")
	again, err := store.Open(t.Context(), s.path, slog.New(slog.DiscardHandler))
	if err == nil {
		again.Close()
	}
	if err == nil || !strings.Contains(err.Error(), "run the newer program") {
		t.Errorf("Open of a newer schema: error %v, want one that says so", err)
	}
}

func TestEachMigrationHasANumberOfItsOwn(t *testing.T) {
	t.Parallel()
	files := must(fs.Glob(migrations.Files, "*.sql"))(t)
	if len(files) == 0 {
		t.Fatal("no migrations")
	}
	last := ""
	for _, name := range files {
		number, _, ok := strings.Cut(name, "_")
		if !ok || len(number) != 4 || strings.Trim(number, "0123456789") != "" || number <= last {
			t.Errorf("migration %s follows number %q, want four digits above it and a name", name, last)
		}
		last = number
	}
}
