package window

import (
	"runtime"
	"sync/atomic"
	"unsafe"

	"github.com/ebitengine/purego"
	"golang.org/x/sys/unix"
)

// Of the X Input Extension, version 2 (XI2.h).
const (
	rawPress, rawRelease = 15, 16
	allMasters           = 1
	genericEvent         = 35
)

// xlib are the functions of Xlib and libXi that tell of every press of a button.
type xlib struct {
	open, root, connection, pending, next, data, free, flush, mapping, at uintptr
	extension, version, choose                                            uintptr
}

func loadXlib() (x xlib, ok bool) {
	for _, l := range []struct {
		name string
		of   map[string]*uintptr
	}{
		{"libX11.so.6", map[string]*uintptr{"XOpenDisplay": &x.open, "XDefaultRootWindow": &x.root, "XConnectionNumber": &x.connection, "XPending": &x.pending, "XNextEvent": &x.next,
			"XGetEventData": &x.data, "XFreeEventData": &x.free, "XFlush": &x.flush, "XGetPointerMapping": &x.mapping, "XQueryPointer": &x.at, "XQueryExtension": &x.extension}},
		{"libXi.so.6", map[string]*uintptr{"XIQueryVersion": &x.version, "XISelectEvents": &x.choose}},
	} {
		lib, err := purego.Dlopen(l.name, purego.RTLD_NOW|purego.RTLD_GLOBAL)
		if err != nil {
			return x, false
		}
		for name, f := range l.of {
			if *f, err = purego.Dlsym(lib, name); err != nil {
				return x, false
			}
		}
	}
	return x, true
}

func call(f uintptr, args ...uintptr) uintptr {
	r, _, _ := purego.SyscallN(f, args...)
	return r
}

// clicks tells presses of the first button on a window and their ends, on a
// connection of its own: only one program may ask for a window's presses, but any
// number for raw ones. It reports false where that cannot be had.
func (d display) clicks(window uint32) (end func(), ok bool) {
	if unsafe.Sizeof(uintptr(0)) != 8 {
		return nil, false // the events below are laid out for 64 bits
	}
	x, ok := loadXlib()
	if !ok {
		return nil, false
	}
	begun, over := make(chan bool), &atomic.Bool{}
	go x.follow(d, uintptr(window), begun, over)
	return func() { over.Store(true) }, <-begun
}

func (x xlib) follow(d display, window uintptr, begun chan<- bool, over *atomic.Bool) {
	runtime.LockOSThread()
	dpy := call(x.open, 0)
	var opcode, event, wrong, major, minor int32 = 0, 0, 0, 2, 2
	name := append([]byte("XInputExtension"), 0)
	if dpy == 0 || call(x.extension, dpy, pointer(&name[0]), pointer(&opcode), pointer(&event), pointer(&wrong)) == 0 ||
		int32(call(x.version, dpy, pointer(&major), pointer(&minor))) != 0 {
		begun <- false
		return
	}
	root := call(x.root, dpy)
	bits := [4]byte{}
	bits[rawPress>>3] |= 1 << (rawPress & 7)
	bits[rawRelease>>3] |= 1 << (rawRelease & 7)
	mask := struct {
		device, size int32
		bits         *byte
	}{allMasters, int32(len(bits)), &bits[0]}
	call(x.choose, dpy, root, pointer(&mask), 1)
	call(x.flush, dpy)
	runtime.KeepAlive(&bits)
	var order [32]byte // raw events tell the button before the user's mapping
	call(x.mapping, dpy, pointer(&order[0]), uintptr(len(order)))
	begun <- true
	fds := []unix.PollFd{{Fd: int32(call(x.connection, dpy)), Events: unix.POLLIN}}
	down := false
	for !over.Load() {
		if int32(call(x.pending, dpy)) == 0 {
			_, _ = unix.Poll(fds, 200)
			continue
		}
		var e [24]uint64 // XEvent
		call(x.next, dpy, pointer(&e[0]))
		if int32(e[0]) != genericEvent || int32(e[4]) != opcode || int32(call(x.data, dpy, pointer(&e[0]))) == 0 {
			continue
		}
		kind := int32(e[4] >> 32)
		button := *(*int32)(unsafe.Add(*(*unsafe.Pointer)(unsafe.Pointer(&e[6])), 56)) // XIRawEvent.detail
		call(x.free, dpy, pointer(&e[0]))
		if button < 1 || int(button) > len(order) || order[button-1] != 1 && (order[button-1] != 0 || button != 1) {
			continue
		}
		px, py, on := x.where(dpy, root, window)
		switch {
		case kind == rawPress && on:
			down = true
			d.click(true, px, py)
		case kind == rawRelease && down:
			down = false
			d.click(false, px, py)
		}
	}
}

// where is the pointer, px of the window, and whether it is on that window.
func (x xlib) where(dpy, root, window uintptr) (px, py int, on bool) {
	var r, child uintptr
	var rx, ry, wx, wy int32
	var state uint32
	ask := func(w uintptr) {
		call(x.at, dpy, w, pointer(&r), pointer(&child), pointer(&rx), pointer(&ry), pointer(&wx), pointer(&wy), pointer(&state))
	}
	child = root
	for range 8 { // down to it, past a window manager's frame
		if child == 0 || child == window {
			break
		}
		ask(child)
	}
	on = child == window
	ask(window)
	return int(wx), int(wy), on
}

func pointer[T any](v *T) uintptr { return uintptr(unsafe.Pointer(v)) }
