package cues_test

import (
	"fmt"

	"drillbay/cues"
	"drillbay/drills"
)

// What is said of a rep: the side with its degrees, then how it was swung.
func ExampleVerdictWords() {
	fmt.Println(cues.VerdictWords(drills.Rep{Verdict: drills.InLine, Manner: drills.Swung}))
	fmt.Println(cues.VerdictWords(drills.Rep{Verdict: drills.Outside, Manner: drills.Swung, ShaftLine: drills.Reading{Value: -14, Sigma: 1}}))
	// Output:
	// [in-line swung]
	// [outside 14]
}

// At 72 beats a minute a sound comes each 40 000 samples.
func ExampleMetronome() {
	m := cues.NewMetronome(cues.Rate)
	m.Start(cues.SwingAndCatch(72), 0)
	for {
		at, tone, ok := m.Next(130000)
		if !ok {
			break
		}
		fmt.Println(at, tone.Name)
	}
	// Output:
	// 0 forward
	// 40000 back
	// 80000 catch
	// 120000 hold
}
