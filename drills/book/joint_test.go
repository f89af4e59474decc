package book

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// A joint that the coach put right is there after a restart, also once moved
// again; one that was rubbed out is not.
func TestJointsThatTheCoachPutRightAreKept(t *testing.T) {
	l, b, p, reps := adaPractised(t)
	neck, hips := JointMark{Name: "neck", At: drills.Pixel{X: 300, Y: 140}}, JointMark{Name: "hips", At: drills.Pixel{X: 260, Y: 230}}
	keep := func(joints ...JointMark) {
		require.NoError(t, b.KeepMarks(p.Player.ID, reps[0].ID, Marks{Under: math.NaN(), Frame: 1, Joints: joints}))
	}
	keep(neck, hips)
	require.ElementsMatch(t, []JointMark{neck, hips}, read(t, l, "").Marks(reps[0].ID).Joints)
	neck.At.X = 297
	keep(neck, hips)
	require.ElementsMatch(t, []JointMark{neck, hips}, read(t, l, "").Marks(reps[0].ID).Joints)
	keep(neck)
	require.Equal(t, []JointMark{neck}, read(t, l, "").Marks(reps[0].ID).Joints)
	require.Equal(t, reps[0].Rep.Body, read(t, l, "").reps[p.Player.ID][0].Rep.Body, "what was read stays")
}
