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

func TestMigrationsAreNumberedWithoutGaps(t *testing.T) {
	t.Parallel()
	files := must(fs.Glob(migrations.Files, "*.sql"))(t)
	if len(files) == 0 {
		t.Fatal("no migrations")
	}
	for i, name := range files {
		if want := i + 1; !strings.HasPrefix(name, zeroPadded(want)+"_") {
			t.Errorf("migration %s is number %d in order", name, want)
		}
	}
}

func zeroPadded(n int) string {
	s := []byte("0000")
	for i := len(s) - 1; n > 0; i, n = i-1, n/10 {
		s[i] = byte('0' + n%10)
	}
	return string(s)
}
