// Package soundtest is a sound server for tests: what is played through it can
// be recorded, and what is recorded can be heard by the program under test.
package soundtest

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Server is a PulseAudio server of a test's own: its own run-time folder and
// one sink that plays to nowhere, whose monitor hears what a listener would.
type Server struct {
	t      testing.TB
	folder string
	run    *exec.Cmd
	ended  chan struct{}
}

// New prepares a server, which Start starts; the test's end stops it. The test
// is skipped, by name, where the programs are not installed.
func New(t testing.TB) *Server {
	t.Helper()
	for _, tool := range []string{"pulseaudio", "parec", "pacat", "pactl"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: what a listener would hear is not recorded", tool)
		}
	}
	s := &Server{t: t, folder: t.TempDir()}
	err := os.Chmod(s.folder, 0o700)
	for _, d := range []string{"run", "home"} {
		if err == nil {
			err = os.Mkdir(filepath.Join(s.folder, d), 0o700)
		}
	}
	if err == nil {
		// ALSA programs reach the server by its plugin.
		err = os.WriteFile(filepath.Join(s.folder, "home", ".asoundrc"), []byte("pcm.!default { type pulse }\nctl.!default { type pulse }\n"), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Stop)
	return s
}

// settings returns the environment that leads a program to the server.
func (s *Server) settings() map[string]string {
	run, home := filepath.Join(s.folder, "run"), filepath.Join(s.folder, "home")
	return map[string]string{
		"HOME": home, "XDG_RUNTIME_DIR": run, "XDG_CONFIG_HOME": home, "PULSE_RUNTIME_PATH": run,
		"PULSE_STATE_PATH": home, "PULSE_SERVER": "unix:" + filepath.Join(run, "native"),
	}
}

// Env is the environment of a program that is to use the server.
func (s *Server) Env(more ...string) []string {
	env := os.Environ()
	for name, value := range s.settings() {
		env = append(env, name+"="+value)
	}
	return append(env, more...)
}

// Use has this process use the server.
func (s *Server) Use(t *testing.T) {
	t.Helper()
	for name, value := range s.settings() {
		t.Setenv(name, value)
	}
}

// Start starts the server and waits until it answers.
func (s *Server) Start() {
	s.t.Helper()
	s.run = exec.Command("pulseaudio", "--system=no", "--daemonize=no", "--high-priority=yes", "--exit-idle-time=-1", "--use-pid-file=no", "-n",
		"--load=module-null-sink sink_name=nul rate=48000", "--load=module-native-protocol-unix socket="+filepath.Join(s.folder, "run", "native"))
	s.run.Env = s.Env()
	if err := s.run.Start(); err != nil {
		s.t.Fatal(err)
	}
	s.ended = make(chan struct{})
	go func(run *exec.Cmd, ended chan struct{}) { _ = run.Wait(); close(ended) }(s.run, s.ended)
	for range 200 {
		probe := exec.Command("pactl", "info")
		probe.Env = s.Env()
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

// Stop kills the server.
func (s *Server) Stop() {
	if s.run == nil {
		return
	}
	_ = s.run.Process.Kill()
	<-s.ended
	s.run = nil
	_ = os.Remove(filepath.Join(s.folder, "run", "native"))
}

// Plug gives the server a microphone that hears what the sink plays, as the
// default one. What Plug returns makes it give nothing, or give again.
func (s *Server) Plug() (silence func(on bool)) {
	s.t.Helper()
	s.control("load-module", "module-remap-source", "master=nul.monitor", "source_name=microphone")
	s.control("set-default-source", "microphone")
	return func(on bool) {
		s.control("suspend-source", "microphone", map[bool]string{true: "1", false: "0"}[on])
	}
}

// control tells the running server something and returns its answer.
func (s *Server) control(args ...string) string {
	s.t.Helper()
	run := exec.Command("pactl", args...)
	run.Env = s.Env()
	out, err := run.Output()
	if err != nil {
		s.t.Fatalf("pactl %v: %v", args, err)
	}
	return strings.TrimSpace(string(out))
}

// Listen starts recording what the server's sink plays: 16-bit little endian
// samples of one channel, 48 kHz. It ends with the test.
func (s *Server) Listen() io.Reader {
	s.t.Helper()
	run := exec.Command("parec", "-d", "nul.monitor", "--raw", "--format=s16le", "--rate=48000", "--channels=1", "--latency-msec=50")
	run.Env = s.Env()
	out, err := run.StdoutPipe()
	if err == nil {
		err = run.Start()
	}
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { _ = run.Process.Kill(); _ = run.Wait() })
	return out
}

// Used reports whether a program plays to the server, and whether one listens.
func (s *Server) Used() (plays, listens bool) {
	s.t.Helper()
	return s.control("list", "short", "sink-inputs") != "", s.control("list", "short", "source-outputs") != ""
}

// Played is a player's report of a Play.
type Played struct {
	Underruns int // times that the player came too late: silence was put in
}

// Play plays samples, −1 to 1 at 48 kHz, 32-bit floats little endian, and
// waits for their end.
func (s *Server) Play(raw io.Reader) Played {
	s.t.Helper()
	run := exec.Command("pacat", "--playback", "--raw", "--format=float32le", "--rate=48000", "--channels=1", "--latency-msec=500", "--verbose")
	run.Env, run.Stdin = s.Env("LC_ALL=C"), raw
	var said strings.Builder
	run.Stderr = &said
	if err := run.Run(); err != nil {
		s.t.Fatalf("pacat: %v: %s", err, said.String())
	}
	return Played{Underruns: strings.Count(said.String(), "Stream underrun")}
}

const helperName = "DRILLBAY_TEST_HELPER"

// Program starts this test binary again, for one of its helpers, which is to
// use the server; the program is not started yet.
func (s *Server) Program(helper string) *exec.Cmd {
	cmd := Program(helper)
	cmd.Env = s.Env(helperName + "=" + helper)
	return cmd
}

// Program is the same without a server.
func Program(helper string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], "-test.run=^"+helper+"$", "-test.v")
	cmd.Env = append(os.Environ(), helperName+"="+helper)
	return cmd
}

// Helper skips what is no test but a program of one.
func Helper(t *testing.T) {
	t.Helper()
	if os.Getenv(helperName) != t.Name() {
		t.Skip("a program that another test starts")
	}
}
