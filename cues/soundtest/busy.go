package soundtest

import (
	"fmt"
	"os"
	"sync"
	"testing"
)

// listens counts what a package's tests listened to, and how often that said nothing
// because the machine was too busy.
var listens struct {
	sync.Mutex
	all, busy int
}

// Listens counts one more thing that is listened to.
func Listens() {
	listens.Lock()
	defer listens.Unlock()
	listens.all++
}

// Busy says that one of them said nothing, though it was listened to again and
// again.
func Busy(t testing.TB, format string, args ...any) {
	t.Helper()
	listens.Lock()
	defer listens.Unlock()
	listens.busy++
	t.Logf("NOT HEARD: this machine is too busy: "+format, args...)
}

// tooBusy reports whether so much went unheard that the package proves nothing: a
// quarter or more.
func tooBusy(busy, all int) bool { return busy > 0 && 4*busy >= all }

// Main runs a package's tests, and fails when too much of what they listened to
// was not heard.
func Main(m *testing.M) {
	code := m.Run()
	if tooBusy(listens.busy, listens.all) {
		fmt.Fprintf(os.Stderr, "%d of %d things could not be listened to: this machine is too busy to test sound on. Run the tests again with less beside them.\n", listens.busy, listens.all)
		code = max(code, 1)
	}
	os.Exit(code)
}
