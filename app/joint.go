package app

import (
	"math"
	"slices"

	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// jointNames are the joints that a coach can put right where a rep is read; the first
// jointsAtAddress at address too, for of the others only the later place is read.
var jointNames = [...]string{"top of the head", "neck", "hips", "lead shoulder", "trail elbow", "trail hip"}

const jointsAtAddress = 3

// dots are the joints by jointNames.
func dots(j *runner.Joints) []*runner.Dot {
	return []*runner.Dot{&j.Crown, &j.Neck, &j.Hips, &j.LeadShoulder, &j.TrailElbow, &j.TrailHip}
}

// slotOf is the picture that a mark is on: 1 is the second camera's.
func slotOf(j book.JointMark) int {
	if j.View == drills.NoView {
		return 0
	}
	return 1
}

// in are the marks on one of two pictures, 0 that of the camera that found the rep, 1
// the second camera's, at address or where the rep is read. The shoulder's own mark is on
// that which looks down the line.
func in(m book.Marks, slot, line int, address bool) book.Marks {
	m.Joints = slices.DeleteFunc(slices.Clone(m.Joints), func(j book.JointMark) bool { return slotOf(j) != slot || j.Address != address })
	if slot != line || address {
		m.Lead = nil
	}
	return m
}

// corrected are joints with those that the coach put right in their picture.
func corrected(j runner.Joints, m book.Marks) runner.Joints {
	for _, x := range m.Joints {
		if i := slices.Index(jointNames[:], x.Name); i >= 0 {
			d := dots(&j)[i]
			d.X, d.Y = x.At.X, x.At.Y
		}
	}
	if len(m.Lead) > 0 {
		j.LeadShoulder.X, j.LeadShoulder.Y = m.Lead[0].X, m.Lead[0].Y
	}
	return j
}

// coached are the readings of the body that the coach's marks change, each in the
// picture that it was read from; from is where the camera looks that found the rep, and
// line the picture that looks down the line.
func coached(r runner.Done, m book.Marks, from drills.View, line int) (b drills.Body) {
	for slot, o := range []runner.Overlay{r.Overlay, r.Beside} {
		home, here := in(m, slot, line, true), in(m, slot, line, false)
		if o.Again == nil || len(home.Joints)+len(here.Joints)+len(here.Lead) == 0 {
			continue
		}
		for p, x := range o.Again(corrected(o.Home, home), corrected(o.Here, here)) {
			view := r.Rep.Views.Body[p]
			here := view == drills.NoView && slot == 0 || view != drills.NoView && (view == from) == (slot == 0)
			if !r.Rep.Body[p].Known() { // nobody read it: whoever can now
				here = true
			}
			if x.Known() && x != r.Rep.Body[p] && here {
				b[p] = x
			}
		}
	}
	return b
}

// coachedParts are those of the coach's readings that there are.
func coachedParts(b drills.Body) (out []drills.BodyPart) {
	for p := range drills.BodyPart(drills.BodyParts) {
		if b[p].Known() {
			out = append(out, p)
		}
	}
	return out
}

// putJoint puts a joint in its place: the one that put names or, without a name, that of
// the first n which is nearest to where it was.
func putJoint(list []book.JointMark, j runner.Joints, n int, put book.JointMark) []book.JointMark {
	best := math.Inf(1)
	if put.Name != "" {
		best = 0
	}
	for i, d := range dots(&j)[:n] {
		if far := math.Hypot(d.X-put.At.X, d.Y-put.At.Y); there(*d) && far < best {
			best, put.Name = far, jointNames[i]
		}
	}
	if put.Name == "" {
		return list
	}
	return append(slices.DeleteFunc(slices.Clone(list), put.Is), put)
}

// unseen are those of the first n joints that are in no place, by their number from 1.
func unseen(j runner.Joints, n int) (out []int) {
	for i, d := range dots(&j)[:n] {
		if !there(*d) {
			out = append(out, i+1)
		}
	}
	return out
}
