package sound

import (
	"sync"

	"github.com/gopxl/beep/v2"

	"drillbay/cues"
)

// ceiling is the highest peak that leaves the desk: 1 dB under full scale.
const ceiling = 0.89

// fadeOut is the time in which words that are cut off fade, samples.
const fadeOut = cues.Rate / 50

// desk mixes tones, metronome and voice to one stream, beep's contract. It
// never ends: with nothing to play it streams silence. Stream allocates
// nothing once its lists have grown.
type desk struct {
	mu      sync.Mutex
	at      int64 // the next sample
	beat    *cues.Metronome
	limiter *cues.Limiter
	levels  Levels
	tones   map[string][]float32
	playing []piece
	words   []piece // said one after the other
	fading  int     // samples left of words that were cut off; 0: none are
	hushes  int     // words asked for before the last one are not said
	spans   [32]span
	spanAt  int
}

// piece is sound on its way: data from its start, a sample of the stream.
type piece struct {
	data  []float32
	start int64
	level float64 // share of full
}

func (p piece) end() int64 { return p.start + int64(len(p.data)) }

// span is a time in which something sounded, in samples.
type span struct {
	from, to int64
	words    bool
}

var _ beep.Streamer = (*desk)(nil)

func newDesk() *desk {
	return &desk{beat: cues.NewMetronome(cues.Rate), limiter: cues.NewLimiter(ceiling), levels: Levels{1, 1, 1}, tones: map[string][]float32{}}
}

// Stream implements beep.Streamer.
func (d *desk) Stream(samples [][2]float64) (int, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	clear(samples)
	end := d.at + int64(len(samples))
	for {
		at, tone, ok := d.beat.Next(end)
		if !ok {
			break
		}
		d.add(piece{d.tones[tone.Name], max(at, d.at), d.levels.Beat})
	}
	kept := d.playing[:0]
	for _, p := range d.playing {
		d.mix(samples, p, 0)
		if p.end() > end {
			kept = append(kept, p)
		}
	}
	d.playing = kept
	d.speak(samples, end)
	for i := range samples {
		y := d.limiter.Step(samples[i][0])
		samples[i] = [2]float64{y, y}
	}
	d.at = end
	return len(samples), true
}

// Err implements beep.Streamer: the desk cannot fail.
func (d *desk) Err() error { return nil }

// speak mixes the words that are due, and lets go of those that are over.
func (d *desk) speak(samples [][2]float64, end int64) {
	for len(d.words) > 0 {
		p := d.words[0]
		if p.start >= end {
			return
		}
		if d.fading > 0 {
			d.mix(samples, p, d.fading)
			if d.fading -= min(len(samples), d.fading); d.fading == 0 {
				d.words = d.words[:copy(d.words, d.words[1:])]
				d.follow(end)
			}
			return
		}
		d.mix(samples, p, 0)
		if p.end() > end {
			return
		}
		d.words = d.words[:copy(d.words, d.words[1:])]
	}
}

// mix adds a piece to the samples that it overlaps. With a fade, its level falls to nothing
// within so many samples.
func (d *desk) mix(samples [][2]float64, p piece, fade int) {
	for i := max(0, p.start-d.at); i < int64(len(samples)); i++ {
		k := d.at + i - p.start
		if k >= int64(len(p.data)) {
			return
		}
		gain := 1.0
		if fade > 0 {
			gain = max(0, float64(fade)-float64(i)) / fadeOut
		}
		samples[i][0] += gain * p.level * float64(p.data[k])
	}
}

func (d *desk) add(p piece) {
	if len(p.data) == 0 {
		return
	}
	d.playing = append(d.playing, p)
	d.note(p, false)
}

func (d *desk) note(p piece, words bool) {
	d.spans[d.spanAt] = span{p.start, p.end(), words}
	d.spanAt = (d.spanAt + 1) % len(d.spans)
}

// play starts a sound now: at the sample it gives.
func (d *desk) play(data []float32) int64 { return d.playAt(data, 1) }

// playAt is play at a level.
func (d *desk) playAt(data []float32, level float64) int64 {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.add(piece{data, d.at, level})
	return d.at
}

// level gives the levels that are set.
func (d *desk) level() Levels {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.levels
}

func (d *desk) setLevels(l Levels) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.levels = l
}

// say puts words after those that are being said, unless there was a hush
// since they were asked for.
func (d *desk) say(data []float32, hushes int) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if len(data) == 0 || hushes != d.hushes {
		return
	}
	start := d.at
	if n := len(d.words); n > 0 {
		start = max(start, d.words[n-1].end()+cues.Rate/5)
		if n == 1 && d.fading > 0 {
			start = d.at + int64(d.fading)
		}
	}
	p := piece{data, start, d.levels.Voice}
	d.words = append(d.words, p)
	d.note(p, true)
}

// follow moves the words that wait up to a sample.
func (d *desk) follow(at int64) {
	for i := range d.words {
		d.words[i].start = at
		at = d.words[i].end() + cues.Rate/5
	}
}

// hush ends what is being said, softly, and drops what was to come.
func (d *desk) hush() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.hushes++
	if len(d.words) == 0 {
		return
	}
	for i := range d.spans {
		if s := &d.spans[i]; s.words {
			s.to = min(s.to, d.at+fadeOut)
		}
	}
	if d.words[0].start >= d.at {
		d.words, d.fading = d.words[:0], 0
		return
	}
	d.words = d.words[:1]
	if d.fading == 0 {
		d.fading = fadeOut
	}
}

// hushed counts the hushes.
func (d *desk) hushed() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.hushes
}

// start begins or changes the beat.
func (d *desk) start(b cues.Beat, sounds map[string][]float32) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for name, data := range sounds {
		d.tones[name] = data
	}
	d.beat.Start(b, d.at)
}

func (d *desk) stop() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.beat.Stop()
}

func (d *desk) phase(at float64) cues.Phase {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.beat.Phase(at)
}

// sounds reports whether anything, or only words, sounds within so many
// samples of one.
func (d *desk) sounds(at, within float64, words bool) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, s := range d.spans {
		if s.to > s.from && (s.words || !words) && float64(s.from)-within <= at && at <= float64(s.to)+within {
			return true
		}
	}
	return false
}

// position is the next sample.
func (d *desk) position() int64 {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.at
}
