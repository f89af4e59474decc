package hearing

import (
	"context"
	"errors"
	"math"
	"strconv"

	"drillbay/cues/ear"
	"drillbay/cues/sound"
	"drillbay/drills/ledger"
)

// delayKey is the name among the ledger's settings of the delay of a pair of
// output and microphone.
func delayKey(output, microphone string) string { return "delay " + output + " | " + microphone }

// longestDelay is the longest kept delay that is believed, s.
const longestDelay = 2.0

// KeepDelay keeps the delay of a pair of devices, s, as ear.Delay measures it.
func KeepDelay(ctx context.Context, l *ledger.Ledger, output, microphone string, seconds float64) error {
	return l.PutSetting(ctx, delayKey(output, microphone), strconv.FormatFloat(seconds, 'f', 4, 64))
}

// KeptDelay is the delay that was kept for a pair of devices, s; NaN when
// none was measured.
func KeptDelay(ctx context.Context, l *ledger.Ledger, output, microphone string) (float64, error) {
	text, err := l.Setting(ctx, delayKey(output, microphone))
	if err != nil || text == "" {
		return math.NaN(), err
	}
	d, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(d) <= longestDelay) {
		return math.NaN(), nil // not ours: measured anew when wanted
	}
	return d, nil
}

// Pair is the output and the microphone that are used, as the system has them.
func Pair() (output, microphone string, err error) {
	outputs, err1 := sound.Outputs()
	microphones, err2 := ear.Microphones()
	if len(outputs) > 0 {
		output = outputs[0]
	}
	if len(microphones) > 0 {
		microphone = microphones[0]
	}
	return output, microphone, errors.Join(err1, err2)
}
