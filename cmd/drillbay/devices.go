package main

import (
	"fmt"
	"io"

	"drillbay/camera"
	"drillbay/cues/card"
	"drillbay/cues/ear"
	"drillbay/cues/sound"
)

type devicesCommand struct{}

// Run lists cameras with their modes, microphones and sound outputs.
func (devicesCommand) Run(c console) error {
	_, restore := card.Hush()
	defer restore()
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
	heard, err := ear.Microphones()
	listNames(c.out, "Microphones, the one that is used first:", heard, err, "none is connected. Strikes are then seen, not heard.")
	played, err := sound.Outputs()
	listNames(c.out, "Sound outputs, the one that is used first:", played, err, "none is connected. Verdicts are then shown only.")
	return nil
}

func listNames(w io.Writer, title string, names []string, err error, none string) {
	fmt.Fprintln(w, title)
	switch {
	case err != nil:
		fmt.Fprintf(w, "  they cannot be listed: %v\n", err)
	case len(names) == 0:
		fmt.Fprintf(w, "  %s\n", none)
	}
	for _, n := range names {
		fmt.Fprintf(w, "  %s\n", n)
	}
}
