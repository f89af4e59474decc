package main

import (
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// openSocket opens a network socket on this machine's own address.
func openSocket(t *testing.T) (shut func()) {
	t.Helper()
	fd, err := syscall.Socket(syscall.AF_INET, syscall.SOCK_DGRAM, 0)
	require.NoError(t, err)
	require.NoError(t, syscall.Bind(fd, &syscall.SockaddrInet4{Addr: [4]byte{127, 0, 0, 1}}))
	return func() { require.NoError(t, syscall.Close(fd)) }
}
