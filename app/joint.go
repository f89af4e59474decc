package app

import (
	"math"
	"slices"

	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// jointNames are the joints that a coach can put right.
var jointNames = [...]string{"top of the head", "neck", "hips", "lead shoulder", "trail elbow", "trail hip"}

// dots are the joints by jointNames.
func dots(j *runner.Joints) [len(jointNames)]*runner.Dot {
	return [...]*runner.Dot{&j.Crown, &j.Neck, &j.Hips, &j.LeadShoulder, &j.TrailElbow, &j.TrailHip}
}

// corrected are joints with those that the coach put right.
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

// coached are the readings of the body that the coach's marks on the first camera's
// picture change, from where it looks: those that came from the other camera stay.
func coached(r runner.Done, m book.Marks, from drills.View) (b drills.Body) {
	if r.Overlay.Again == nil || len(m.Joints)+len(m.Lead) == 0 {
		return b
	}
	for p, x := range r.Overlay.Again(corrected(r.Overlay.Here, m)) {
		view := r.Rep.Views.Body[p]
		if x.Known() && x != r.Rep.Body[p] && (view == drills.NoView || view == from) {
			b[p] = x
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

// putJoint moves the joint that is nearest to a place there.
func putJoint(list []book.JointMark, j runner.Joints, at drills.Pixel) []book.JointMark {
	best, name := math.Inf(1), ""
	for i, d := range dots(&j) {
		if far := math.Hypot(d.X-at.X, d.Y-at.Y); there(*d) && far < best {
			best, name = far, jointNames[i]
		}
	}
	if name == "" {
		return list
	}
	out := slices.DeleteFunc(slices.Clone(list), func(x book.JointMark) bool { return x.Name == name })
	return append(out, book.JointMark{Name: name, At: at})
}
