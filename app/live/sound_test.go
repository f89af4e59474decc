package live

import (
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues/soundtest"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// Three sessions at the same time, of the same player: with sound off, with
// sound and microphone on, and with a sound server that is killed half-way and
// comes back.
// None loses a rep, and none holds up the picture. The one without sound shows
// what this machine can do now: where that one does not keep up, nothing is
// said of the others, and all are practised again.
func TestSoundNeverCostsARep(t *testing.T) {
	if testing.Short() {
		t.Skip("three sessions in real time take a minute")
	}
	if raced {
		t.Skip("the race detector slows the drawn bay below real time")
	}
	const reps = 5
	for try := 1; ; try++ {
		steady, killed := soundtest.New(t), soundtest.New(t)
		steady.Start()
		killed.Start()
		var all []*played
		var ledgers []string
		ended := map[string]outcome{}
		play := func(name string, server *soundtest.Server) *played {
			p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: 3, Reps: reps, Sound: server != nil, Taps: server != nil}
			cmd := soundtest.Program("TestHelperSession")
			if server != nil {
				cmd = server.Program("TestHelperSession")
			}
			all, ledgers = append(all, begin(t, name, cmd, p)), append(ledgers, p.Ledger)
			return all[len(all)-1]
		}
		// The first one runs alone: two cores can see for two at a time.
		silent := play("sound off", nil)
		ended["sound off"] = silent.finish()
		play("sound on", steady)
		play("server killed", killed)
		for _, g := range all {
			if g.name != "server killed" {
				continue
			}
			g.until(func(l line) bool { return l.Told != "" && len(g.told) == 2 })
			killed.Stop()
			require.True(t, g.until(func(l line) bool { return l.Notice == "sound lost" }), "the loss is told")
			killed.Start()
			require.True(t, g.until(func(l line) bool { return l.Gone == "sound lost" }), "and that it is back")
		}
		for i, g := range all {
			if g != silent {
				ended[g.name] = g.finish()
			}
			t.Logf("%s: %v %v", g.name, ended[g.name], g.seen)
			require.Empty(t, ended[g.name].Error)
			require.Len(t, g.told, ended[g.name].Stored, "told and stored")
			kept(t, ledgers[i], g.told)
		}
		off := ended["sound off"]
		lost := slices.ContainsFunc(all, func(g *played) bool { return ended[g.name].Stored != reps && g.noticed("slow") })
		if off.Stored != reps || !smooth(off) || signalLost(all, "sound off") || lost {
			if try == 3 {
				t.Skip("this machine is too busy: the eye or a session without sound does not keep up")
			}
			continue
		}
		for _, g := range all {
			o := ended[g.name]
			require.Equal(t, reps, o.Stored, g.name)
			require.True(t, smooth(o), g.name)
			require.False(t, g.noticed(runner.NoPicture), "%s: half a second without a picture", g.name)
			require.Equal(t, g.name == "server killed", g.noticed("sound lost"), g.name)
			require.Equal(t, g.name == "server killed", g.noticed("ear"), "%s: the microphone was lost with it", g.name)
		}
		return
	}
}

// smooth reports whether the picture was never held up: the queue before the
// session is four pictures long.
func smooth(o outcome) bool { return o.Frames > 0 && o.Late*50 <= o.Frames }

func signalLost(all []*played, name string) bool {
	for _, g := range all {
		if g.name == name && g.noticed(runner.NoPicture) {
			return true
		}
	}
	return false
}
