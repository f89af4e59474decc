package ear

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// server is a PulseAudio server of a test's own: its own run-time folder and
// one sink that plays to nowhere, whose monitor hears what a listener would.
type server struct {
	t      *testing.T
	folder string
	run    *exec.Cmd
	ended  chan struct{}
}

// newServer prepares a server; start starts it.
func newServer(t *testing.T) *server {
	t.Helper()
	for _, tool := range []string{"pulseaudio", "pacat", "pactl"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: what a listener would hear is not recorded", tool)
		}
	}
	s := &server{t: t, folder: t.TempDir()}
	require.NoError(t, os.Chmod(s.folder, 0o700))
	for _, d := range []string{"run", "home"} {
		require.NoError(t, os.Mkdir(filepath.Join(s.folder, d), 0o700))
	}
	// ALSA programs reach the server by its plugin.
	require.NoError(t, os.WriteFile(filepath.Join(s.folder, "home", ".asoundrc"), []byte("pcm.!default { type pulse }\nctl.!default { type pulse }\n"), 0o600))
	t.Cleanup(s.stop)
	return s
}

// env is the environment of a program that is to use the server.
func (s *server) env(more ...string) []string {
	return append(append(os.Environ(), "HOME="+filepath.Join(s.folder, "home"), "XDG_RUNTIME_DIR="+filepath.Join(s.folder, "run"),
		"XDG_CONFIG_HOME="+filepath.Join(s.folder, "home"), "PULSE_RUNTIME_PATH="+filepath.Join(s.folder, "run"), "PULSE_SERVER=unix:"+filepath.Join(s.folder, "run", "native"),
		"PULSE_STATE_PATH="+filepath.Join(s.folder, "home")), more...)
}

// start starts the server and waits until it answers.
func (s *server) start() {
	s.t.Helper()
	s.run = exec.Command("pulseaudio", "--system=no", "--daemonize=no", "--high-priority=yes", "--exit-idle-time=-1", "--use-pid-file=no", "-n",
		"--load=module-null-sink sink_name=nul rate=48000", "--load=module-native-protocol-unix socket="+filepath.Join(s.folder, "run", "native"))
	s.run.Env = s.env()
	require.NoError(s.t, s.run.Start())
	s.ended = make(chan struct{})
	go func(run *exec.Cmd, ended chan struct{}) { run.Wait(); close(ended) }(s.run, s.ended)
	for range 200 {
		probe := exec.Command("pactl", "info")
		probe.Env = s.env()
		if probe.Run() == nil {
			return
		}
		select {
		case <-s.ended:
			s.t.Fatal("the sound server ended")
		default:
		}
	}
	s.t.Fatal("the sound server does not answer")
}

// stop kills the server.
func (s *server) stop() {
	if s.run == nil {
		return
	}
	s.run.Process.Kill()
	<-s.ended
	s.run = nil
	os.Remove(filepath.Join(s.folder, "run", "native"))
}

// use has this process use the server.
func (s *server) use() {
	s.t.Helper()
	s.t.Setenv("HOME", filepath.Join(s.folder, "home"))
	s.t.Setenv("XDG_RUNTIME_DIR", filepath.Join(s.folder, "run"))
	s.t.Setenv("XDG_CONFIG_HOME", filepath.Join(s.folder, "home"))
	s.t.Setenv("PULSE_RUNTIME_PATH", filepath.Join(s.folder, "run"))
	s.t.Setenv("PULSE_SERVER", "unix:"+filepath.Join(s.folder, "run", "native"))
}
