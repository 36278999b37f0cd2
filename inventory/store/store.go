package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"runtime"
	"strings"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/logger"

	"wirehold/inventory"
)

// Store is an inventory in a database. It is safe for concurrent use.
type Store struct {
	writer     *writer
	readers    *gorm.DB
	hotReaders *statements
}

var _ inventory.Store = (*Store)(nil)

// Open opens the SQLite database in the file at path, makes it if there is
// none, and brings its schema up to date. A schema newer than this program is
// an error. Close it when done.
func Open(ctx context.Context, path string, log *slog.Logger) (*Store, error) {
	if err := patiently(ctx, func() error { return migrate(ctx, path, log) }); err != nil {
		return nil, fmt.Errorf("database %s: %w", path, err)
	}
	s := &Store{}
	err := s.open(ctx, path, log)
	if err == nil {
		err = s.catchUp(ctx)
	}
	if err != nil {
		return nil, fmt.Errorf("open database %s: %w", path, errors.Join(err, s.Close()))
	}
	return s, nil
}

func (s *Store) open(ctx context.Context, path string, log *slog.Logger) error {
	writes, err := open(path, true, 1, log)
	if err != nil {
		return err
	}
	if s.writer, err = newWriter(ctx, writes); err != nil {
		return errors.Join(err, closeDB(writes))
	}
	if s.readers, err = open(path, false, max(4, runtime.NumCPU()), log); err != nil {
		return err
	}
	pool, err := s.readers.DB()
	if err != nil {
		return err
	}
	s.hotReaders, err = prepare(ctx, pool)
	return err
}

// patiently does what may find the database held by another program that is
// just starting: switching to the write-ahead log does not wait by itself.
func patiently(ctx context.Context, do func() error) error {
	retry := time.NewTicker(50 * time.Millisecond)
	defer retry.Stop()
	for range 200 {
		err := do()
		if !busy(err) {
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-retry.C:
		}
	}
	return do()
}

// fileURI is path as SQLite reads it in a URI, whatever characters it has.
func fileURI(path string) string {
	return "file:" + strings.NewReplacer("%", "%25", "?", "%3f", "#", "%23").Replace(path)
}

func open(path string, immediate bool, connections int, log *slog.Logger) (*gorm.DB, error) {
	db, err := gorm.Open(dialector(path, immediate), &gorm.Config{
		TranslateError:         true,
		SkipDefaultTransaction: true,
		Logger: logger.NewSlogLogger(log, logger.Config{
			// A failed statement comes back as an error and is logged once, by whoever answers it.
			LogLevel: logger.Silent, ParameterizedQueries: true,
		}),
	})
	if err != nil {
		return nil, err
	}
	pool, err := db.DB()
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(connections)
	pool.SetMaxIdleConns(connections)
	return db, nil
}

// Close closes the database.
func (s *Store) Close() error {
	return errors.Join(s.hotReaders.close(), closeDB(s.readers), s.writer.close())
}

func closeDB(db *gorm.DB) error {
	if db == nil {
		return nil
	}
	pool, err := db.DB()
	if err != nil {
		return err
	}
	return pool.Close()
}

// Ping reports whether the database answers.
func (s *Store) Ping(ctx context.Context) error {
	pool, err := s.readers.DB()
	if err != nil {
		return err
	}
	return pool.PingContext(ctx)
}

// Write runs f in one transaction; see [inventory.Store].
func (s *Store) Write(ctx context.Context, f func(inventory.Tx) error) error {
	return translate(s.writer.write(ctx, false, f))
}

// WriteShared is Write for what is done in no time; see [inventory.Store].
func (s *Store) WriteShared(ctx context.Context, f func(inventory.Tx) error) error {
	return translate(s.writer.write(ctx, true, f))
}

// Snapshot runs f on what the database held at one instant: a read transaction,
// which a write-ahead log shows unchanged until it ends.
func (s *Store) Snapshot(ctx context.Context, f func(inventory.Reader) error) error {
	err := s.readers.WithContext(ctx).Transaction(func(db *gorm.DB) error {
		return f(&Catalog{within(ctx, db, s.hotReaders)})
	}, &sql.TxOptions{ReadOnly: true})
	return translate(err)
}

// within returns a reader in the transaction db.
func within(ctx context.Context, db *gorm.DB, hot *statements) reader {
	conn, ok := db.Statement.ConnPool.(*sql.Tx)
	if !ok {
		panic("store: a transaction is not one of database/sql")
	}
	return reader{ctx: ctx, db: db, hot: hot, conn: conn}
}

// Read returns what can be looked up outside a transaction.
func (s *Store) Read(ctx context.Context) inventory.Reader { return s.Catalog(ctx) }

// Catalog returns all that can be looked up, lists too.
func (s *Store) Catalog(ctx context.Context) *Catalog {
	return &Catalog{reader{ctx: ctx, db: s.readers.WithContext(ctx), hot: s.hotReaders}}
}

// Catalog looks things up outside a transaction.
type Catalog struct{ reader }

// reader looks things up, on one instant of the database if conn is set, and
// within the transaction under way if hot is the writer's. It lives no longer
// than the call it was made for, which is why it may hold a context.
type reader struct {
	ctx  context.Context
	db   *gorm.DB
	hot  *statements
	conn *sql.Tx
}

// stmt returns the prepared statement as the reader must run it.
func (r *reader) stmt(s *sql.Stmt) *sql.Stmt {
	if r.conn == nil {
		return s
	}
	return r.conn.StmtContext(r.ctx, s)
}

// tx is one transaction.
type tx struct{ reader }

var _ inventory.Tx = (*tx)(nil)
