// Command thole answers the questions on which a voyage in a small rowing boat
// hangs, from one folder of plain text.
//
// This file wires the faces to the questions and does nothing else.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"thole/internal/boatfolder"
	"thole/internal/book"
	"thole/internal/exchange"
	"thole/internal/fleet/hands"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/questions"
	"thole/internal/searches"
	"thole/internal/terminal"
	"thole/internal/web"
)

func main() {
	ctx, release := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// The first Ctrl-C asks the work to stop; a second one ends it at once.
	context.AfterFunc(ctx, release)
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run carries out one command line and returns its exit status.
func run(ctx context.Context, args []string, out, errs io.Writer) int {
	page := web.Page{Searches: searches.Table}
	return terminal.Run(ctx, terminal.Tools{
		Table:       questions.Table,
		Searches:    searches.Table,
		Version:     version(),
		Read:        read,
		Stamp:       boatfolder.Stamp,
		Start:       boatfolder.Starter,
		Schema:      boatfolder.Schema,
		Serve:       page.Serve,
		ServeBeyond: page.ServeBeyond,
		Print:       book.Print,
		Levers:      levers.Open,
		Lists:       exchange.Lists,
		Take:        exchange.Take,
		Sweep:       hands.Sweep,
		Forget:      hands.Forget,
		Work:        hands.Work,
		Env:         os.Getenv,
	}, args, out, errs)
}

// read reads a folder. An empty list of faults is no error, whatever its type.
func read(dir string) (*model.Folder, error) {
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		return nil, faults
	}
	return f, nil
}

// version is what the Go tool wrote into the program when it was built.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of unknown make"
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = "built from source"
	}
	return v + " (" + info.GoVersion + ")"
}
