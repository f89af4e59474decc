package app

import "math"

// keysScreen lists what each key does on the screen it was opened from.
type keysScreen struct{ of string }

func (*keysScreen) name() string { return "keys" }

func (*keysScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, Go, PageOn, PageBack:
		a.back()
	}
}

type keyLine struct{ cap, word string }

// keyLines are the keys of a screen.
func keyLines(screen string) []keyLine {
	switch screen {
	case "practice":
		return []keyLine{
			{"Space", "pause, go on"}, {"B", "look back at the last rep"}, {"M", "look-up picture or scale"}, {"Y", "say the verdict again"},
			{"Z", "take the last rep back"}, {"V", "voice on, off"}, {"T", "metronome on, off"}, {"+ −", "quicker, slower"},
			{"L", "lens"}, {"D", "drills"}, {"P", "progress"}, {"S", "settings"}, {"C", "the clinic that goes on"}, {"G", "its next player"}, {"1 – 9", "this player of it"},
			{"Enter", "go on: after a pause, a rest, a set"}, {"Esc", "end the session"},
		}
	case "lookback":
		return []keyLine{
			{"← →", "a frame back, on; it stands still"}, {"↑ ↓", "the moment before, after"},
			{"Tab", "the next speed; it goes on"}, {"Space", "pause the practice"}, {"O", "overlay on, off"}, {"A", "against the last or the best rep"},
			{"I", "pencil: lines, face, shoulder, verdict, note"}, {"K", "keep as a clip or a picture; asks who agreed"}, {"Y", "say the verdict again"}, {"Esc", "end the lookback"},
		}
	case "lens":
		return []keyLine{
			{"H", "move the lines; arrows nudge, Tab takes the next end"}, {"E", "distance"}, {"U", "club"}, {"F", "field of view"},
			{"+ −", "more, less of it"}, {"→ ←", "the next step, the one before"}, {"Enter", "good enough"}, {"Esc", "back"},
		}
	case "clinic":
		return []keyLine{
			{"1 – 9", "call this player now, out of turn"}, {"G", "next player"}, {"↑ ↓", "through the list"}, {"+", "the chosen player is here"},
			{"−", "the chosen player leaves"}, {"J", "others join, by a list of names"}, {"Q", "end the clinic"}, {"Enter", "practise with the one who is up"}, {"Esc", "back"},
		}
	case "new clinic", "late players":
		return []keyLine{{"Enter", "the next name; on an empty line go on"}, {"↑ ↓", "to a name of the list, to mend it"}, {"Del", "take the name off the list, behind its last letter"}, {"Backspace", "the last name again"}, {"Tab", "names, turns, stations"}, {"Esc", "back; the list stays"}}
	case "progress":
		return []keyLine{{"↑ ↓", "through the players"}, {"R", "write the report"}, {"X", "write the export"}, {"W", "may clips be kept: who agreed"}, {"U", "clubs: which one, how each stands, another"}, {"I", "answer what the camera does not see"}, {"Del", "delete the player, with all that is kept: asks for the name"}, {"Z", "bring the player back who was deleted last"}, {"Enter", "practise"}, {"Esc", "back"}}
	case "clip":
		return []keyLine{{"Tab", "the clip, the hand, the distance, the field of view"}, {"↑ ↓", "through the files, or the reps"}, {"← →", "change it; a frame of the rep back, on"}, {"Enter", "read it"},
			{"Space", "stand still, go on"}, {"Tab", "the next speed"}, {"O", "overlay on, off"}, {"Esc", "stop; another clip; back"}}
	case "keep":
		return []keyLine{{"Tab", "form, overlay"}, {"← →", "change it"}, {"O", "overlay on, off"}, {"Enter", "keep"}, {"Esc", "back, keep nothing"}}
	case "clubs":
		return []keyLine{{"↑ ↓", "through the clubs"}, {"Enter", "practise with this one"}, {"+", "another club"}, {"Esc", "back"}}
	case "delete":
		return []keyLine{{"Enter", "delete, once the name is typed"}, {"Esc", "back, keep all"}}
	case "consent":
		return []keyLine{{"1 2 3", "choose"}, {"↑ ↓", "choose"}, {"Enter", "note it"}, {"Esc", "back, change nothing"}}
	case "consent taken back":
		return []keyLine{{"1 2", "keep, delete"}, {"↑ ↓", "keep, delete"}, {"Enter", "note it"}, {"Esc", "back, change nothing"}}
	case "caution":
		return []keyLine{{"Enter", "all is right"}, {"Esc", "back"}}
	case "check":
		return []keyLine{{"Enter", "it is right: tick it"}, {"1 – 9", "tick this line"}, {"↑ ↓", "through the list"}, {"Page up", "take the last tick back"}, {"Esc", "back to the cautions"}}
	case "drills":
		return []keyLine{{"↑ ↓", "through the rungs"}, {"Enter", "practise this rung"}, {"Esc", "back"}}
	case "pencil":
		return []keyLine{{"Tab", "line, face, shoulder"}, {"+ −", "your own verdict"}, {"Enter", "write a note, end it"}, {"Z", "rub out"}, {"← →", "a frame back, on"}, {"↑ ↓", "the moment before, after"}, {"Esc", "store it, back to the lookback"}}
	case "settings", "new player", "answers":
		return []keyLine{{"Tab", "the next one"}, {"← →", "change it"}, {"Enter", "done"}, {"Esc", "back"}}
	}
	return []keyLine{
		{"Enter", "go on with the last player, by the plan"}, {"N", "new player"}, {"C", "clinic"}, {"P", "progress"}, {"D", "drills"},
		{"L", "lens"}, {"B", "look at a clip"}, {"S", "settings"}, {"Esc", "leave"},
	}
}

func (s *keysScreen) draw(a *App, c *canvas) {
	c.head("Keys", []string{s.of}, button{do: Back, word: "back"})
	lines := append(keyLines(s.of), keyLine{"F11", "full screen"}, keyLine{"?", "these keys"},
		keyLine{"Page down", "clicker: go on"}, keyLine{"Page up", "clicker: look back"})
	half := (len(lines) + 1) / 2
	top := c.headHeight() + c.px(28)
	row := math.Floor(min((c.Height-top-c.margin)/float64(half), c.heading*2.6))
	for i, l := range lines {
		x := c.margin + float64(i/half)*(c.Width-2*c.margin)/2
		y := top + float64(i%half)*row + row/2
		end := c.key(x, y-c.keyHeight(c.body)/2, c.body, l.cap, Ink)
		x = max(end+c.px(14), x+c.px(132))
		limit := c.margin + float64(i/half+1)*(c.Width-2*c.margin)/2 - c.px(12)
		c.text(x, y+math.Round(c.body*CapHeight/2), c.ruler.Cut(l.word, c.body, Regular, limit-x), c.body, Regular, Ink)
	}
}
