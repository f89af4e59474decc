package main

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What macOS asks the user with is there: without these two a program that
// opens a camera or a microphone is ended.
func TestTheBundleSaysWhyItLooksAndListens(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "..", ".ci", "dist", "Info.plist"))
	require.NoError(t, err)
	defer f.Close()
	var texts []string
	for d := xml.NewDecoder(f); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if text, ok := token.(xml.CharData); ok && strings.TrimSpace(string(text)) != "" {
			texts = append(texts, strings.TrimSpace(string(text)))
		}
	}
	for _, key := range []string{"NSCameraUsageDescription", "NSMicrophoneUsageDescription", "CFBundleExecutable"} {
		require.Contains(t, texts, key)
	}
	require.Contains(t, texts, windowProgram)
}

// The menu entry begins the program in the folder that it was unpacked to.
func TestTheMenuEntry(t *testing.T) {
	if _, err := exec.LookPath("sh"); err != nil {
		t.Skip("there is no shell")
	}
	folder, data := filepath.Join(t.TempDir(), "a folder"), t.TempDir()
	require.NoError(t, os.Mkdir(folder, 0o755))
	for _, name := range []string{"install", "drillbay.desktop"} {
		b, err := os.ReadFile(filepath.Join("..", "..", ".ci", "dist", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), b, 0o755))
	}
	entry := filepath.Join(data, "applications", "drillbay.desktop")
	do := func(args ...string) {
		cmd := exec.Command("sh", append([]string{filepath.Join(folder, "install")}, args...)...)
		cmd.Env = append(os.Environ(), "XDG_DATA_HOME="+data)
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	do()
	b, err := os.ReadFile(entry)
	require.NoError(t, err)
	require.Contains(t, string(b), "\nExec=\""+folder+"/drillbay\"\n")
	require.NotContains(t, string(b), "@")
	do("remove")
	require.NoFileExists(t, entry)
}
