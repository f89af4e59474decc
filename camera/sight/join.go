package sight

import (
	"slices"

	"drillbay/camera/lens"
)

// join are the sights from address to the hold's end. Those of address are
// joined to two, whose likeness says that the club rests, and those of the
// hold to one.
func (s Setting) join(all []sighted, address, hold rest, b *buffers) (out []sighted) {
	end := address.to
	for end > address.from+1 && all[address.to-1].at-all[end-1].at < leaving {
		end--
	}
	if half := (address.from + end) / 2; half-address.from >= 2 && end-half >= 2 {
		a := b.together(all[address.from:half])
		a.role, a.at = atAddress, (all[address.from].at+all[half-1].at)/2
		out = append(out, a)
		address.from = half
	}
	a := b.together(all[address.from:end])
	a.role, a.at = atAddress, (all[address.from].at+all[end-1].at)/2
	out = append(out, a)
	leaves := 0
	for end+leaves < address.to && all[address.to-1].at-all[end+leaves].at > goes {
		leaves++
	}
	if hold.to == 0 {
		return append(out, leave(s.sharing(all[end:], true), leaves)...)
	}
	from := hold.from
	for from < hold.to-3 && all[from].at-all[hold.from].at < arriving {
		from++
	}
	out = append(out, leave(s.sharing(all[end:from], false), leaves)...)
	h := b.together(all[from:hold.to])
	h.role, h.at = inHold, all[from].at
	return append(out, h)
}

// leave marks the first n of sights as still at address.
func leave(all []sighted, n int) []sighted {
	for i := range all[:min(n, len(all))] {
		all[i].role = leavingAddress
	}
	return all
}

// LooksShort reports whether a club with hands and head at these places of the
// picture points to the lens or away from it.
func (s Setting) LooksShort(hands, head lens.Point) bool {
	return apart(hands, head) < looksShort*s.Reach*s.perMetre(s.Distance)
}

// sharing are sights of a moving club, made less sure where they follow each
// other so fast that they share their errors.
func (s Setting) sharing(all []sighted, whole bool) []sighted {
	out := slices.Clone(all)
	near := make([]bool, len(all))
	for i, q := range all {
		a, b := q.of[handsAt], q.of[headAt]
		near[i] = whole && a.ok && b.ok && s.LooksShort(a.at, b.at)
	}
	for i := range out {
		h := afresh
		if i > 0 && i+1 < len(all) {
			h = (all[i+1].at - all[i-1].at) / 2
		}
		k := 1 - lasts + lasts*max(1, afresh/max(h, 1e-3))
		far := k // of the club's far end
		if near[i] {
			far *= endOn
		}
		out[i].raised = far
		for p := range out[i].of {
			q := &out[i].of[p]
			w := k
			if p == headAt || p == shaftEnd {
				w = far
			}
			q.uu, q.uv, q.vv = w*q.uu, w*q.uv, w*q.vv
		}
	}
	return out
}
