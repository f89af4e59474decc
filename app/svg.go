package app

import (
	"fmt"
	"strconv"
	"strings"
)

// onPaper are the colours of a drawing on paper.
var onPaper = map[Role]string{Page: "#ffffff", Plate: "#eef1f3", BandInk: "#d9e3e8", Ink: "#0e161b", Quiet: "#7d8a93", Edge: "#9aa5ad", Inside: "#0b55a6", Outside: "#9c4200"}

// svg begins a picture.
func svg(b *strings.Builder, w, h float64, title string) {
	fmt.Fprintf(b, `<svg viewBox="0 0 %s %s" role="img" aria-label="%s">`, number(w, 1), number(h, 1), escaped(title))
}

// shape is one shape as SVG, with what lies in it.
func shape(i Item, inner string) string {
	colour := onPaper[i.Role]
	switch i.Shape {
	case Fill:
		return fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s" rx="%s" fill="%s"/>`, number(i.X, 1), number(i.Y, 1), number(i.W, 1), number(i.H, 1), number(i.R, 1), colour)
	case Line:
		return fmt.Sprintf(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s">%s</line>`, number(i.X, 1), number(i.Y, 1), number(i.W, 1), number(i.H, 1), colour, number(i.Thick, 1), inner)
	case Disc:
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s" fill="%s">%s</circle>`, number(i.X, 1), number(i.Y, 1), number(i.R, 1), colour, inner)
	}
	return ""
}

// number is a number for a drawing, no longer than it must be.
func number(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func escaped(s string) string { return escaper.Replace(s) }
