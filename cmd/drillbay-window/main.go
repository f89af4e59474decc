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
	"sync"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"drillbay/app"
	"drillbay/app/beside"
	"drillbay/app/letters"
	"drillbay/app/live"
	"drillbay/app/window"
	"drillbay/cues/card"
)

// Exit statuses, those of drillbay.
const (
	exitDone   = 0
	exitFailed = 1
	exitUse    = 2
)

// closing is the time that the last reps may take to be read and stored after the user
// closes the window.
const closing = 4 * time.Second

func main() {
	errors, _ := card.Hush()
	os.Exit(run(os.Args[1:], errors))
}

func run(args []string, errors io.Writer) int {
	var o struct {
		live.Options
		Mat   bool   `hidden:"" help:"Show what another process of this program sends: what the mat sees."`
		Away  string `hidden:"" help:"The screen that the other process's window is on."`
		Timed bool   `hidden:"" help:"Practise by itself on the virtual bay and write how many seconds after the catch the verdict comes."`
	}
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
	if o.Mat {
		return showMat(o.Away, errors)
	}
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, syscall.SIGTERM, os.Interrupt)
	ctx, end := context.WithCancel(context.Background())
	defer end()
	go func() {
		<-signals
		end() // a second one finds the end on its way
	}()
	if o.Timed {
		if err := timed(ctx, o.Options, os.Stdout); err != nil {
			fmt.Fprintln(errors, "drillbay:", err)
			return exitFailed
		}
		return exitDone
	}
	return show(ctx, end, o.Options, errors)
}

// outside tells somebody at a terminal that the session was ended from outside.
const outside = "ended from outside: every rep that was told is in the ledger."

// show runs the window until it is closed, says in a sentence what there is to
// know of its end, and returns the exit status.
func show(ctx context.Context, end func(), o live.Options, errors io.Writer) (status int) {
	l, err := live.Start(ctx, o)
	if err != nil {
		fmt.Fprintln(errors, "drillbay:", err)
		return exitFailed
	}
	var once sync.Once
	finish := func(err error) int {
		once.Do(func() {
			if cerr := l.Finish(ctx, closing); err == nil {
				err = cerr
			}
			if gone := l.Parting(); gone != "" {
				fmt.Println(gone)
			}
			switch {
			case err != nil:
				status = exitFailed
				fmt.Fprintln(errors, "drillbay:", err)
			case ctx.Err() != nil:
				fmt.Fprintln(errors, "drillbay:", outside)
			}
		})
		return status
	}
	d, err := l.Deps(ctx)
	if err == nil {
		mat := beside.Second{Screen: window.Screen}
		d.Second = mat.Open
		a := app.New(d)
		mat.Mat = a.Mat()
		err = window.Run(ctx, window.Options{Title: "drillbay", App: a, Beside: mat.Show, Now: l.Now, Wake: l.Wake(), FullScreen: o.FullScreen,
			Gone: func() {
				end()
				os.Exit(finish(nil))
			}})
	}
	return finish(err)
}

// secondTitle is the title of the second window.
const secondTitle = "drillbay: what the mat sees"

// showMat is the second process: it shows what the first one sends.
func showMat(away string, errors io.Writer) int {
	if err := window.Beside(secondTitle, away, os.Stdin, os.Stdout, letters.New(letters.Folder())); err != nil {
		fmt.Fprintln(errors, "drillbay:", err)
		return exitFailed
	}
	return exitDone
}
