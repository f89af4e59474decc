package book

import (
	"context"
	"encoding/binary"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
)

// commits are the transactions in a ledger's write-ahead log: frames that say how
// large the file is after them (SQLite, Database File Format, §4.1: a header of 32
// bytes, then frames of 24 bytes and a page).
func commits(t *testing.T, l *ledger.Ledger) (n int) {
	t.Helper()
	log, err := os.ReadFile(l.Path() + "-wal")
	require.NoError(t, err)
	if len(log) < 32 {
		return 0
	}
	page := int(binary.BigEndian.Uint32(log[8:]))
	salt := string(log[16:24])
	for at := 32; at+24+page <= len(log); at += 24 + page {
		if string(log[at+8:at+16]) == salt && binary.BigEndian.Uint32(log[at+4:]) != 0 {
			n++
		}
	}
	return n
}

// A list of forty names is one transaction, and the clinic with them another: a
// laptop that is switched off meanwhile has all of them or none.
func TestAListOfNamesIsOneTransaction(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	ctx := context.Background()
	var names []string
	for i := range 40 {
		names = append(names, fmt.Sprintf("Player %02d", i+1))
	}
	before := commits(t, l)
	_, err := b.BeginClinic(ctx, strings.Join(names, "\n"), []string{"Bay"}, clinic.Rule{Reps: 5})
	require.NoError(t, err)
	require.Equal(t, 2, commits(t, l)-before)
	require.Len(t, read(t, l, "").Players(), 40)

	before = commits(t, l)
	require.NoError(t, b.JoinClinic(ctx, "Late One\nLate Two\nPlayer 07"))
	require.Equal(t, 2, commits(t, l)-before)
}
