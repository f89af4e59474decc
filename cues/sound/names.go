package sound

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"drillbay/assets"
)

// speakWithin is the time that the system's speech program may take for a name.
const speakWithin = 4 * time.Second

// longestName is the number of letters of a name that are spoken at most.
const longestName = 40

// program is the system's own speech program. The text goes in by its
// standard input, never as an argument; what it says comes back as a WAV file
// on its standard output, or in the file that {file} stands for.
type program struct {
	path string
	args []string
	// voice is a folder without which the program does not speak, "" for none; after is a
	// text that it is given to say after the name.
	voice, after string
	// latin says that it reads plain Latin letters only.
	latin bool
}

// findPrograms looks for speech programs, the best one first.
func findPrograms(system string, look func(string) (string, error)) (found []program) {
	for _, p := range programs(system) {
		if _, err := look(p.voice); p.voice != "" && err != nil {
			continue
		}
		if path, err := look(p.path); err == nil {
			p.path = path
			found = append(found, p)
		}
	}
	return found
}

// installed finds a program, or a folder by its whole name.
func installed(name string) (string, error) {
	if filepath.IsAbs(name) {
		_, err := os.Stat(name)
		return name, err
	}
	return exec.LookPath(name)
}

func programs(system string) []program {
	switch system {
	case "darwin":
		return []program{{path: "say", args: []string{"-o", "{file}", "--file-format=WAVE", "--data-format=LEI16@22050", "-f", "-"}}}
	case "windows":
		return []program{{path: "powershell", args: []string{"-NoProfile", "-NonInteractive", "-Command",
			"Add-Type -AssemblyName System.Speech; $s = New-Object System.Speech.Synthesis.SpeechSynthesizer; " +
				"$f = New-Object System.Speech.AudioFormat.SpeechAudioFormatInfo 22050, Sixteen, Mono; " +
				"$s.SetOutputToWaveFile('{file}', $f); $s.Speak([Console]::In.ReadToEnd()); $s.Dispose()"}}}
	}
	return []program{
		// The voice of the phrases. A name by itself it may speak with a thump, and letters
		// that it does not know it spells or leaves out.
		{path: "text2wave", args: []string{"-eval", "(voice_cmu_us_slt_arctic_hts)", "-o", "{file}"},
			voice: "/usr/share/festival/voices/us/cmu_us_slt_arctic_hts", after: ", your turn.", latin: true},
		{path: "espeak-ng", args: []string{"--stdin", "--stdout"}}, {path: "espeak", args: []string{"--stdin", "--stdout"}},
	}
}

// speak has a text spoken into samples.
func (p program) speak(ctx context.Context, text string) (samples []float64, rate int, err error) {
	ctx, cancel := context.WithTimeout(ctx, speakWithin)
	defer cancel()
	folder, err := os.MkdirTemp("", "drillbay-voice-")
	if err != nil {
		return nil, 0, fmt.Errorf("no place for a spoken name: %w", err)
	}
	defer os.RemoveAll(folder)
	file, args := filepath.Join(folder, "name.wav"), make([]string, len(p.args))
	inFile := false
	for i, a := range p.args {
		args[i] = strings.ReplaceAll(a, "{file}", file)
		inFile = inFile || args[i] != a
	}
	run := exec.CommandContext(ctx, p.path, args...)
	run.Stdin = strings.NewReader(text + p.after + "\n")
	run.WaitDelay = time.Second
	out := &bounded{most: 4 << 20, full: cancel}
	run.Stdout = out
	if err := run.Run(); err != nil {
		return nil, 0, fmt.Errorf("the speech program %s did not speak: %w", filepath.Base(p.path), err)
	}
	sound := out.kept.Bytes()
	if inFile {
		if sound, err = os.ReadFile(file); err != nil {
			return nil, 0, fmt.Errorf("the speech program %s left nothing: %w", filepath.Base(p.path), err)
		}
	}
	return assets.Sound(sound)
}

// words are a name as the program can read it, "" where it cannot.
func (p program) words(name string) string {
	text := spoken(name)
	if !p.latin {
		return text
	}
	var b strings.Builder
	for _, r := range norm.NFD.String(text) {
		switch plain, known := plainLetters[r]; {
		case known:
			b.WriteString(plain)
		case r < unicode.MaxASCII:
			b.WriteRune(r)
		case !unicode.IsMark(r):
			return ""
		}
	}
	return b.String()
}

// plainLetters are the Latin letters that are no letter with a mark.
var plainLetters = map[rune]string{'ß': "ss", 'æ': "ae", 'Æ': "Ae", 'œ': "oe", 'Œ': "Oe", 'ø': "o", 'Ø': "O", 'ł': "l", 'Ł': "L", 'đ': "d", 'Đ': "D", 'ð': "d", 'Ð': "D", 'þ': "th", 'Þ': "Th", 'ı': "i"}

// name has a name spoken by the first program that can.
func name(ctx context.Context, programs []program, name string) (samples []float64, rate int, err error) {
	err = errUnspoken
	for _, p := range programs {
		text := p.words(name)
		if text == "" {
			continue
		}
		if samples, rate, err = p.speak(ctx, text); err == nil {
			return samples, rate, nil
		}
	}
	return nil, 0, err
}

var errUnspoken = errors.New("no speech program reads this name")

// bounded keeps so many bytes and no more: then it ends what writes.
type bounded struct {
	kept bytes.Buffer // not embedded: its ReadFrom would go past Write
	most int
	full func()
}

func (b *bounded) Write(p []byte) (int, error) {
	if b.kept.Len()+len(p) > b.most {
		b.full()
		return 0, fmt.Errorf("more than %d bytes", b.most)
	}
	return b.kept.Write(p)
}

// spoken returns the part of a name that is given to the speech program: letters, digits
// and what belongs in names, nothing that could be a command to it.
func spoken(name string) string {
	var b strings.Builder
	n := 0
	for _, r := range name {
		if n++; n > longestName {
			break
		}
		if unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r) || r == '\'' || r == '-' || r == '.' {
			b.WriteRune(r)
		} else {
			b.WriteRune(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

const system = runtime.GOOS
