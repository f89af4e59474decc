package report

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"
	"time"

	"drillbay/drills"
)

//go:embed page.html
var pageText string

// Write writes a page.
func Write(w io.Writer, p Page) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"day":    func(t time.Time) string { return t.Format("2 January 2006") },
		"short":  func(t time.Time) string { return t.Format("2 Jan") },
		"share":  func(s drills.Share) string { return s.String() },
		"bounds": bounds, "figure": figure, "side": side, "join": strings.Join,
		"noAdvice": func() string { return drills.NoAdvice },
	}).Parse(pageText)
	if err != nil {
		return fmt.Errorf("the report's page: %w", err)
	}
	v := view{Page: p, Shares: sharesOf(p), Lines: linesOf(p)}
	v.Moving, v.Moments = template.HTML(p.Moving), template.HTML(p.Moments) //nolint:gosec // the program's own drawings
	for _, pic := range p.Pictures {
		one := shown{Word: pic.Word, Caption: pic.Caption, Drawn: template.HTML(pic.Drawn)} //nolint:gosec // the same
		if pic.Data != nil || pic.Drawn == "" {
			if one.URI, err = dataURI(pic.Data); err != nil {
				return fmt.Errorf("the picture %q: %w", pic.Caption, err)
			}
		}
		v.AnyDrawn = v.AnyDrawn || one.URI == ""
		v.Shown = append(v.Shown, one)
	}
	var out bytes.Buffer
	if err := t.Execute(&out, v); err != nil {
		return fmt.Errorf("the report cannot be written: %w", err)
	}
	_, err = out.WriteTo(w)
	return err
}

// view is a page with what is drawn on it.
type view struct {
	Page
	Shares          shares
	Lines           lines
	Moving, Moments template.HTML
	Shown           []shown
	AnyDrawn        bool // one is drawn, not a picture
}

type shown struct {
	Word, Caption string
	URI           template.URL
	Drawn         template.HTML
}

// dataURI holds a picture in the page (RFC 2397).
func dataURI(data []byte) (template.URL, error) {
	kind := ""
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		kind = "image/jpeg"
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		kind = "image/png"
	default:
		return "", fmt.Errorf("it is neither JPEG nor PNG")
	}
	return template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(data)), nil
}

func bounds(s drills.Share) string {
	low, high := s.Bounds()
	return fmt.Sprintf("%.0f–%.0f %%", 100*low, 100*high)
}

func figure(v float64, format string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	return fmt.Sprintf(format, v)
}

func side(v float64) string {
	switch d := math.Round(v); {
	case math.IsNaN(v):
		return "–"
	case d > 0:
		return fmt.Sprintf("%.0f° inside", d)
	case d < 0:
		return fmt.Sprintf("%.0f° outside", -d)
	}
	return "in line"
}
