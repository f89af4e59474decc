package paint

import (
	"image"
	"math"

	"drillbay/app"
)

// Change is the part of the window in which two lists of items differ, and
// whether there is one. Ruler measures texts.
func Change(r *app.Ruler, before, after []app.Item) (image.Rectangle, bool) {
	var out image.Rectangle
	n := min(len(before), len(after))
	for i := range n {
		if before[i] != after[i] {
			out = out.Union(extent(r, before[i])).Union(extent(r, after[i]))
		}
	}
	for _, i := range before[n:] {
		out = out.Union(extent(r, i))
	}
	for _, i := range after[n:] {
		out = out.Union(extent(r, i))
	}
	return out, !out.Empty()
}

// extent returns the rectangle that an item may touch.
func extent(r *app.Ruler, i app.Item) image.Rectangle {
	var x0, y0, x1, y1 float64
	switch i.Shape {
	case app.Fill, app.Frame, app.Picture:
		x0, y0, x1, y1 = i.X, i.Y, i.X+i.W, i.Y+i.H
	case app.Line:
		t := i.Thick
		x0, y0, x1, y1 = min(i.X, i.W)-t, min(i.Y, i.H)-t, max(i.X, i.W)+t, max(i.Y, i.H)+t
	case app.Wedge:
		x0, y0, x1, y1 = min(i.X, i.W-i.R), min(i.Y, i.H-i.R), max(i.X, i.W+i.R), max(i.Y, i.H+i.R)
	case app.Text:
		x0, y0, x1, y1 = i.X-i.Size/4, i.Y-i.Size*1.1, i.X+r.Width(i.Text, i.Size, i.Weight)+i.Size/4, i.Y+i.Size*0.35
		if r.Runs(i.Text, i.Weight) != nil {
			// Marks of other scripts stand higher and hang lower.
			y0, y1 = i.Y-i.Size*1.6, i.Y+i.Size*0.8
		}
	default:
		x0, y0, x1, y1 = i.X-i.R, i.Y-i.R, i.X+i.R, i.Y+i.R
	}
	return image.Rect(int(math.Floor(x0))-2, int(math.Floor(y0))-2, int(math.Ceil(x1))+2, int(math.Ceil(y1))+2)
}

// Touches returns the part of the window in which pictures of the given slots are drawn.
func Touches(r *app.Ruler, items []app.Item, slots [app.Slots]bool) (out image.Rectangle) {
	for _, i := range items {
		if i.Shape == app.Picture && slots[i.Slot] {
			out = out.Union(extent(r, i))
		}
	}
	return out
}
