package app

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// keysScreen lists what each key does on the screen it was opened from, and says the
// sentences of the marks in its head.
type keysScreen struct{ of string }

func (*keysScreen) name() string { return "keys" }

func (*keysScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, Go, PageOn, PageBack:
		a.back()
	}
}

// keyLine is one line of the help: some keys and what they do on a screen. The digits from
// first to last belong to Number.
type keyLine struct {
	dos         []Do
	first, last int
	word        string
}

// caps are the words on the keys.
func (l keyLine) caps() string {
	switch {
	case l.last > l.first+2:
		return fmt.Sprintf("%d – %d", l.first, l.last)
	case l.last > 0:
		out := ""
		for n := l.first; n <= l.last; n++ {
			out += fmt.Sprintf("%d ", n)
		}
		return strings.TrimSpace(out)
	}
	var out []string
	for _, d := range l.dos {
		out = append(out, d.Cap())
	}
	return strings.Join(out, " ")
}

// everywhere are the keys that every screen has.
func everywhere() []keyLine {
	return []keyLine{{[]Do{FullScreen}, 0, 0, "full screen"}, {[]Do{Keys}, 0, 0, "these keys"},
		{[]Do{PageOn}, 0, 0, "clicker: go on"}, {[]Do{PageBack}, 0, 0, "clicker: look back"}, {[]Do{Second}, 0, 0, "what the mat sees, in a window of its own"}}
}

// bound reports whether a key does something on a screen: what is not on the
// page of keys does nothing. Fields have the keys of writing besides.
func bound(screen string, typing bool, d Do, n int) bool {
	switch d {
	case Choose, Erase, Home, End:
		return true
	case EraseOn, Left, Right:
		if typing {
			return true
		}
	}
	lines := append(everywhere(), keyLines(screen)...)
	if screen == "lookback" {
		lines = append(lines, keyLines("practice")...)
	}
	for _, l := range lines {
		if slices.Contains(l.dos, d) && (d != Number || n >= l.first && n <= l.last) {
			return true
		}
	}
	return false
}

// keyLines are the bindings of a screen.
func keyLines(screen string) []keyLine {
	switch screen {
	case "practice":
		return []keyLine{
			{[]Do{Hold}, 0, 0, "pause, go on"}, {[]Do{LookBack}, 0, 0, "look back at the last rep"}, {[]Do{Keep}, 0, 0, "keep the last rep; asks who agreed"}, {[]Do{LookUp}, 0, 0, "live picture, look-up picture, scale alone"}, {[]Do{SayAgain}, 0, 0, "say the verdict again"},
			{[]Do{TakeBack}, 0, 0, "take the last rep back"}, {[]Do{Voice}, 0, 0, "voice on, off"}, {[]Do{Tempo}, 0, 0, "metronome on, off"}, {[]Do{More, Less}, 0, 0, "quicker, slower"},
			{[]Do{Lens}, 0, 0, "lens"}, {[]Do{Drills}, 0, 0, "drills"}, {[]Do{Progress}, 0, 0, "progress"}, {[]Do{Settings}, 0, 0, "settings"}, {[]Do{Clinic}, 0, 0, "between this and the clinic's board"}, {[]Do{NextPlayer}, 0, 0, "in a clinic, call the next player"}, {[]Do{Number}, 1, 9, "in a clinic, call that player"},
			{[]Do{Go}, 0, 0, "go on: after a pause, a rest, a set"}, {[]Do{Back}, 0, 0, "end the session"},
		}
	case "lookback":
		return []keyLine{
			{[]Do{Left, Right}, 0, 0, "a frame back or forward; it stands still"}, {[]Do{Up, Down}, 0, 0, "the moment before, after"},
			{[]Do{Next}, 0, 0, "the next speed; it goes on"}, {[]Do{Hold}, 0, 0, "pause the practice"}, {[]Do{Overlay}, 0, 0, "overlay on, off"}, {[]Do{Lines}, 0, 0, "a line of the body: the next, none"}, {[]Do{Against}, 0, 0, "against the last or the best rep"},
			{[]Do{Pencil}, 0, 0, "pencil: lines, face, joints, verdict, note"}, {[]Do{Keep}, 0, 0, "keep as a clip or a picture; asks who agreed"}, {[]Do{LookBack}, 0, 0, "it stays; once more: end it"}, {nil, 0, 0, "All other keys do what they do in practice."}, {[]Do{Back}, 0, 0, "leave one you called; else end the session"},
		}
	case "lens":
		return []keyLine{
			{[]Do{Lines}, 0, 0, "move the lines"}, {[]Do{Distance}, 0, 0, "distance"}, {[]Do{Club}, 0, 0, "club"}, {[]Do{Field}, 0, 0, "field of view"},
			{[]Do{More, Less}, 0, 0, "more, less of it"}, {[]Do{Left, Right, Up, Down}, 0, 0, "nudge the chosen end"}, {[]Do{Next}, 0, 0, "the next end"}, {[]Do{PageOn}, 0, 0, "the next step"}, {[]Do{PageBack}, 0, 0, "the step before"}, {[]Do{SayAgain}, 0, 0, "look for lines again"}, {[]Do{TakeBack}, 0, 0, "face-on: the lines that were found are not level"}, {[]Do{Against}, 0, 0, "face-on, or down the line"}, {[]Do{Join}, 0, 0, "another camera joins as the other view, or none"}, {[]Do{LookUp}, 0, 0, "the lens of the other camera"}, {[]Do{Go}, 0, 0, "good enough"}, {[]Do{Back}, 0, 0, "back"},
		}
	case "clinic":
		return []keyLine{
			{[]Do{Number}, 1, 9, "call this player now, out of turn"}, {[]Do{NextPlayer}, 0, 0, "next player"}, {[]Do{Up, Down}, 0, 0, "through the list"}, {[]Do{More}, 0, 0, "the player in the frame has come"},
			{[]Do{Less}, 0, 0, "the player in the frame has left"}, {[]Do{Join}, 0, 0, "others join, by a list of names"}, {[]Do{Report}, 0, 0, "the clinic on one page, written and opened"}, {[]Do{EndGroup}, 0, 0, "end the clinic"}, {[]Do{Go}, 0, 0, "practise with the one who is up"}, {[]Do{Clinic}, 0, 0, "between this board and what the mat sees"}, {[]Do{Back}, 0, 0, "back"},
		}
	case "new clinic", "late players":
		return []keyLine{{[]Do{Go}, 0, 0, "add the name; on an empty line, begin"}, {[]Do{Up, Down}, 0, 0, "to a name of the list, to mend it"}, {[]Do{EraseOn}, 0, 0, "take the name off the list, behind its last letter"}, {[]Do{Erase}, 0, 0, "the last name again"}, {[]Do{Next}, 0, 0, "names, turns, stations"}, {[]Do{Left, Right, Hold}, 0, 0, "other turns, more stations"}, {[]Do{Back}, 0, 0, "back; the list stays"}}
	case "progress":
		return []keyLine{{[]Do{Up, Down}, 0, 0, "through the players"}, {[]Do{Report}, 0, 0, "the report, written and opened"}, {[]Do{Export}, 0, 0, "write the export"}, {[]Do{Agree}, 0, 0, "may clips be kept: who agreed"}, {[]Do{Keep}, 0, 0, "the clips that were kept, of all players"}, {[]Do{Club}, 0, 0, "clubs: which one, how each stands, another"}, {[]Do{Pencil}, 0, 0, "the name; answers to what no camera sees"}, {[]Do{EraseOn}, 0, 0, "delete the player; asks for the name first"}, {[]Do{TakeBack}, 0, 0, "bring the player back who was deleted last"}, {[]Do{Go}, 0, 0, "practise"}, {[]Do{Back}, 0, 0, "back"}}
	case "watched":
		return []keyLine{{[]Do{Up, Down, Next}, 0, 0, "through the list"}, {[]Do{Hold}, 0, 0, "watch it, or not"}, {[]Do{More, Right}, 0, 0, "a wider band"}, {[]Do{Less, Left}, 0, 0, "a narrower one"}, {[]Do{Go}, 0, 0, "keep it"}, {[]Do{Back}, 0, 0, "back, change nothing"}}
	case "clip":
		return []keyLine{{[]Do{Next}, 0, 0, "the next line of the form; of a rep the next speed"}, {[]Do{Up, Down}, 0, 0, "through the files, or the reps"}, {[]Do{Left, Right}, 0, 0, "change it; a frame of the rep back, on"}, {[]Do{Go}, 0, 0, "read it"},
			{[]Do{Hold}, 0, 0, "freeze the picture, or play on"}, {[]Do{Overlay}, 0, 0, "overlay on, off"}, {[]Do{Back}, 0, 0, "stop; another clip; back"}}
	case "kept clips":
		return []keyLine{{[]Do{Up, Down}, 0, 0, "through the clips"}, {[]Do{Next}, 0, 0, "the next clip; while one plays, another speed"}, {[]Do{Go}, 0, 0, "play the clip, or stop it"}, {[]Do{Against}, 0, 0, "play it beside another, which you choose next"}, {[]Do{Hold}, 0, 0, "freeze the picture, or play on"}, {[]Do{Left, Right}, 0, 0, "one frame back, one forward"}, {[]Do{Keep}, 0, 0, "save a copy elsewhere"}, {[]Do{Pencil}, 0, 0, "rename it"}, {[]Do{Export}, 0, 0, "show it in its folder"}, {[]Do{EraseOn}, 0, 0, "delete it: asks"}, {[]Do{Back}, 0, 0, "back"}}
	case "save a copy":
		return []keyLine{{[]Do{Up, Down, Next}, 0, 0, "through the folders"}, {[]Do{Go}, 0, 0, "save it; asks before it replaces a file"}, {[]Do{Back}, 0, 0, "back, save nothing"}}
	case "keep":
		return []keyLine{{[]Do{Next, Down, Up}, 0, 0, "form, overlay"}, {[]Do{Left, Right, Hold}, 0, 0, "change it"}, {[]Do{Keep}, 0, 0, "keep"}, {[]Do{Overlay}, 0, 0, "overlay on, off"}, {[]Do{Go}, 0, 0, "keep"}, {[]Do{Back}, 0, 0, "back, keep nothing"}}
	case "clubs":
		return []keyLine{{[]Do{Up, Down}, 0, 0, "through the clubs"}, {[]Do{Go}, 0, 0, "practise with this one"}, {[]Do{More}, 0, 0, "another club"}, {[]Do{Next}, 0, 0, "its name, its length"}, {[]Do{Left, Right, Less}, 0, 0, "shorter, longer"}, {[]Do{Back}, 0, 0, "back"}}
	case "delete":
		return []keyLine{{[]Do{Go}, 0, 0, "delete, once the name is typed"}, {[]Do{Back}, 0, 0, "back, keep all"}}
	case "consent":
		return []keyLine{{[]Do{Number}, 1, 3, "mark an answer"}, {[]Do{Up, Down}, 0, 0, "mark the one above, below"}, {[]Do{Go}, 0, 0, "note the marked answer"}, {[]Do{Back}, 0, 0, "back, change nothing"}}
	case "consent taken back":
		return []keyLine{{[]Do{Number}, 1, 2, "keep, delete"}, {[]Do{Up, Down}, 0, 0, "keep, delete"}, {[]Do{Go}, 0, 0, "note it"}, {[]Do{Back}, 0, 0, "back, change nothing"}}
	case "caution":
		return []keyLine{{[]Do{Go}, 0, 0, "all is clear: begin"}, {[]Do{Back}, 0, 0, "back"}}
	case "check":
		return []keyLine{{[]Do{Go}, 0, 0, "tick the marked line; the last tick begins"}, {[]Do{Number}, 1, 9, "tick that line; in a clinic, call that player"}, {[]Do{NextPlayer}, 0, 0, "in a clinic, call the next player"}, {[]Do{Clinic}, 0, 0, "in a clinic, to its board and back"}, {[]Do{Up, Down}, 0, 0, "through the list"}, {[]Do{PageBack}, 0, 0, "take the last tick back"}, {[]Do{Back}, 0, 0, "back to the cautions; in a clinic, to its board"}}
	case "drills":
		return []keyLine{{[]Do{Up, Down}, 0, 0, "through the rungs"}, {[]Do{Pencil}, 0, 0, "what is watched of the body"}, {[]Do{Go}, 0, 0, "practise this rung"}, {[]Do{Back}, 0, 0, "back"}}
	case "pencil":
		return []keyLine{{[]Do{Next}, 0, 0, "line, face, shoulder, joint, joint at address"}, {[]Do{Number}, 1, 6, "the joint to place: " + jointNames[0] + " to " + jointNames[5]}, {[]Do{LookUp}, 0, 0, "the other camera's picture"}, {[]Do{More, Less}, 0, 0, "your own verdict"}, {[]Do{Go}, 0, 0, "write a note, end it"}, {[]Do{TakeBack}, 0, 0, "rub out"}, {[]Do{Left, Right}, 0, 0, "a frame back, on"}, {[]Do{Up, Down}, 0, 0, "the moment before, after"}, {[]Do{Overlay}, 0, 0, "overlay on, off"}, {[]Do{Pencil, Back}, 0, 0, "store it, back to the lookback"}}
	case "settings":
		return []keyLine{{[]Do{Next, Down, Up}, 0, 0, "the next one, the one before"}, {[]Do{Left, Right, Less, More, Hold}, 0, 0, "change it"}, {[]Do{Pencil}, 0, 0, "your name and the place, for reports"}, {[]Do{Go}, 0, 0, "done"}, {[]Do{Back}, 0, 0, "back"}}
	case "coach":
		return []keyLine{{[]Do{Next, Down, Up}, 0, 0, "name, place"}, {[]Do{Go}, 0, 0, "keep them"}, {[]Do{Back}, 0, 0, "back, change nothing"}}
	case "new player", "answers":
		return []keyLine{{[]Do{Next, Down, Up}, 0, 0, "the next one, the one before"}, {[]Do{Left, Right, Less, More, Hold}, 0, 0, "change it"}, {[]Do{Go}, 0, 0, "done"}, {[]Do{Back}, 0, 0, "back"}}
	}
	return []keyLine{
		{[]Do{Go}, 0, 0, "go on with the last player, by the plan"}, {[]Do{Up, Down}, 0, 0, "through the list"}, {[]Do{NewPlayer}, 0, 0, "new player"}, {[]Do{Clinic}, 0, 0, "clinic"}, {[]Do{Progress}, 0, 0, "progress"}, {[]Do{Drills}, 0, 0, "drills"},
		{[]Do{Lens}, 0, 0, "lens"}, {[]Do{LookBack}, 0, 0, "look at a clip"}, {[]Do{Keep}, 0, 0, "the clips that were kept"}, {[]Do{Settings}, 0, 0, "settings"}, {[]Do{Back}, 0, 0, "leave"},
	}
}

func (s *keysScreen) draw(a *App, c *canvas) {
	c.head("Keys", []string{s.of}, button{do: Back, word: "back"})
	lines := keyLines(s.of)
	for _, l := range everywhere() {
		if !slices.ContainsFunc(lines, func(o keyLine) bool { return slices.Contains(o.dos, l.dos[0]) }) {
			lines = append(lines, l)
		}
	}
	half := (len(lines) + 1) / 2
	top := c.headHeight() + c.px(28)
	told := a.conditions()
	foot := c.Height - c.margin - math.Round(c.small*1.7)*float64(len(told))
	for i, n := range told {
		base := foot + math.Round(c.small*1.7*(float64(i)+0.9))
		x := c.text(c.margin, base, lasting(n), c.small, Medium, Quiet) + c.small
		c.text(x, base, c.ruler.Cut(n.Text+" "+n.To, c.small, Regular, c.Width-c.margin-x), c.small, Regular, Ink)
	}
	row := math.Floor(min((foot-top)/float64(half), c.heading*2.6))
	for i, l := range lines {
		x := c.margin + float64(i/half)*(c.Width-2*c.margin)/2
		y := top + float64(i%half)*row + row/2
		end := c.key(x, y-c.keyHeight(c.body)/2, c.body, l.caps(), Ink)
		x = max(end+c.px(14), x+c.px(132))
		limit := c.margin + float64(i/half+1)*(c.Width-2*c.margin)/2 - c.px(12)
		c.text(x, y+math.Round(c.body*CapHeight/2), c.ruler.Cut(l.word, c.body, Regular, limit-x), c.body, Regular, Ink)
	}
}
