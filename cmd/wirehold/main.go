// Command wirehold is the ledger and gate of a welding-wire store.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"github.com/alecthomas/kong"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Getenv, os.Stdout, os.Stderr, time.Now); err != nil {
		if !errors.Is(err, errSaid) {
			fmt.Fprintln(os.Stderr, "wirehold:", err)
		}
		stop()
		os.Exit(1)
	}
}

// errSaid is a failure that the command has printed already.
var errSaid = errors.New("said already")

// program is what every command is run with.
type program struct {
	ctx context.Context
	out io.Writer // what the command is asked for
	err io.Writer // the log
	now func() time.Time
}

// commands is the command line: one field a command, one file a command.
type commands struct {
	Demo   demoCommand   `cmd:"" help:"Try it: an invented yard with six months of ledger, in a database that is thrown away."`
	Serve  serveCommand  `cmd:"" help:"Serve the pages and the API on a database file."`
	Verify verifyCommand `cmd:"" help:"Replay the ledger and compare every spool and the hash chain."`
	Decode decodeCommand `cmd:"" help:"Say what a filler-metal designation means, fact by fact."`
	Import importCommand `cmd:"" help:"Enter wires from a table, CSV or XLSX: all of them, or none."`
	Check  checkCommand  `cmd:"" help:"Say whether a spool fits a job, and why."`

	Labels   labelsCommand   `cmd:"" help:"Draw labels: of codes, of a lot, or of codes from standard input."`
	Exposure exposureCommand `cmd:"" help:"Say how long a spool was exposed, what is left, and why."`

	Climate climateCommand `cmd:"" help:"Reckon with the air of a store."`
}

// run is the program without its globals.
func run(ctx context.Context, args []string, getenv func(string) string, out, errOut io.Writer, now func() time.Time) error {
	var c commands
	helped := false
	parser, err := kong.New(&c, kong.Name("wirehold"),
		kong.Description("The ledger and gate of a welding-wire store. An aid: local codes, the contract and qualified people decide."),
		kong.Writers(out, errOut), kong.Exit(func(int) { helped = true }), kong.Resolvers(environment(getenv)))
	if err != nil {
		return err
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	command, err := parser.Parse(args)
	if helped {
		return nil
	}
	if err != nil {
		return err
	}
	return command.Run(&program{ctx, out, errOut, now})
}

// environment gives a flag that is not on the command line the value of the
// variable of its name: --listen that of WIREHOLD_LISTEN.
func environment(getenv func(string) string) kong.Resolver {
	return kong.ResolverFunc(func(_ *kong.Context, _ *kong.Path, flag *kong.Flag) (any, error) {
		if v := getenv("WIREHOLD_" + strings.ToUpper(strings.ReplaceAll(flag.Name, "-", "_"))); v != "" && flag.Name != "help" {
			return v, nil
		}
		return nil, nil
	})
}

// log returns the program's log: one JSON object a line.
func (p *program) log(level slog.Level) *slog.Logger {
	return slog.New(slog.NewJSONHandler(p.err, &slog.HandlerOptions{Level: level}))
}
