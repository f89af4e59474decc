package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/lens"
	"drillbay/camera/virtual"
)

// ownClip is the clip of our own: what it shows is drawn by this bay, in which
// the club is caught 14° inside.
func ownClip(t *testing.T) (file string, b *virtual.Bay) {
	t.Helper()
	s := virtual.Default()
	s.Width, s.Height, s.Seed = 640, 360, 5
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 14, Still: 0.8, Hold: 0.9}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	return filepath.Join("..", "..", "testdata", "catch.avi"), b
}

// onFloor is where a place on the ground is seen, as a flag takes it.
func onFloor(b *virtual.Bay, x, y float64) string {
	px, _ := b.See([3]float64{x, y, 0})
	return fmt.Sprintf("%.1f,%.1f", px[0], px[1])
}

// A length on the ground takes the place of distance and field of view.
func TestAKnownLengthInPlaceOfDistanceAndField(t *testing.T) {
	file, b := ownClip(t)
	ground := "1.4," + onFloor(b, -0.5, -0.3) + "," + onFloor(b, 0.9, -0.3)
	height := fmt.Sprintf("%.2f", b.Lens()[2])
	for _, args := range [][]string{
		{"--ground", ground, "--ball", onFloor(b, 0, 0), "--lens-height", height},
		{"--ground", ground, "--ball", onFloor(b, 0, 0), "--fov", "70"},
		{"--ground", ground, "--lens-height", height, "--distance", "3.2"},
		{"--ground", ground, "--ball", onFloor(b, 0, 0)},
	} {
		status, out, problems := command(append([]string{"measure", file, "--json"}, args...)...)
		require.Equal(t, exitDone, status, problems)
		var got struct {
			Reps []struct {
				Line  float64 `json:"shaft_line_deg"`
				Sigma float64 `json:"shaft_line_sigma_deg"`
				Why   string
			}
		}
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		require.Len(t, got.Reps, 1)
		r := got.Reps[0]
		t.Logf("%.1f° ± %.1f° %s", r.Line, r.Sigma, r.Why)
		require.Positive(t, r.Sigma, r.Why)
		assert.InDelta(t, 14, r.Line, 2*r.Sigma)
	}
}

// What the flags make of the bay is the bay, as surely as they say.
func TestAKnownLengthMakesTheBay(t *testing.T) {
	_, b := ownClip(t)
	m := measureCommand{Club: 0.94, Grip: 0.09, Hand: "right", LensHeight: b.Lens()[2],
		Ground: "1.4," + onFloor(b, -0.5, -0.3) + "," + onFloor(b, 0.9, -0.3), Ball: onFloor(b, 0, 0)}
	bay, err := m.bay(clip.Info{Width: 640, Height: 360, Shrunk: 1})
	require.NoError(t, err)
	k, err := bay.Known()
	require.NoError(t, err)
	assert.True(t, k.Scale)
	assert.InDelta(t, 3.2, k.Setting.Distance, k.Distance)
	assert.InDelta(t, b.Focal(), k.Setting.View.Focal, k.Focal*b.Focal())
	t.Logf("%.3f m ± %.3f m, %.1f px ± %.1f %%", k.Setting.Distance, k.Distance, k.Setting.View.Focal, 100*k.Focal)
	// Ends that are pointed at to a pixel make it less sure than what is measured.
	assert.InDelta(t, 0.13, k.Distance, 0.05)
	assert.InDelta(t, 0.055, k.Focal, 0.025)

	// The same of a clip that is read at half its size.
	m.Ground, m.Ball = "1.4,"+twice(t, onFloor(b, -0.5, -0.3))+","+twice(t, onFloor(b, 0.9, -0.3)), twice(t, m.Ball)
	bay, err = m.bay(clip.Info{Width: 640, Height: 360, Shrunk: 2})
	require.NoError(t, err)
	half, err := bay.Known()
	require.NoError(t, err)
	assert.InDelta(t, k.Setting.Distance, half.Setting.Distance, 1e-6)
	assert.InDelta(t, k.Setting.View.Focal, half.Setting.View.Focal, 1e-6)
}

func twice(t *testing.T, point string) string {
	t.Helper()
	p, err := parsePoint("ball", point)
	require.NoError(t, err)
	return fmt.Sprintf("%.4f,%.4f", 2*p.U, 2*p.V)
}

func TestWhatIsWrongWithAKnownLengthIsSaid(t *testing.T) {
	file, b := ownClip(t)
	ends := "," + onFloor(b, -0.5, -0.3) + "," + onFloor(b, 0.9, -0.3)
	for _, c := range []struct {
		says string
		args []string
	}{
		{"--ground needs --ball", []string{"--ground", "1.4" + ends}},
		{"--ball is for --ground", []string{"--ball", "3,4"}},
		{"--lens-height is for --ground", []string{"--lens-height", "0.8"}},
		{"leave out --distance", []string{"--ground", "1.4" + ends, "--ball", "320,300", "--distance", "3"}},
		{"leave out --fov", []string{"--ground", "1.4" + ends, "--lens-height", "0.8", "--fov", "70"}},
		{"is not LENGTH,X1,Y1,X2,Y2", []string{"--ground", "1.4", "--lens-height", "0.8"}},
		{"is not LENGTH,X1,Y1,X2,Y2", []string{"--ground", "1.4" + ends + ",7", "--lens-height", "0.8"}},
		{"--ball \"there\" is not X,Y", []string{"--ground", "1.4" + ends, "--ball", "there"}},
		{"--lens-height must be a number", []string{"--ground", "1.4" + ends, "--lens-height", "NaN"}},
		{"length of -1.4 m", []string{"--ground", "-1.4" + ends, "--lens-height", "0.8"}},
		{"lens -0.8 m above", []string{"--ground", "1.4" + ends, "--lens-height", "-0.8"}},
		{"give --target-point", []string{"--ground", "1.4,100,300,140,250", "--lens-height", "0.8"}},
		{"is not on the ground", []string{"--ground", "1.4" + ends, "--ball", "320,90"}},
		{"a field of view of", []string{"--ground", "3" + ends, "--lens-height", "0.4"}},
		{"check the two measures", []string{"--ground", "0.4" + ends, "--lens-height", "1.6"}},
		{"a distance of", []string{"--ground", "19" + ends, "--ball", onFloor(b, 0, 0)}},
	} {
		t.Run(c.says, func(t *testing.T) {
			status, _, problems := command(append([]string{"measure", file}, c.args...)...)
			require.Equal(t, exitUse, status, problems)
			require.Contains(t, problems, c.says)
			require.NotContains(t, problems, "panic")
		})
	}
}

// Without a scale the reason names the flags that give one.
func TestNoReadingNamesTheFlags(t *testing.T) {
	file, _ := ownClip(t)
	_, asJSON, _ := command("measure", file, "--json")
	for _, out := range []string{ownTable(t), asJSON} {
		require.Contains(t, out, "give --distance, --fov or --ground")
		require.NotContains(t, out, "known length")
	}
}

// negatives are flags with negative values that stand by themselves.
var negatives = []string{"--distance", "3.2", "--fov", "70", "--roll", "-1.5", "--target-point", "-3,180"}

// Negative values are taken as they stand, and are no flags.
func TestNegativeValuesAreTakenAsTheyStand(t *testing.T) {
	file, _ := ownClip(t)
	ownTable(t, negatives...)
	understood := func(args ...string) measureCommand {
		var cmd commands
		p, err := commandLine(&cmd, console{}, func(int) {})
		require.NoError(t, err)
		_, err = p.Parse(joined(append([]string{"measure", file}, args...)))
		require.NoError(t, err)
		return cmd.Measure
	}
	tied := understood("--distance", "3.2", "--fov", "70", "--roll=-1.5", "--target-point=-3,180")
	require.Equal(t, -1.5, tied.Roll)
	require.Equal(t, "-3,180", tied.TargetPoint)
	require.Equal(t, tied, understood(negatives...))
	status, _, problems := command("measure", file, "--roll", "-50")
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "roll of -50°")
	for _, c := range []struct {
		want lens.Point
		is   string
	}{{lens.Point{U: -3, V: -4}, "-3,-4"}, {lens.Point{U: -0.5, V: 7}, "-.5, 7"}, {lens.Point{U: 3, V: -4}, "3,-4"}} {
		var cmd commands
		p, err := commandLine(&cmd, console{}, func(int) {})
		require.NoError(t, err)
		_, err = p.Parse(joined([]string{"measure", "--roll", "-2", "--target-point", c.is, file}))
		require.NoError(t, err)
		require.Equal(t, -2.0, cmd.Measure.Roll)
		bay, err := cmd.Measure.bay(clip.Info{Width: 640, Height: 360, Shrunk: 1})
		require.NoError(t, err)
		require.Equal(t, c.want, *bay.Target)
	}
	// A flag after a flag is still a flag, and after -- nothing is.
	status, _, problems = command("measure", file, "--roll", "--json")
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "roll")
	require.Equal(t, []string{"--roll=-2", "--", "--roll", "-2"}, joined([]string{"--roll", "-2", "--", "--roll", "-2"}))
}
