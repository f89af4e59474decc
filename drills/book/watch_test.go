package book

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// What a coach chose to be watched is there after a restart, in the rungs and in
// the plan; what cannot be read is told, and the drill's file counts.
func TestWhatIsWatchedIsKept(t *testing.T) {
	l, b, p, _ := adaPractised(t)
	file := b.Watched("lead-arm-catch")
	require.NotEmpty(t, file, "as its file says")
	mine := []drills.Watch{{Part: drills.TrailElbow, Low: math.Inf(-1), High: -2}, drills.UsualWatch(drills.HeadUp)}
	for _, r := range b.Rungs(p.Player.ID) {
		require.NoError(t, b.Watch(r.Drill.ID, mine))
	}
	for _, b := range []*Book{b, read(t, l, "")} {
		assert.Equal(t, mine, b.Watched("lead-arm-catch"))
		assert.Equal(t, mine, b.Rungs(p.Player.ID)[0].Drill.Watched.All())
		found := false
		for _, line := range b.Session(p.Player.ID, 30) {
			if line.Drill.ID != "" {
				found = true
				assert.Equal(t, mine, line.Drill.Watched.All())
			}
		}
		assert.True(t, found)
	}
	require.NoError(t, b.Watch("lead-arm-catch", nil))
	assert.Empty(t, read(t, l, "").Watched("lead-arm-catch"), "nothing is watched, whatever the file says")
	require.ErrorContains(t, b.Watch("lead-arm-catch", append(mine, file...)), "2 things are watched at most")

	require.NoError(t, l.PutSetting(context.Background(), watchedKey("lead-arm-catch"), `[{"part": "left knee"}]`))
	b = read(t, l, "")
	require.NotEmpty(t, b.Faults())
	assert.ErrorContains(t, b.Faults()[len(b.Faults())-1], "left knee")
	assert.Equal(t, file, b.Watched("lead-arm-catch"))
}
