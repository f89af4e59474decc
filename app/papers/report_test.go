package papers

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
)

// It is said where the file lies, whatever the opener says: it may fail late.
func TestWhereAReportIsThatNothingOpens(t *testing.T) {
	const path = "/home/ada/reports/Ada.html"
	for want, show := range map[string]func(string) error{
		"Written to " + path + ".": nil,
		"It opens in your browser. If none comes, open the file yourself: " + path + ".": func(string) error { return nil },
		"No browser could be opened. Open the file yourself: " + path + ".":              func(string) error { return errors.New("there is none") },
	} {
		require.Equal(t, want, Papers{Show: show}.opened(path, nil))
	}
}
