package main

import (
	"fmt"
	"io"

	"github.com/gen2brain/malgo"

	"drillbay/camera"
)

type devicesCommand struct{}

// Run lists cameras with their modes, microphones and sound outputs.
func (devicesCommand) Run(c console) error {
	list := camera.Devices()
	fmt.Fprintln(c.out, "Cameras, the best mode first:")
	if len(list) == 0 {
		fmt.Fprintln(c.out, "  none is connected. drillbay then offers the virtual bay.")
	}
	for _, d := range list {
		fmt.Fprintf(c.out, "  %s\n", d.Name)
		if d.Err != nil {
			fmt.Fprintf(c.out, "    %v\n", d.Err)
		}
		for _, m := range d.Modes {
			fmt.Fprintf(c.out, "    %s\n", m)
		}
	}
	if err := listSound(c.out); err != nil {
		fmt.Fprintf(c.out, "Sound cannot be looked at: %v\n", err)
	}
	return nil
}

// listSound lists microphones and sound outputs.
func listSound(w io.Writer) error {
	audio, err := malgo.InitContext(nil, malgo.ContextConfig{}, nil)
	if err != nil {
		return err
	}
	defer func() {
		_ = audio.Uninit()
		audio.Free()
	}()
	for _, k := range []struct {
		kind  malgo.DeviceType
		title string
		none  string
	}{
		{malgo.Capture, "Microphones:", "none is connected. Strikes are then seen, not heard."},
		{malgo.Playback, "Sound outputs:", "none is connected. Verdicts are then shown only."},
	} {
		fmt.Fprintln(w, k.title)
		found, err := audio.Devices(k.kind)
		if err != nil {
			return err
		}
		if len(found) == 0 {
			fmt.Fprintf(w, "  %s\n", k.none)
		}
		for _, d := range found {
			usual := ""
			if d.IsDefault != 0 {
				usual = " (the usual one)"
			}
			fmt.Fprintf(w, "  %s%s\n", d.Name(), usual)
		}
	}
	return nil
}
