package book

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/ledger"
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
	front := JointMark{Name: "neck", View: drills.FaceOn, At: drills.Pixel{X: 40, Y: 50}}
	keep(neck, hips, front)
	require.ElementsMatch(t, []JointMark{neck, hips, front}, read(t, l, "").Marks(reps[0].ID).Joints, "of either camera's picture")
	before, beside := neck, front
	before.Address, beside.Address, beside.At.X = true, true, 44
	keep(neck, hips, front, before, beside)
	require.ElementsMatch(t, []JointMark{neck, hips, front, before, beside}, read(t, l, "").Marks(reps[0].ID).Joints, "at address as well")
	keep(neck, before)
	require.ElementsMatch(t, []JointMark{neck, before}, read(t, l, "").Marks(reps[0].ID).Joints)
	keep(neck)
	require.Equal(t, []JointMark{neck}, read(t, l, "").Marks(reps[0].ID).Joints)
	require.Equal(t, reps[0].Rep.Body, read(t, l, "").reps[p.Player.ID][0].Rep.Body, "what was read stays")
}

// A reading with the joints where the coach put them is kept beside what was read,
// counts in its place, is named in what is said and exported, and can be taken back.
func TestAReadingByTheCoachsJointsIsKeptBesideWhatWasRead(t *testing.T) {
	l, b, p, reps := adaPractised(t)
	for _, r := range reps {
		r.Rep.Body[drills.SpineTilt] = drills.Reading{Value: -2, Sigma: 1}
		require.NoError(t, l.Save(context.Background(), r))
		b.Note(r)
	}
	id, mine := reps[0].ID, drills.Body{drills.SpineTilt: {Value: -22, Sigma: 2.4}}
	neck := []JointMark{{Name: "neck", At: drills.Pixel{X: 300, Y: 140}}}
	said := func(b *Book) string { return strings.Join(b.View(p.Player.ID).Pattern.Evidence.Summary(), " ") }
	require.Contains(t, said(b), "On average spine 2° more upright (10 readings, ")
	require.NoError(t, b.KeepMarks(p.Player.ID, id, Marks{Under: math.NaN(), Frame: 1, Joints: neck, Body: mine}))
	for _, b := range []*Book{b, read(t, l, "")} {
		require.Equal(t, mine, b.Marks(id).Body)
		require.Contains(t, said(b), "On average spine 4° more upright (10 readings, 1 of them with joints that the coach put right")
		for _, r := range b.reps[p.Player.ID] {
			require.Equal(t, -2.0, r.Rep.Body[drills.SpineTilt].Value, "what was read stays")
		}
	}
	stored, err := l.Reps(context.Background(), ledger.Which{})
	require.NoError(t, err)
	var table strings.Builder
	require.NoError(t, ledger.WriteCSV(&table, stored))
	require.Equal(t, 1, strings.Count(table.String(), "spine_tilt -22 ± 2.4"))
	require.NoError(t, b.KeepMarks(p.Player.ID, id, Marks{Under: math.NaN(), Frame: 1}))
	for _, b := range []*Book{b, read(t, l, "")} {
		require.False(t, b.Marks(id).Body[drills.SpineTilt].Known())
		require.Contains(t, said(b), "On average spine 2° more upright (10 readings, ")
	}
}
