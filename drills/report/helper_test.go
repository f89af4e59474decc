package report

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"time"

	"drillbay/drills"
)

// full is a page with everything on it: eighteen sessions in six weeks.
func full() Page {
	dice := rand.New(rand.NewPCG(1, 1))
	p := Page{
		Player: "Bartholomew Featherstonehaugh-Öström", Hand: drills.Right, Club: "7-iron", Made: time.Date(2026, 4, 14, 19, 0, 0, 0, time.UTC), Band: 8,
		Coach: "Wilhelmina Achterberg-Fitzgerald", Place: "Indoor bays at the old mill, lane 4",
		Better: "More reps count from session to session: 20 of 44 on 3 March, 31 of 44 on 11 April.", Work: "Hands drawn inward.", Feel: "The hands stay in front of the chest.",
		Drill: "Both hands, swing and catch", Moving: `<svg viewBox="0 0 552 240"><rect width="552" height="240" fill="#eee"/></svg>`, Moments: `<svg viewBox="0 0 976 240"><rect width="976" height="240" fill="#eee"/></svg>`,
		Headline: "Ordinary swings on a later day are better: 3 of 10 at first, 17 of 20 now; the change is +55 percentage points (95 % between +18 and +77).",
		Why:      "12 of 20 in line and swung: the same rung again. In the long run that may be as little as 39 %; 55 % is asked for (9 of 10 or 16 of 20, say).",
		Rungs: []Rung{{1, "Lead arm, swing and catch", "passed, 9 of 10", false}, {2, "Lead arm, catch, turn and chip", "passed, 17 of 20", false},
			{3, "Both hands, swing and catch", "12 of 20", true}, {4, "Both hands, catch, turn and chip", "", false}, {5, "The free return", "", false},
			{6, "Half and three-quarter swings", "", false}, {7, "Ordinary swings", "kept, 19 of 20", false}, {8, "Mixed practice", "", false}},
		Trends: []string{"In line and swung in practice: up by about 3 reps in 100 a session, over 18 sessions (Theil–Sen; Mann–Kendall, p = 0.002).", "Spread of the shaft line: no trend over 18 sessions (Mann–Kendall, p = 0.41)."},
		Causes: []Cause{{Name: "hands drawn inward", Evidence: []string{"Shaft line 11° inside on average (24 readings, 95 % between 9° inside and 13° inside); 18 of 24 not in line."},
			Else: []string{"standing too close to the ball", "a turn that begins with the hips"}, Feel: "The hands stay in front of the chest.", Rung: "Rung 3: Both hands, swing and catch"}},
		BodyRead: true,
		Body: []Lapse{{Name: "spine stood up", Evidence: "On average spine 8° more upright (24 readings, 95 % between 6° and 10°). The band is spine tilt within 5°.",
			Else: []string{"hips that move toward the ball"}, Feel: "The belt buckle stays as far from the ball as it was at address."}},
		Last:     []string{"Direction: 11° inside on average over 44 readings, a bias (t-test, p < 0.001); 30 of 44 not in line.", "Spread: 4.6° (standard deviation; 95 % between 3.8° and 5.8°)."},
		Ask:      []string{"How does the face look at level: open, neutral or shut?"},
		Next:     []string{"One more set of rung 3, slower."},
		Homework: []string{"4 minutes of warming up. Light and moving: walk, turn, swing two clubs slowly. Stop on pain.", "Lead arm, swing and catch: 3 sets of 10 reps, a minute's rest between them.", "Both hands, swing and catch: 10 reps.", "Ordinary swings: 10 reps."},
		History:  []Decision{{time.Date(2026, 3, 3, 18, 0, 0, 0, time.UTC), "Lead arm, swing and catch", "9 of 10 in line and swung: passed."}},
		Pictures: []Picture{{Word: "Best", Caption: "in line, 1° inside, 3 March", Data: picture(200)}, {Word: "Typical", Caption: "inside, 11°, 3 March", Data: picture(90)}},
	}
	for i := range 18 {
		at := time.Date(2026, 3, 3, 18, 0, 0, 0, time.UTC).AddDate(0, 0, i*7/3)
		middle := 12 - 0.6*float64(i) + dice.NormFloat64()
		s := Session{Date: at, Share: drills.Share{Good: min(20+2*i/3, 40), Of: 44}, Low: middle - 6, Middle: middle, High: middle + 6, Spread: 4.6, Ratio: 2.9}
		p.Practice = append(p.Practice, s)
		if i%3 == 0 {
			s.Share, s.Ratio = drills.Share{Good: 3 + i/3, Of: 10}, math.NaN()
			p.Later = append(p.Later, s)
		}
	}
	return p
}

func picture(level uint8) []byte {
	img := image.NewGray(image.Rect(0, 0, 480, 270))
	for y := range 270 {
		for x := range 480 {
			img.SetGray(x, y, color.Gray{Y: level/2 + uint8(x*int(level)/960)})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}
