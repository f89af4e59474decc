package app

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// units says whether lengths are shown in inches; the ledger and the files keep metres.
type units bool

const (
	metric   units = false
	imperial units = true
)

const cmInch, mYard = 2.54, 0.9144

// short is a length in centimetres or inches, whole.
func (u units) short(cm float64) string {
	if u == imperial {
		return fmt.Sprintf("%.0f in", cm/cmInch)
	}
	return fmt.Sprintf("%.0f cm", cm)
}

// club is a club's length: to half an inch, or as it was given.
func (u units) club(cm float64) string {
	if u == imperial {
		return fmt.Sprintf("%g in", math.Round(2*cm/cmInch)/2)
	}
	return fmt.Sprintf("%g cm", math.Round(cm*10)/10)
}

// far is a distance in metres or yards, with so many decimals.
func (u units) far(m float64, decimals int) string {
	if u == imperial {
		return fmt.Sprintf("%.*f yd", decimals, m/mYard)
	}
	return fmt.Sprintf("%.*f m", decimals, m)
}

func (c *canvas) units() units { return units(c.setup.Inches) }

func (a *App) units() units { return units(a.setup.Inches) }

// inCentimetres finds a length in a text that comes from elsewhere, or two: "from
// −5 to 8 cm".
var inCentimetres = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?:(\d+(?:\.\d+)?) to ([−-]?))?(\d+(?:\.\d+)?) cm\b`)
})

// text is a text with its lengths in these units: what is read of a body, what a
// drill watches and the causes tell them in centimetres.
func (u units) text(s string) string {
	if u == metric || !strings.Contains(s, " cm") {
		return s
	}
	in := func(cm string) string {
		v, err := strconv.ParseFloat(cm, 64)
		if err != nil {
			return cm
		}
		return u.short(v)
	}
	return inCentimetres().ReplaceAllStringFunc(s, func(length string) string {
		m := inCentimetres().FindStringSubmatch(length)
		if m[1] == "" {
			return in(m[3])
		}
		return strings.TrimSuffix(in(m[1]), " in") + " to " + m[2] + in(m[3])
	})
}
