package laptop

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"drillbay/camera"
	"drillbay/camera/sight"
)

// A window practises by itself for about 15 s; one that does not end is ended.
const practiseFor = 60 * time.Second

// TimeVerdict times a verdict in the window itself, which practises on the
// virtual bay with pictures of the camera's size and rate. Without its program, "",
// a rep is read beside pictures that are drawn.
func TimeVerdict(told io.Writer, window string, now func() time.Duration, m camera.Mode) Finding {
	if window != "" {
		fmt.Fprintln(told, "A window practises by itself for a quarter of a minute, to time its verdicts.")
		after, err := VerdictIn(window, m)
		return JudgeVerdict(after, "in the window", err)
	}
	read, err := timeReading(now, m)
	return JudgeVerdict(seconds(sight.StillFor)+read, "reckoned without the window", err)
}

// VerdictIn has the window's program time its verdicts, with more flags for it.
func VerdictIn(path string, m camera.Mode, more ...string) (time.Duration, error) {
	ctx, cancel := context.WithTimeout(context.Background(), practiseFor)
	defer cancel()
	args := []string{"--timed"}
	if m.Width > 0 {
		args = append(args, "--size", fmt.Sprintf("%dx%d", m.Width&^1, m.Height&^1))
	}
	if m.Rate > 0 {
		args = append(args, "--rate", fmt.Sprint(m.Rate))
	}
	out, err := exec.CommandContext(ctx, path, append(args, more...)...).Output()
	var failed *exec.ExitError
	switch {
	case ctx.Err() != nil:
		return 0, fmt.Errorf("the window gave no verdict within %.0f s", practiseFor.Seconds())
	case errors.As(err, &failed) && len(failed.Stderr) > 0:
		return 0, errors.New(strings.TrimPrefix(strings.TrimSpace(string(failed.Stderr)), "drillbay: "))
	case err != nil:
		return 0, err
	}
	after, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		return 0, fmt.Errorf("the window gave no verdict: it said %q", strings.TrimSpace(string(out)))
	}
	return seconds(after), nil
}
