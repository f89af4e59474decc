// Command drillbay-window is the window of drillbay. It is a program of its
// own because the graphics library ends every program that it is part of at
// once where there is no display; drillbay itself works anywhere, and starts
// this one.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"drillbay/app"
	"drillbay/app/window"
	"drillbay/cmd/drillbay/live"
)

// Exit statuses, those of drillbay.
const (
	exitDone   = 0
	exitFailed = 1
	exitUse    = 2
)

// closing is how long the last reps may take to be stored.
const closing = 10 * time.Second

func main() {
	errors, _ := live.Hush()
	os.Exit(run(os.Args[1:], errors))
}

func run(args []string, errors io.Writer) int {
	var o live.Options
	exited := -1
	parser, err := kong.New(&o, kong.Name("drillbay-window"), kong.Description("The window of drillbay."),
		kong.Writers(os.Stdout, errors), kong.Exit(func(code int) { exited = code }))
	if err == nil {
		_, err = parser.Parse(args)
	}
	if exited >= 0 {
		return exited
	}
	if err != nil {
		fmt.Fprintln(errors, "drillbay:", err)
		return exitUse
	}
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, os.Interrupt)
	defer stop()
	if err := show(ctx, o); err != nil {
		fmt.Fprintln(errors, "drillbay:", err)
		return exitFailed
	}
	return exitDone
}

// show runs the window until it is closed.
func show(ctx context.Context, o live.Options) error {
	l, err := live.Start(ctx, o)
	if err != nil {
		return err
	}
	d, err := l.Deps(ctx)
	if err == nil {
		err = window.Run(ctx, window.Options{Title: "drillbay", App: app.New(d), Now: l.Now, Wake: l.Wake(), FullScreen: o.FullScreen})
	}
	if cerr := l.Finish(closing); err == nil {
		err = cerr
	}
	if said := l.Parting(); said != "" {
		fmt.Println(said)
	}
	return err
}
