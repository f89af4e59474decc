package window

import (
	"context"
	"io"
	"io/fs"
	"os/exec"
	"strings"
	"time"
	"unicode/utf8"
)

// longestPaste bounds what is pasted or dropped, bytes.
const longestPaste = 64 << 10

// clipboards are the programs that tell what was copied, by system: ebiten
// does not.
func clipboards() [][]string {
	return [][]string{
		{"wl-paste", "--no-newline"}, {"xclip", "-o", "-selection", "clipboard"}, {"xsel", "-ob"},
		{"pbpaste"}, {"powershell", "-NoProfile", "-Command", "Get-Clipboard"},
	}
}

// clipboard is the text that was copied, "" when there is none or no program
// tells it.
func clipboard(ctx context.Context) string {
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	for _, c := range clipboards() {
		path, err := exec.LookPath(c[0])
		if err != nil {
			continue
		}
		if out, err := exec.CommandContext(ctx, path, c[1:]...).Output(); err == nil && len(out) > 0 {
			return text(out)
		}
	}
	return ""
}

// dropped is the text of the files that were dropped on the window.
func dropped(files fs.FS) string {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		return ""
	}
	var b strings.Builder
	for _, e := range entries {
		f, err := files.Open(e.Name())
		if err != nil {
			continue
		}
		in, err := io.ReadAll(io.LimitReader(f, longestPaste))
		f.Close()
		if err == nil {
			b.WriteString(text(in))
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// text returns the part of pasted bytes that can be typed, "" when they are no text.
func text(in []byte) string {
	in = in[:min(len(in), longestPaste)]
	for i := 0; i < utf8.UTFMax && len(in) > 0 && !utf8.Valid(in); i++ {
		in = in[:len(in)-1] // cut within a letter
	}
	if !utf8.Valid(in) || strings.ContainsRune(string(in), 0) {
		return ""
	}
	return strings.TrimPrefix(string(in), "\ufeff")
}
