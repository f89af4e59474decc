package clips

import (
	"bytes"
	"image/jpeg"
	"sort"
	"sync"
	"time"

	"drillbay/camera/frame"
)

// The loops of an opened clip are kept as JPEG, a tenth of the memory: plain
// pictures of one rep at 720p30 take 60 MB.
const (
	squeezeQuality = 85
	squeezeMost    = 64 << 20 // bytes, all reps of a clip
	squeezeThin    = 4        // of so many pictures at least one stays
)

// squeezed is the loop of a rep of a clip.
type squeezed struct {
	times []float64
	data  [][]byte
	full  bool
	bytes int

	mu   sync.Mutex
	last *frame.Picture // the one that was asked for last
	i    int
}

// squeeze keeps the pictures from one instant to another, s, in at most so
// many bytes: fewer of them when they are many, none when even a few are.
func squeeze(pictures []*frame.Picture, from, to float64, most int) *squeezed {
	var picked []*frame.Picture
	for _, p := range pictures {
		if t := p.Seconds(); t >= from && t <= to {
			picked = append(picked, p)
		}
	}
	for every := 1; every <= squeezeThin; every *= 2 {
		l := &squeezed{i: -1}
		for n := 0; n < len(picked) && l.bytes <= most; n += every {
			var b bytes.Buffer
			if err := jpeg.Encode(&b, picked[n].Image(), &jpeg.Options{Quality: squeezeQuality}); err != nil {
				return nil
			}
			l.times, l.data = append(l.times, picked[n].Seconds()), append(l.data, bytes.Clone(b.Bytes()))
			l.full, l.bytes = picked[n].Full, l.bytes+b.Len()
		}
		if l.bytes <= most && len(l.times) > 0 {
			return l
		}
	}
	return nil
}

// Times are the times of the pictures, s.
func (l *squeezed) Times() []float64 { return l.times }

// Frame is the picture that is shown at t, with a reference for the caller.
func (l *squeezed) Frame(t float64) *frame.Picture {
	l.mu.Lock()
	defer l.mu.Unlock()
	// Half a microsecond keeps a time that went through arithmetic on its frame.
	i := max(sort.SearchFloat64s(l.times, t+5e-7)-1, 0)
	if i != l.i {
		p := l.unpack(i)
		if p == nil {
			return nil
		}
		l.drop()
		l.last, l.i = p, i
	}
	return l.last.Retain()
}

func (l *squeezed) unpack(i int) *frame.Picture {
	img, err := jpeg.Decode(bytes.NewReader(l.data[i]))
	if err != nil {
		return nil
	}
	p := frame.New(img.Bounds().Dx(), img.Bounds().Dy(), frame.Sub420)
	if err := p.CopyImage(img); err != nil {
		return nil
	}
	p.Index, p.At, p.Full = int64(i), time.Duration(l.times[i]*float64(time.Second)), l.full
	return p
}

func (l *squeezed) drop() {
	if l.last != nil {
		l.last.Release()
	}
	l.last, l.i = nil, -1
}

// Release lets go of what is unpacked; the loop can be asked again.
func (l *squeezed) Release() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.drop()
}
