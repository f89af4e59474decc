package app

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestStatisticsStandBehindTheSentence(t *testing.T) {
	for said, want := range map[string]string{
		"Shaft line 11° inside on average (24 readings, 95 % between 9° inside and 13° inside); 18 of 24 not in line.":                               "Shaft line 11° inside on average; 18 of 24 not in line.",
		"Direction: 11° inside on average over 44 readings, a bias (t-test, p < 0.001); 30 of 44 not in line.":                                       "Direction: 11° inside on average over 44 readings; 30 of 44 not in line.",
		"Direction: 1° inside on average over 12 readings, no bias is shown (t-test, p = 0.41); 2 of 12 not in line.":                                "Direction: 1° inside on average over 12 readings, which may be chance; 2 of 12 not in line.",
		"On average head 1 cm down (8 readings, about 1 cm).":                                                                                        "On average head 1 cm down.",
		"Spread: 4.6° (standard deviation; 95 % between 3.8° and 5.8°).":                                                                             "Spread: 4.6°.",
		"Shaft line: down by about 1.2 degrees a session, over 9 sessions (Theil–Sen; Mann–Kendall, p = 0.01).":                                      "Shaft line: down by about 1.2 degrees a session, over 9 sessions.",
		"Ordinary swings on a later day are better: 3 of 10 at first, 17 of 20 now; the change is +55 percentage points (95 % between +18 and +77).": "Ordinary swings on a later day are better: 3 of 10 at first, 17 of 20 now.",
		"6 of 10 placed, not swung (95 % between 31 and 83 %).":                                                                                      "6 of 10 placed, not swung.",
		"Hands 9 cm outside of the place under the lead shoulder, on average (8 marks; within 5 cm is good).":                                        "Hands 9 cm outside of the place under the lead shoulder, on average (8 marks; within 5 cm is good).",
		"How does the face look at level: open, neutral or shut? Mark it on four lookback pictures, or answer once.":                                 "How does the face look at level: open, neutral or shut? Mark it on four lookback pictures, or answer once.",
	} {
		require.Equal(t, want, plain(said))
	}
}
