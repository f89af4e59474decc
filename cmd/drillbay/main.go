// Command drillbay runs swing-and-catch practice before a camera: see README.
package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/alecthomas/kong"

	"drillbay/camera/clip"
	"drillbay/camera/whole"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
)

// Exit statuses of the command line.
const (
	exitDone   = 0
	exitUse    = 2
	exitClip   = 3
	exitDevice = 4
)

type commands struct {
	Version kong.VersionFlag `help:"Which drillbay this is."`

	Window  windowCommand  `cmd:"" default:"withargs" help:"The window, on the best camera or the virtual bay."`
	Demo    demoCommand    `cmd:"" help:"The same on the virtual bay; --headless runs a whole short session and prints it."`
	Measure measureCommand `cmd:"" help:"Reps of a clip: a table, or one JSON object."`
	Beside  besideCommand  `cmd:"" help:"Two clips of one session, by two cameras, side by side at the same moment."`
	Devices devicesCommand `cmd:"" help:"Cameras with their modes, microphones, sound outputs."`
	Laptop  laptopCommand  `cmd:"" help:"Can this laptop do it: camera, analysis, sound, disk, screen, each with a remedy."`
	Export  exportCommand  `cmd:"" help:"Write the ledger as JSON Lines."`
	Report  reportCommand  `cmd:"" help:"A player's progress as one HTML file."`
	Import  importCommand  `cmd:"" help:"Merge an export into the ledger, by id."`
	Settle  settleCommand  `cmd:"" help:"Choose what stays of what was changed on two laptops."`
}

// errUse marks errors of the command line, errUnreadable those of a file.
var (
	errUse        = errors.New("wrong use")
	errUnreadable = errors.New("this file cannot be read")
)

// deviceError is an error about a device: its exit status is another.
type deviceError struct{ error }

// console is where a command writes, and reads answers; in is nil where nobody can answer.
type console struct {
	out, err io.Writer
	in       *bufio.Reader
}

// answers is the terminal that a question can be asked on, nil for none.
func answers() *bufio.Reader {
	for _, f := range []*os.File{os.Stdin, os.Stdout} {
		if st, err := f.Stat(); err != nil || st.Mode()&os.ModeCharDevice == 0 || st.Name() == os.DevNull {
			return nil
		}
	}
	return bufio.NewReader(os.Stdin)
}

func main() {
	ignoreSizeLimit()
	os.Exit(run(os.Args[1:], console{os.Stdout, os.Stderr, answers()}))
}

// commandLine understands command lines; exit is called in place of ending the
// program.
func commandLine(cmd *commands, c console, exit func(int)) (*kong.Kong, error) {
	return kong.New(cmd, kong.Name("drillbay"),
		kong.Description("Swing-and-catch practice before a camera: cues, a metronome, each rep seen again and measured. Offline."),
		kong.Writers(c.out, c.err), kong.Exit(exit), kong.UsageOnError(), kong.Bind(c), kong.Vars{"version": version()})
}

// version returns the tag that the program was built from, else the commit.
func version() string {
	b, ok := debug.ReadBuildInfo()
	if !ok {
		return "drillbay, built without a version"
	}
	v := b.Main.Version
	if v == "" || v == "(devel)" {
		v = "of no release"
	}
	for _, s := range b.Settings {
		if s.Key == "vcs.revision" && len(s.Value) > 8 && !strings.Contains(v, s.Value[:8]) {
			v += ", commit " + s.Value[:8]
		}
	}
	return "drillbay " + v
}

// run carries out a command line and returns the exit status.
func run(args []string, c console) int {
	var cmd commands
	exited := -1
	p, err := commandLine(&cmd, c, func(code int) { exited = code })
	if err != nil {
		fmt.Fprintln(c.err, "drillbay:", err)
		return exitUse
	}
	ctx, err := p.Parse(joined(args))
	if exited >= 0 {
		return exited
	}
	if err != nil {
		fmt.Fprintf(c.err, "drillbay: %v. Try: drillbay --help\n", err)
		return exitUse
	}
	if err := ctx.Run(c); err != nil {
		// What is wrong says for itself that the command line is.
		fmt.Fprintln(c.err, "drillbay:", strings.TrimPrefix(err.Error(), errUse.Error()+": "))
		return status(err)
	}
	return exitDone
}

// status is the exit status for an error.
func status(err error) int {
	switch {
	case errors.Is(err, errUse), errors.Is(err, measure.ErrBay), errors.Is(err, clip.ErrRate):
		return exitUse
	case errors.Is(err, errUnreadable), errors.Is(err, clip.ErrNotAClip), errors.Is(err, clip.ErrTooLarge), errors.Is(err, whole.ErrNoFile), errors.Is(err, ledger.ErrDamaged), errors.Is(err, ledger.ErrNewer), errors.Is(err, os.ErrNotExist), errors.Is(err, os.ErrPermission):
		return exitClip
	case errors.As(err, &deviceError{}):
		return exitDevice
	}
	return 1
}
