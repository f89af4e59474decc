package paint

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
)

// luminance is the relative luminance of a colour (WCAG 2.x).
func luminance(c color.NRGBA) float64 {
	line := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*line(c.R) + 0.7152*line(c.G) + 0.0722*line(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrastAgreesWithPublishedValues(t *testing.T) {
	// WCAG 2.x, on white: 000000 21; 767676 4.5422; 777777 4.4781; FF0000 3.9985.
	white := hex(0xFFFFFF)
	for v, want := range map[uint32]float64{0x000000: 21, 0x767676: 4.5422, 0x777777: 4.4781, 0xFF0000: 3.9985} {
		require.InDelta(t, want, contrast(hex(v), white), 1e-4, "%06X", v)
	}
}

func TestEveryTextIsReadableInBothThemes(t *testing.T) {
	for name, theme := range map[string]Theme{"daylight": Daylight(), "indoors": Indoors()} {
		for _, ground := range []app.Role{app.Page, app.Plate, app.BandInk} {
			// WCAG 2.x: text 4.5 : 1, marks 3 : 1.
			for _, role := range []app.Role{app.Ink, app.Quiet, app.Inside, app.Outside} {
				require.GreaterOrEqual(t, contrast(theme[role], theme[ground]), 4.5, "%s: %v on %v", name, role, ground)
			}
			require.GreaterOrEqual(t, contrast(theme[app.Edge], theme[ground]), 3.0, "%s: edge on %v", name, ground)
		}
		require.GreaterOrEqual(t, contrast(theme[app.Page], theme[app.Ink]), 4.5, "%s: inverted", name)
		require.GreaterOrEqual(t, contrast(theme[app.Core], theme[app.Casing]), 4.5, "%s: words on the picture", name)
	}
}

func TestLinesShowOnAnyPicture(t *testing.T) {
	// A core in a casing: whatever lies behind, one of the two stands out.
	// The worst background lies between both: sqrt((Lcore+.05)/(Lcasing+.05)).
	theme := Daylight()
	for _, role := range []app.Role{app.Core, app.CoreInside, app.CoreOutside} {
		got := math.Sqrt((luminance(theme[role]) + 0.05) / (luminance(theme[app.Casing]) + 0.05))
		require.GreaterOrEqual(t, got, 3.0, "%v", role)
		worst := math.Inf(1)
		for v := range 256 {
			gray := color.NRGBA{uint8(v), uint8(v), uint8(v), 255}
			worst = min(worst, max(contrast(theme[role], gray), contrast(theme[app.Casing], gray)))
		}
		require.GreaterOrEqual(t, worst, 3.0, "%v on any grey", role)
	}
}

// lab is a colour in CIE L*a*b* (D65) from linear RGB.
func lab(r, g, b float64) (l, aa, bb float64) {
	x := (0.4124564*r + 0.3575761*g + 0.1804375*b) / 0.95047
	y := 0.2126729*r + 0.7151522*g + 0.0721750*b
	z := (0.0193339*r + 0.1191920*g + 0.9503041*b) / 1.08883
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	return 116*f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))
}

// ciede2000 is the colour difference of Sharma, Wu and Dalal 2005.
func ciede2000(l1, a1, b1, l2, a2, b2 float64) float64 {
	deg := 180 / math.Pi
	c1, c2 := math.Hypot(a1, b1), math.Hypot(a2, b2)
	c7 := math.Pow((c1+c2)/2, 7)
	g := 0.5 * (1 - math.Sqrt(c7/(c7+math.Pow(25, 7))))
	a1, a2 = (1+g)*a1, (1+g)*a2
	c1, c2 = math.Hypot(a1, b1), math.Hypot(a2, b2)
	hue := func(a, b float64) float64 {
		if a == 0 && b == 0 {
			return 0
		}
		h := math.Atan2(b, a) * deg
		if h < 0 {
			h += 360
		}
		return h
	}
	h1, h2 := hue(a1, b1), hue(a2, b2)
	dh := h2 - h1
	mean := (h1 + h2) / 2
	switch {
	case c1*c2 == 0:
		dh, mean = 0, h1+h2
	case math.Abs(h1-h2) > 180:
		if dh > 0 {
			dh -= 360
		} else {
			dh += 360
		}
		if h1+h2 < 360 {
			mean += 180
		} else {
			mean -= 180
		}
	}
	big := 2 * math.Sqrt(c1*c2) * math.Sin(dh/2/deg)
	lm, cm := (l1+l2)/2, (c1+c2)/2
	t := 1 - 0.17*math.Cos((mean-30)/deg) + 0.24*math.Cos(2*mean/deg) + 0.32*math.Cos((3*mean+6)/deg) - 0.20*math.Cos((4*mean-63)/deg)
	sl := 1 + 0.015*(lm-50)*(lm-50)/math.Sqrt(20+(lm-50)*(lm-50))
	sc, sh := 1+0.045*cm, 1+0.015*cm*t
	c7 = math.Pow(cm, 7)
	rt := -2 * math.Sqrt(c7/(c7+math.Pow(25, 7))) * math.Sin(2*30*math.Exp(-math.Pow((mean-275)/25, 2))/deg)
	dl, dc, dhh := (l2-l1)/sl, (c2-c1)/sc, big/sh
	return math.Sqrt(dl*dl + dc*dc + dhh*dhh + rt*dc*dhh)
}

func TestColourDifferenceAgreesWithPublishedValues(t *testing.T) {
	// Sharma, Wu & Dalal 2005, Table 1.
	require.InDelta(t, 2.0425, ciede2000(50, 2.6772, -79.7751, 50, 0, -82.7485), 1e-4)
	require.InDelta(t, 27.1492, ciede2000(50, 2.5, 0, 73, 25, -18), 1e-4)
	require.InDelta(t, 0.9082, ciede2000(2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514), 1e-4)
}

func TestTheSidesStayApartForEveryEye(t *testing.T) {
	// Full protanopia, deuteranopia and tritanopia, Machado, Oliveira and
	// Fernandes 2009, severity 1, on linear RGB (matrices from memory).
	eyes := map[string][9]float64{
		"normal": {1, 0, 0, 0, 1, 0, 0, 0, 1},
		"protan": {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
		"deutan": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
		"tritan": {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900},
	}
	line := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	for name, theme := range map[string]Theme{"daylight": Daylight(), "indoors": Indoors()} {
		for eye, m := range eyes {
			seen := func(r app.Role) [3]float64 {
				c := theme[r]
				v := [3]float64{line(c.R), line(c.G), line(c.B)}
				out := [3]float64{}
				for i := range out {
					out[i] = min(max(m[3*i]*v[0]+m[3*i+1]*v[1]+m[3*i+2]*v[2], 0), 1)
				}
				l, a, b := lab(out[0], out[1], out[2])
				return [3]float64{l, a, b}
			}
			for _, pair := range [][2]app.Role{{app.Ink, app.Inside}, {app.Ink, app.Outside}, {app.Inside, app.Outside}} {
				p, q := seen(pair[0]), seen(pair[1])
				got := ciede2000(p[0], p[1], p[2], q[0], q[1], q[2])
				require.GreaterOrEqual(t, got, 20.0, fmt.Sprintf("%s, %s: %v and %v", name, eye, pair[0], pair[1]))
			}
		}
	}
}
