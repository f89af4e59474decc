package ledger

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"drillbay/drills"
)

// form is the type of a column's values.
type form uint8

const (
	text   form = iota
	ref         // the id of a row of another kind
	whole       // a whole number
	number      // any finite number
	yes         // true or false
	clock       // a time of day, milliseconds since 1970 (UTC)
)

// column is one value of a row: its name in the table and in an export.
type column struct {
	name string
	form form
	may  bool // may be missing (NULL)
	to   string
	fits func(any) error
}

// kind is one sort of row that is exported and merged.
type kind struct {
	name, table string
	columns     []column
}

func (k kind) column(name string) (column, bool) {
	i := slices.IndexFunc(k.columns, func(c column) bool { return c.name == name })
	if i < 0 {
		return column{}, false
	}
	return k.columns[i], true
}

// kinds are all kinds, what is referred to before what refers to it.
func kinds() []kind {
	numbers := func(names ...string) (out []column) {
		for _, n := range names {
			out = append(out, column{name: n, form: number, may: true})
		}
		return out
	}
	word := func(name string, fits func(any) error) column { return column{name: name, form: text, fits: fits} }
	at := func(name string) column { return column{name: name, form: clock} }
	flag := func(name string) column { return column{name: name, form: yes} }
	count := func(name string) column { return column{name: name, form: whole} }
	verdict := func(v any) error { _, err := drills.ParseVerdict(v.(string)); return err }
	manner := func(v any) error { _, err := drills.ParseManner(v.(string)); return err }
	hand := func(v any) error { _, err := drills.ParseHand(v.(string)); return err }
	length := func(v any) error { return FitsRules(v.(float64)) }
	return []kind{
		{"player", "players", []column{word("name", nil), word("hand", hand), {name: "stature", form: number, may: true, fits: fitsStature},
			flag("minor"), word("consent", nil), {name: "consent_at", form: clock, may: true}, at("created")}},
		{"club", "clubs", []column{{name: "player", form: ref, to: "player"}, word("name", nil), {name: "length", form: number, fits: length}}},
		{"bay", "bays", append(append([]column{word("name", nil), word("camera", nil)},
			numbers("distance", "focal", "fov", "target_x", "target_y", "target_sigma", "roll")...),
			column{name: "width", form: whole, may: true}, column{name: "height", form: whole, may: true}, flag("flipped"), at("made"), column{name: "view", form: text, may: true, fits: oneOf(DownTheLine, FaceOn)})},
		{"session", "sessions", []column{{name: "player", form: ref, may: true, to: "player"}, word("bay", nil), at("began")}},
		{"set", "sets", []column{{name: "session", form: ref, to: "session"}, count("number"), word("drill", nil), count("rung"),
			word("club", nil), {name: "club_length", form: number, may: true, fits: length}, word("kind", oneOf(string(Practice), string(Mixed), string(Retention))),
			{name: "band", form: number}, at("began")}},
		{"rep", "reps", append([]column{{name: "part_of", form: ref, to: "set"}, count("number"), at("at"), flag("taken"), flag("kept"),
			word("verdict", verdict), flag("just"), word("manner", manner), word("why", nil)},
			append(numbers("line", "line_sigma", "elevation", "elevation_sigma", "depth", "depth_sigma", "height", "height_sigma", "top_height", "top_height_sigma",
				"smoothness", "tempo", "tempo_low", "tempo_high", "start", "back_start", "level", "catch", "top", "impact", "finish"),
				append(numbers(bodyColumns()...), column{name: "body_why", form: text, may: true}, column{name: "views", form: text, may: true, fits: fitsViews})...)...)},
		{"mark", "marks", append([]column{{name: "rep", form: ref, to: "rep"}, word("kind", oneOf(FaceMark, ShoulderMark, JointMark, ReadingMark, LineMark, FaceAnswer, RiseAnswer)), word("value", nil), at("at")},
			numbers("frame", "x1", "y1", "x2", "y2", "x3", "y3", "x4", "y4")...)},
		{"verdict", "verdicts", []column{{name: "rep", form: ref, to: "rep"}, word("verdict", verdict), at("at")}},
		{"note", "notes", []column{{name: "player", form: ref, may: true, to: "player"}, {name: "rep", form: ref, may: true, to: "rep"}, word("text", nil), at("at")}},
		{"clip", "clips", []column{{name: "rep", form: ref, to: "rep"}, word("file", fitsFile), count("bytes"), at("at")}},
	}
}

// bodyColumns are the columns of a rep's body.
func bodyColumns() (out []string) {
	for p := range drills.BodyPart(drills.BodyParts) {
		out = append(out, p.Key(), p.Key()+"_sigma")
	}
	return out
}

// kindOf finds a kind by its name; the names used in this package exist.
func kindOf(name string) (kind, bool) {
	all := kinds()
	i := slices.IndexFunc(all, func(k kind) bool { return k.name == name })
	if i < 0 {
		return kind{}, false
	}
	return all[i], true
}

// The lengths that a club may have, metres, along the shaft's axis (R&A and
// USGA, Equipment Rules, Part 2 §1c: 18 in and 48 in).
const (
	ShortestClub = 0.4572
	LongestClub  = 1.2192
)

// FitsRules says why a club cannot be of a length, metres.
func FitsRules(length float64) error {
	if length >= ShortestClub && length <= LongestClub {
		return nil
	}
	return fmt.Errorf("a club of %.4g m is outside the rules: it must be 0.4572 m to 1.2192 m long (18 to 48 inches; Equipment Rules, Part 2 §1c); measure from the end of the grip to the sole", length)
}

func fitsViews(v any) error { _, err := drills.ParseViews(v.(string)); return err }

func fitsStature(v any) error {
	if h := v.(float64); h < 0.5 || h > 2.6 {
		return fmt.Errorf("a player %.4g m tall is not possible: give the height in metres, 0.5 to 2.6", h)
	}
	return nil
}

func oneOf(words ...string) func(any) error {
	return func(v any) error {
		if slices.Contains(words, v.(string)) {
			return nil
		}
		return fmt.Errorf("%q is not one of %q", v, words)
	}
}

// fitsFile keeps the names of clips inside their folder.
func fitsFile(v any) error {
	if name := v.(string); len(name) > longestFile || !clipFile.MatchString(name) || strings.HasSuffix(name, part) {
		return fmt.Errorf("%q is not the name of a kept clip", v)
	}
	return nil
}

// longestFile bounds the name of a clip, bytes: what systems take, less room.
const longestFile = 200

// clipFile is a name that is a file's on any system and in no other folder.
var clipFile = regexp.MustCompile(`^[\p{L}\p{N}][\p{L}\p{M}\p{N} ._-]*\.[a-z0-9]{1,5}$`)
