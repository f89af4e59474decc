package camera

import (
	"github.com/pion/mediadevices/pkg/driver"
	system "github.com/pion/mediadevices/pkg/driver/camera" // registers the system's cameras
)

// Rescan looks for the system's cameras anew. Drivers do not notice cameras
// that are plugged in later, and some systems' search forgets the drawn
// cameras: draw registers those again, and is called only when they are gone.
// It must not be called while a camera is being opened by somebody else; a
// Source does it between two tries.
func Rescan(draw func() error) error {
	m := driver.GetManager()
	drawn := func() (n int) {
		for _, d := range registered() {
			if d.Info().Label == DrawnLabel {
				n++
			}
		}
		return n
	}
	before := drawn()
	for _, d := range registered() {
		if d.Info().Label != DrawnLabel {
			m.Delete(d.ID())
		}
	}
	system.Initialize()
	if before > 0 && drawn() == 0 && draw != nil {
		return draw()
	}
	return nil
}
