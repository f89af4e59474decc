package ear

import (
	"testing"

	"drillbay/cues/soundtest"
)

// What the machine is too busy to listen to is counted.
func TestMain(m *testing.M) { soundtest.Main(m) }
