package main

import (
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues/soundtest"
)

// With a loudspeaker and a microphone that hears it the check of the laptop says how late
// sound is heard and how far the beat is off the picture, and the ledger keeps
// the delay for the session. The grade is the machine's own.
func TestTheLaptopCheckMeasuresTheDelayOfTheSound(t *testing.T) {
	if testing.Short() {
		t.Skip("the check takes ten seconds")
	}
	s := soundtest.New(t)
	s.Start()
	s.Use(t)
	path := filepath.Join(t.TempDir(), "ledger.db")
	for try := 1; ; try++ {
		stood := soundtest.Stalls()
		status, out, _ := command("laptop", "--ledger", path)
		still := stood()
		require.Contains(t, []int{exitDone, exitDevice}, status)
		t.Log(out)
		if try < 3 && still > soundtest.Overloaded && !beatOff.MatchString(out) {
			continue
		}
		require.Regexp(t, beatOff, out)
		return
	}
}

// beatOff is its figure for sound and picture.
var beatOff = regexp.MustCompile(`\d+ ms late, beat [+-]\d+ ms off the picture`)
