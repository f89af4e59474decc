package drills

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// LineError reports a fault in a drill file: the file, the line and what is wrong.
type LineError struct {
	File string
	Line int
	Err  error
}

func (e *LineError) Error() string { return fmt.Sprintf("%s: line %d: %v", e.File, e.Line, e.Err) }

// Unwrap is the error itself.
func (e *LineError) Unwrap() error { return e.Err }

// Words checks what other parts give meaning to: key is "script", "cues",
// "feedback" or "measured".
type Words func(key, value string) error

// measures lists what a drill may say that it measures.
var measures = [...]string{"shaft line", "depth", "height", "manner", "rhythm"}

// ParseDrill reads a drill file (YAML, one mapping: see assets/drills/README.md). Errors name the file and the line. words may be
// nil.
func ParseDrill(file string, text []byte, words Words) (Drill, error) {
	var root yaml.Node
	in := yaml.NewDecoder(bytes.NewReader(text))
	if err := in.Decode(&root); err != nil && !errors.Is(err, io.EOF) {
		return Drill{}, fmt.Errorf("%s: %s", file, strings.TrimPrefix(err.Error(), "yaml: "))
	}
	p := reader{file: file, words: words, lines: map[string]int{}}
	if len(root.Content) == 0 || root.Content[0].Kind != yaml.MappingNode {
		return Drill{}, &LineError{file, max(root.Line, 1), fmt.Errorf("a drill is a list of keys and values, such as name: Lead arm")}
	}
	if err := in.Decode(new(yaml.Node)); !errors.Is(err, io.EOF) {
		return Drill{}, fmt.Errorf("%s: a drill file holds one drill: put what follows its end (---) into a file of its own", file)
	}
	d := Drill{Passing: UsualPassing()}
	if err := p.mapping(root.Content[0], p.keys(&d)); err != nil {
		return Drill{}, err
	}
	for _, key := range []string{"id", "name", "form", "purpose", "steps", "feel"} {
		if p.lines[key] == 0 {
			return Drill{}, &LineError{file, root.Content[0].Line, fmt.Errorf("%q is missing", key)}
		}
	}
	if err := d.Check(); err != nil {
		key, _, _ := strings.Cut(err.Error(), ":")
		return Drill{}, &LineError{file, max(p.lines[key], root.Content[0].Line), err}
	}
	return d, nil
}

// reader reads one file.
type reader struct {
	file  string
	words Words
	lines map[string]int // of the keys that were read
}

// take sets one value from its node.
type take func(*yaml.Node) error

func (p reader) keys(d *Drill) map[string]take {
	text := func(to *string) take { return func(n *yaml.Node) error { return scalar(n, to) } }
	known := func(key string, to *string) take {
		return func(n *yaml.Node) error {
			if err := scalar(n, to); err != nil || p.words == nil {
				return err
			}
			return p.words(key, *to)
		}
	}
	value := func(to any) take { return func(n *yaml.Node) error { return n.Decode(to) } }
	return map[string]take{
		"id":      func(n *yaml.Node) error { return parsed(n, &d.ID, fitsDrillID) },
		"name":    text(&d.Name),
		"rung":    value(&d.Rung),
		"form":    func(n *yaml.Node) error { return parsed(n, &d.Form, ParseForm) },
		"purpose": text(&d.Purpose), "set-up": lines(&d.Setup), "steps": lines(&d.Steps), "feel": lines(&d.Feel),
		"ball": value(&d.Ball), "moving start": value(&d.MovingStart),
		"arms":     func(n *yaml.Node) error { return parsed(n, &d.Arms, ParseArms) },
		"measured": func(n *yaml.Node) error { return each(n, &d.Measured, measureNamed) },
		"watched":  func(n *yaml.Node) error { return watched(n, &d.Watched) },
		"script":   known("script", &d.Script), "cues": known("cues", &d.Cues),
		"beat": value(&d.Beat), "reps": value(&d.Reps), "feedback": known("feedback", &d.Feedback),
		"works on": func(n *yaml.Node) error { return each(n, &d.WorksOn, ParseCause) },
		"cautions": lines(&d.Cautions),
		"passing": func(n *yaml.Node) error {
			r := &d.Passing
			q := reader{file: p.file, lines: map[string]int{}}
			return q.mapping(n, map[string]take{"least": value(&r.Least), "reps": value(&r.Reps), "pass": value(&r.Pass), "keep": value(&r.Keep), "back": value(&r.Back)})
		},
	}
}

// mapping reads keys and values; an unknown key or one that is there twice is
// an error.
func (p reader) mapping(n *yaml.Node, keys map[string]take) error {
	if n.Kind != yaml.MappingNode {
		return &LineError{p.file, n.Line, fmt.Errorf("keys and values are expected here")}
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		set, ok := keys[key.Value]
		switch {
		case !ok:
			return &LineError{p.file, key.Line, fmt.Errorf("%q is not known: one of %s", key.Value, listed(keys))}
		case p.lines[key.Value] > 0:
			return &LineError{p.file, key.Line, fmt.Errorf("%q stands in line %d already", key.Value, p.lines[key.Value])}
		}
		p.lines[key.Value] = key.Line
		if err := set(value); err != nil {
			var at *LineError
			if errors.As(err, &at) {
				at.File = p.file
				return at
			}
			return &LineError{p.file, value.Line, fmt.Errorf("%s: %s", key.Value, plainly(err))}
		}
	}
	return nil
}

// plainly drops what the library says of lines and types of its own.
func plainly(err error) string {
	text := strings.ReplaceAll(err.Error(), "\n", " ")
	return regexp.MustCompile(`yaml: |unmarshal errors:\s*|line \d+: |!!`).ReplaceAllString(text, "")
}

func listed(keys map[string]take) string {
	var names []string
	for k := range keys {
		names = append(names, k)
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

func scalar(n *yaml.Node, to *string) error {
	if n.Kind != yaml.ScalarNode || strings.TrimSpace(n.Value) == "" {
		return fmt.Errorf("words are expected here")
	}
	*to = strings.TrimSpace(n.Value)
	return nil
}

func parsed[T any](n *yaml.Node, to *T, parse func(string) (T, error)) error {
	var text string
	if err := scalar(n, &text); err != nil {
		return err
	}
	v, err := parse(text)
	if err == nil {
		*to = v
	}
	return err
}

// each reads a list and tells the line of the item that is wrong.
func each[T any](n *yaml.Node, to *[]T, parse func(string) (T, error)) error {
	if n.Kind != yaml.SequenceNode {
		return fmt.Errorf("a list is expected here, each line with a dash")
	}
	for _, item := range n.Content {
		var v T
		if err := parsed(item, &v, parse); err != nil {
			return &LineError{Line: item.Line, Err: err}
		}
		*to = append(*to, v)
	}
	return nil
}

func lines(to *[]string) take {
	return func(n *yaml.Node) error { return each(n, to, func(s string) (string, error) { return s, nil }) }
}

// watched reads what a drill watches: names of parts, or a part with its band.
func watched(n *yaml.Node, to *[]Watch) error {
	if n.Kind != yaml.SequenceNode {
		return fmt.Errorf("a list is expected here, each line with a dash")
	}
	for _, item := range n.Content {
		w, err := watchOf(item)
		if err == nil && slices.ContainsFunc(*to, func(x Watch) bool { return x.Part == w.Part }) {
			err = fmt.Errorf("%s stands there twice", w.Part)
		}
		if err != nil {
			return &LineError{Line: item.Line, Err: errors.New(plainly(err))}
		}
		*to = append(*to, w)
	}
	return nil
}

func watchOf(n *yaml.Node) (Watch, error) {
	var p BodyPart
	if n.Kind == yaml.ScalarNode {
		err := parsed(n, &p, ParseBodyPart)
		return UsualWatch(p), err
	}
	var own struct {
		Part             string
		Within, From, To *float64
	}
	if err := n.Decode(&own); err != nil {
		return Watch{}, err
	}
	p, err := ParseBodyPart(own.Part)
	if err != nil {
		return Watch{}, err
	}
	w := UsualWatch(p)
	switch {
	case own.Within != nil && (own.From != nil || own.To != nil):
		return Watch{}, fmt.Errorf("%s: give within, or from and to", p)
	case own.Within != nil:
		w.Low, w.High = -*own.Within, *own.Within
	case own.From != nil || own.To != nil:
		w.Low, w.High = math.Inf(-1), math.Inf(1)
		if own.From != nil {
			w.Low = *own.From
		}
		if own.To != nil {
			w.High = *own.To
		}
	}
	return w, w.Check()
}

func measureNamed(s string) (string, error) {
	_, err := parse("measure", measures[:], s)
	return s, err
}

func fitsDrillID(s string) (string, error) {
	if !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(s) || len(s) > 60 {
		return "", fmt.Errorf("%q: small letters, digits and single hyphens, such as lead-arm-catch", s)
	}
	return s, nil
}
