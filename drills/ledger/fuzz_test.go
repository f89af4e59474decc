package ledger

import (
	"bytes"
	"context"
	"encoding/csv"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// FuzzImport: whatever is imported, it is taken as a whole or refused with a
// sentence, and the ledger stays sound.
func FuzzImport(f *testing.F) {
	l, err := open(filepath.Join(f.TempDir(), FileName), settings{busy: time.Second, now: time.Now})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { l.Close() })
	f.Fuzz(func(t *testing.T, text []byte) {
		ctx := context.Background()
		var before, after bytes.Buffer
		if err := l.Export(ctx, &before, ""); err != nil {
			t.Fatal(err)
		}
		_, err := l.Import(ctx, bytes.NewReader(text))
		if cerr := l.Check(ctx); cerr != nil {
			t.Fatal(cerr)
		}
		if err == nil {
			return
		}
		if !strings.HasPrefix(err.Error(), "nothing is imported") {
			t.Fatalf("not said: %v", err)
		}
		if err := l.Export(ctx, &after, ""); err != nil || !bytes.Equal(before.Bytes(), after.Bytes()) {
			t.Fatalf("a refused import changed something: %v", err)
		}
	})
}

// FuzzNamesInTables: no name becomes a formula of a spreadsheet, or another
// cell or row.
func FuzzNamesInTables(f *testing.F) {
	f.Fuzz(func(t *testing.T, name, note string) {
		r := record("Ada", 1)
		r.Player.Name, r.Note, r.Coach = name, note, ""
		var out bytes.Buffer
		if err := WriteCSV(&out, []Record{r}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil || len(rows) != 2 || len(rows[0]) != len(rows[1]) {
			t.Fatalf("%d rows, %v", len(rows), err)
		}
		for i, cell := range rows[1] {
			if cell != "" && strings.ContainsRune("=+@\t\r\n", rune(cell[0])) || strings.HasPrefix(cell, "-") && (rows[0][i] == "player" || rows[0][i] == "note") {
				t.Fatalf("%q in %s", cell, rows[0][i])
			}
		}
	})
}
