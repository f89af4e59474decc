package window

import (
	"io"
	"log"
	"os"
	"time"

	"github.com/ebitengine/purego"
	"github.com/jezek/xgb"
	"github.com/jezek/xgb/xproto"
)

// watch begins to look, and returns what ends it, nil where there is nothing to
// look at. Any number of programs may ask for a window's presses of keys and for
// its end (X Window System Protocol, ChangeWindowAttributes).
func (d display) watch() (end func()) {
	if os.Getenv("DISPLAY") == "" {
		return nil
	}
	xgb.Logger = log.New(io.Discard, "", 0)
	c, err := xgb.NewConn()
	if err != nil {
		return nil
	}
	w, ok := ours(c)
	if !ok || xproto.ChangeWindowAttributesChecked(c, w, xproto.CwEventMask,
		[]uint32{xproto.EventMaskKeyPress | xproto.EventMaskKeyRelease | xproto.EventMaskStructureNotify}).Check() != nil {
		c.Close()
		return nil
	}
	codes := keysyms(c)
	go d.follow(c, w, codes)
	return c.Close
}

// follow tells what happens to the window until the connection ends.
func (d display) follow(c *xgb.Conn, w xproto.Window, codes map[xproto.Keycode]int) {
	// A key that is held is let go and pressed again at the same instant.
	down, let := map[xproto.Keycode]bool{}, map[xproto.Keycode]xproto.Timestamp{}
	for {
		e, err := c.WaitForEvent()
		switch e := e.(type) {
		case nil:
			if err == nil {
				return // the connection is closed
			}
		case xproto.KeyReleaseEvent:
			if delete(let, e.Detail); down[e.Detail] {
				let[e.Detail] = e.Time
			}
			down[e.Detail] = false
		case xproto.KeyPressEvent:
			const chord = xproto.ModMaskControl | xproto.ModMask1 | xproto.ModMask4 // with these nothing is typed
			if key, ok := codes[e.Detail]; ok && (e.State&chord == 0 || !types(key)) {
				at, held := let[e.Detail]
				d.press(key, held && at == e.Time)
			}
			down[e.Detail] = true
		case xproto.DestroyNotifyEvent:
			if e.Window == w {
				d.gone()
			}
		}
	}
}

// keysyms are the keys by their codes.
func keysyms(c *xgb.Conn) map[xproto.Keycode]int {
	first, last := xproto.Setup(c).MinKeycode, xproto.Setup(c).MaxKeycode
	m, err := xproto.GetKeyboardMapping(c, first, byte(last-first)+1).Reply()
	out := map[xproto.Keycode]int{}
	if err != nil {
		return out
	}
	for i := 0; i <= int(last-first); i++ {
		if at := i * int(m.KeysymsPerKeycode); at < len(m.Keysyms) {
			out[first+xproto.Keycode(i)] = int(m.Keysyms[at])
		}
	}
	return out
}

// ours is the window of this process, by the number of the process that it
// tells (Extended Window Manager Hints, _NET_WM_PID), among those on the screen.
func ours(c *xgb.Conn) (xproto.Window, bool) {
	atom, err := xproto.InternAtom(c, true, uint16(len("_NET_WM_PID")), "_NET_WM_PID").Reply()
	if err != nil || atom.Atom == 0 {
		return 0, false
	}
	var find func(w xproto.Window, depth int) (xproto.Window, bool)
	find = func(w xproto.Window, depth int) (xproto.Window, bool) {
		p, err := xproto.GetProperty(c, false, w, atom.Atom, xproto.AtomCardinal, 0, 1).Reply()
		if err == nil && len(p.Value) == 4 && int(xgb.Get32(p.Value)) == os.Getpid() {
			return w, true
		}
		if depth == 0 {
			return 0, false
		}
		t, err := xproto.QueryTree(c, w).Reply()
		if err != nil {
			return 0, false
		}
		for _, child := range t.Children {
			if found, ok := find(child, depth-1); ok {
				return found, true
			}
		}
		return 0, false
	}
	return find(xproto.Setup(c).DefaultScreen(c).Root, 3)
}

// outlive keeps the program from being ended where it stands by Xlib: an error,
// as by a window that is not there any more, is passed over; once the display
// is gone, gone is called, which ends the program (Xlib, XSetErrorHandler and
// XSetIOErrorHandler).
func outlive(gone func()) {
	lib, err := purego.Dlopen("libX11.so.6", purego.RTLD_NOW|purego.RTLD_GLOBAL)
	if err != nil {
		return
	}
	for name, handler := range map[string]any{
		"XSetErrorHandler":   func(display, event uintptr) uintptr { return 0 },
		"XSetIOErrorHandler": func(display uintptr) uintptr { gone(); time.Sleep(time.Hour); return 0 },
	} {
		if f, err := purego.Dlsym(lib, name); err == nil {
			purego.SyscallN(f, purego.NewCallback(handler))
		}
	}
}
