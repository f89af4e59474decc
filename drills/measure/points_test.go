package measure

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/drills"
)

// stills are pictures with nothing in them.
type stills struct {
	left int
	made []*frame.Picture
}

func (s *stills) Next() (*frame.Picture, error) {
	if len(s.made) == s.left {
		return nil, io.EOF
	}
	p := frame.New(64, 48, frame.Sub420)
	p.Index, p.At = int64(len(s.made)), time.Duration(len(s.made))*40*time.Millisecond
	s.made = append(s.made, p)
	return p, nil
}

// The keys are a contract.
var pointKeys = strings.Fields(`frame t grip_end hands shaft_end head crown neck lead_shoulder trail_shoulder
	lead_elbow trail_elbow lead_wrist trail_wrist lead_hip trail_hip lead_knee trail_knee lead_ankle trail_ankle ball`)

func keysOf(t *testing.T, line []byte) []string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(line))
	var keys []string
	depth := 0
	for key := true; ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return keys
		}
		require.NoError(t, err)
		switch v := tok.(type) {
		case json.Delim:
			if v == '{' || v == '[' {
				depth++
			} else {
				depth--
			}
			key = true
		default:
			if depth == 1 && key {
				keys = append(keys, v.(string))
			}
			key = depth == 1 && !key
			if depth > 1 {
				key = true
			}
		}
	}
}

func TestPointsOfEachFrame(t *testing.T) {
	for _, hand := range []drills.Hand{drills.Right, drills.Left} {
		t.Run(hand.String(), func(t *testing.T) {
			var out bytes.Buffer
			src := &stills{left: 3}
			var befores []*frame.Picture
			p := &Points{src: src, to: &out, hand: hand, scale: 2, follow: func(now, before *frame.Picture) (places [eye.Points]eye.Place, ok bool) {
				befores = append(befores, before)
				places[eye.Head] = eye.Place{U: 10, V: 20.5, UU: 4, VV: 9, Here: 0.8, Seen: 0.5}
				places[eye.LeftHip] = eye.Place{U: 1, V: 2, UU: 1, VV: 1, Here: 1, Seen: 1}
				places[eye.Ball] = eye.Place{U: 1, V: 2, UU: 1, VV: 1, Here: 0.1, Seen: 1}
				return places, now.Index != 1
			}}
			for range 3 {
				_, err := p.Next()
				require.NoError(t, err)
			}
			_, err := p.Next()
			require.ErrorIs(t, err, io.EOF)
			p.Drop()
			assert.Equal(t, []*frame.Picture{nil, src.made[0], src.made[1]}, befores)
			for _, pic := range src.made {
				pic.Release() // panics if one was given back too often
				assert.Panics(t, pic.Release, "no reference is kept")
			}

			lines := bytes.Split(bytes.TrimSpace(out.Bytes()), []byte("\n"))
			require.Len(t, lines, 3)
			for i, line := range lines {
				assert.Equal(t, pointKeys, keysOf(t, line))
				var v map[string]any
				require.NoError(t, json.Unmarshal(line, &v))
				assert.EqualValues(t, i, v["frame"])
				assert.InDelta(t, 0.04*float64(i), v["t"], 1e-9)
				if i == 1 {
					for _, k := range pointKeys[2:] {
						assert.Nil(t, v[k], "nobody is there")
					}
					continue
				}
				assert.Equal(t, []any{20.0, 41.0, 4.0, 6.0, 0.4}, v["head"])
				assert.Nil(t, v["ball"], "hardly in the picture")
				lead, trail := "lead_hip", "trail_hip"
				if hand == drills.Left {
					lead, trail = trail, lead
				}
				assert.NotNil(t, v[lead])
				assert.Nil(t, v[trail])
			}
		})
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestPointsThatCannotBeWrittenAreToldInTheEnd(t *testing.T) {
	looked := 0
	p := &Points{src: &stills{left: 3}, path: "p.jsonl", to: full{}, scale: 1, follow: func(_, _ *frame.Picture) (places [eye.Points]eye.Place, ok bool) {
		looked++
		return places, false
	}}
	for range 3 {
		_, err := p.Next()
		require.NoError(t, err, "the reps are read all the same")
	}
	assert.EqualError(t, p.Keep(), "the points cannot be written to p.jsonl: the disk is full")
	assert.Equal(t, 1, looked)
}
