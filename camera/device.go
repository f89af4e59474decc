package camera

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/pion/mediadevices/pkg/driver"
)

// Device is a camera as it is listed.
type Device struct {
	Name  string // for people, and to find the camera again
	Label string // of the driver; may change when it is plugged in again
	Modes []Mode // best first; none when it could not be opened
	Err   error  // why it could not be opened
}

// registered are the camera drivers, those the system prefers first, ties by
// name. Screens are cameras to the drivers' registry and are left out.
func registered() []driver.Driver {
	found := driver.GetManager().Query(driver.FilterAnd(
		driver.FilterVideoRecorder(), driver.FilterDeviceType(driver.Camera)))
	slices.SortFunc(found, func(a, b driver.Driver) int {
		return cmp.Or(
			cmp.Compare(b.Info().Priority, a.Info().Priority),
			cmp.Compare(nameOf(a), nameOf(b)),
			cmp.Compare(a.Info().Label, b.Info().Label))
	})
	return found
}

// nameOf is a camera's name without the bus that some systems add to it.
func nameOf(d driver.Driver) string {
	i := d.Info()
	name, _, _ := strings.Cut(i.Name, ";")
	if name = strings.TrimSpace(name); name == "" {
		name, _, _ = strings.Cut(i.Label, ";")
	}
	return name
}

// Devices opens every camera for a moment and lists its modes. A camera that
// is in use elsewhere, or may not be opened, is listed with the reason.
func Devices() []Device {
	var out []Device
	for _, d := range registered() {
		c := Device{Name: nameOf(d), Label: d.Info().Label}
		if d.Status() != driver.StateClosed {
			c.Err = fmt.Errorf("camera %q is in use by this program", c.Name)
		} else if err := d.Open(); err != nil {
			c.Err = explain(c.Name, err)
		} else {
			c.Modes = modesOf(d.Properties())
			if err := d.Close(); err != nil {
				c.Err = explain(c.Name, err)
			}
		}
		out = append(out, c)
	}
	return out
}

// ErrNoCamera says that no camera is connected.
var ErrNoCamera = errors.New("no camera is connected: plug one in, or use the virtual bay")

// explain says what a driver's error means and what to do.
func explain(name string, err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("camera %q may not be opened: allow this program to use the camera (on Linux, add your user to the group video): %w", name, err)
	case strings.Contains(err.Error(), "busy"):
		return fmt.Errorf("camera %q is used by another program: close that program: %w", name, err)
	}
	return fmt.Errorf("camera %q: %w", name, err)
}

// pick finds the camera to open: the one wanted by name and label, else by
// name alone (a camera that was plugged in again has another label); without a
// name the attempt-th of all, best first.
func pick(all []driver.Driver, name, label string, attempt int) driver.Driver {
	if len(all) == 0 {
		return nil
	}
	if name == "" {
		return all[attempt%len(all)]
	}
	var same driver.Driver
	for _, d := range all {
		if nameOf(d) != name {
			continue
		}
		if d.Info().Label == label {
			return d
		}
		if same == nil {
			same = d
		}
	}
	return same
}
