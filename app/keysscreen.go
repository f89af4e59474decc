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
			{"L", "lens"}, {"D", "drills"}, {"P", "progress"}, {"S", "settings"}, {"G", "next player of the clinic"}, {"Esc", "end the session"},
		}
	case "lookback":
		return []keyLine{
			{"Space", "stand still, go on"}, {"← →", "a frame back, on"}, {"↑ ↓", "the moment before, after"},
			{"4 2 1", "quarter, half, full speed"}, {"O", "overlay on, off"}, {"A", "against the last or the best rep"},
			{"I", "pencil: lines, face, shoulder, verdict, note"}, {"K", "keep as a clip"}, {"Esc", "end the lookback"},
		}
	case "lens":
		return []keyLine{
			{"H", "move the lines; arrows nudge, Tab takes the next end"}, {"E", "distance"}, {"U", "club"}, {"F", "field of view"},
			{"+ −", "more, less of it"}, {"→ ←", "the next step, the one before"}, {"Enter", "good enough"}, {"Esc", "back"},
		}
	case "clinic":
		return []keyLine{
			{"1 – 9", "choose a player by number"}, {"G", "next player"}, {"+", "the chosen player has come"}, {"−", "the chosen player leaves"},
			{"↑ ↓", "through the list"}, {"Enter", "practise with the one who is up"}, {"Esc", "back"},
		}
	case "progress":
		return []keyLine{{"↑ ↓", "through the players"}, {"R", "report"}, {"X", "export"}, {"Enter", "practise"}, {"Esc", "back"}}
	case "drills":
		return []keyLine{{"↑ ↓", "through the rungs"}, {"Enter", "practise this rung"}, {"Esc", "back"}}
	case "settings", "new player":
		return []keyLine{{"Tab", "the next one"}, {"← →", "change it"}, {"Enter", "done"}, {"Esc", "back"}}
	}
	return []keyLine{
		{"Enter", "go on with the last player"}, {"N", "new player"}, {"C", "clinic"}, {"P", "progress"}, {"D", "drills"},
		{"L", "lens"}, {"S", "settings"}, {"Esc", "leave"},
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
