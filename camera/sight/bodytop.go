package sight

import (
	"math"

	"drillbay/camera/eye"
)

// top is how high the hands are at the top: they are seen highest but once, so
// that one wrong look does not tell.
func (r *bodyReader) top(b *Body, m *Motion, looks []Look) Measure {
	t, set := m.strike.top, &m.fit.set
	p := r.see(&r.home, eye.Hands, r.base, 0)
	if math.IsNaN(t) || !p.ok {
		return noMeasure()
	}
	var first, second joint
	all, lost := 0, 0
	edge := edgeShare * float64(set.View.Height)
	for i := range looks {
		if math.Abs(looks[i].At-t) > passesTop {
			continue
		}
		all++
		s := stand{eye.Hands: set.point(&looks[i], eye.Hands)}
		if x := s[eye.Hands]; !x.ok || x.at.V < edge {
			lost++
			continue
		}
		switch q := r.see(&s, eye.Hands, r.base-topNearer, topSigma); {
		case !first.ok || q.at.Z > first.at.Z:
			first, second = q, first
		case !second.ok || q.at.Z > second.at.Z:
			second = q
		}
	}
	if !second.ok || 3*lost > all {
		b.Unclear = append(b.Unclear, "the hands are not seen at the top, or out of the picture")
		return noMeasure()
	}
	rise := second.at.Z - p.at.Z
	return Measure{rise, math.Sqrt(p.seen.uu + sq(second.up) + sq(m.fit.doubt.Distance/r.base*rise))}
}
