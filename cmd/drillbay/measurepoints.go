package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"drillbay/camera/clip"
	"drillbay/camera/lens"
	"drillbay/drills/measure"
)

// ground is the known length on the ground, nil for none.
func (m *measureCommand) ground(info clip.Info) (*measure.Ground, error) {
	refuse := func(say string) (*measure.Ground, error) { return nil, fmt.Errorf("%w: %s", errUse, say) }
	switch {
	case m.Ground == "" && m.Ball != "":
		return refuse("--ball is for --ground, the length that is known")
	case m.Ground == "" && m.LensHeight != 0:
		return refuse("--lens-height is for --ground, the length that is known")
	case m.Ground == "":
		return nil, nil
	case m.Ball == "" && m.LensHeight == 0:
		return refuse("--ground needs --ball for the distance, --lens-height for the field of view, or both")
	case m.Ball != "" && m.Distance != 0:
		return refuse("--ground with --ball gives the distance: leave out --distance or --ball")
	case m.LensHeight != 0 && m.Fov != 0:
		return refuse("--ground with --lens-height gives the field of view: leave out --fov or --lens-height")
	}
	n, ok := numbers(m.Ground, 5)
	if !ok {
		return refuse(fmt.Sprintf("--ground %q is not LENGTH,X1,Y1,X2,Y2, a length in metres and its two ends in pixels, 1.2,431,402,446,355 say", m.Ground))
	}
	g := measure.Ground{Height: m.LensHeight}
	g.Length = n[0]
	g.From, g.To = shrunk(lens.Point{U: n[1], V: n[2]}, info), shrunk(lens.Point{U: n[3], V: n[4]}, info)
	if m.Ball != "" {
		p, err := parsePoint("ball", m.Ball)
		if err != nil {
			return nil, err
		}
		p = shrunk(p, info)
		g.Ball = &p
	}
	return &g, nil
}

// shrunk converts a point of the picture as taken into one of the smaller picture that is
// read.
func shrunk(p lens.Point, info clip.Info) lens.Point {
	return lens.Point{U: p.U / float64(info.Shrunk), V: p.V / float64(info.Shrunk)}
}

func parsePoint(flag, s string) (lens.Point, error) {
	n, ok := numbers(s, 2)
	if !ok {
		return lens.Point{}, fmt.Errorf("%w: --%s %q is not X,Y in pixels, 480,270 say", errUse, flag, s)
	}
	return lens.Point{U: n[0], V: n[1]}, nil
}

// numbers are so many numbers with commas between them.
func numbers(s string, count int) (out []float64, ok bool) {
	for part := range strings.SplitSeq(s, ",") {
		x, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, false
		}
		out = append(out, x)
	}
	return out, len(out) == count
}

// joined returns the words of a command line with each negative value joined to its flag,
// --roll=-2, so that the value is not taken for a flag.
func joined(args []string) (out []string) {
	for i, a := range args {
		if a == "--" {
			return append(out, args[i:]...)
		}
		last := len(out) - 1
		if last >= 0 && negative(a) && strings.HasPrefix(out[last], "--") && !strings.Contains(out[last], "=") {
			out[last] += "=" + a
			continue
		}
		out = append(out, a)
	}
	return out
}

// negative reports whether a word is a negative number, or numbers with commas
// of which the first is negative.
func negative(word string) bool {
	first, _, _ := strings.Cut(word, ",")
	_, err := strconv.ParseFloat(first, 64)
	return err == nil && strings.HasPrefix(word, "-")
}
