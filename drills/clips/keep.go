package clips

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/color/palette"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	xdraw "golang.org/x/image/draw"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/picture"
	"drillbay/drills/read"
	"drillbay/drills/runner"
)

// Wish is a rep that is to be kept.
type Wish struct {
	Player, RepID string
	As            string  // the ending of the file: "avi", "mp4", "gif", "jpg"
	Overlay       bool    // what was read is drawn over the pictures
	At            float64 // s, the instant of a single picture
	FaceOn        bool    // the first camera looks face-on
	// Loop has the pictures, held until they are kept, and Rep the reading of them.
	Loop *lookback.Loop
	Rep  runner.Done
	// Beside has the other camera's pictures, which show the same later, s; nil: there
	// are none.
	Beside *lookback.Loop
	Later  float64
}

// Keeper keeps clips of reps in a ledger's folder.
type Keeper struct {
	Ledger *ledger.Ledger
	Book   *book.Book // is told of each
}

// Keep keeps the loop that is looked at, or one picture of it, in the form
// that was asked for. The ledger gives the file its name once it is whole, and
// refuses it without consent.
func (k Keeper) Keep(ctx context.Context, j Wish) (string, error) {
	if j.Loop == nil {
		return "", errors.New("the pictures of this rep are gone: only the newest reps can be kept")
	}
	defer j.Loop.Release()
	if j.Beside != nil {
		defer j.Beside.Release()
	}
	views := []keptView{{loop: j.Loop, over: j.Rep.Overlay, read: true, at: j.At}}
	if j.Beside != nil {
		views[0].view = drills.ViewOf(j.FaceOn)
		views = append(views, keptView{loop: j.Beside, view: drills.ViewOf(!j.FaceOn), over: onLater(j.Rep.Beside, j.Later), read: j.Rep.Beside.Here.Seen, at: j.At + j.Later, late: j.Later})
	}
	var files []string
	for _, v := range views {
		file, err := k.keepView(ctx, j, v)
		if err != nil && len(files) > 0 {
			return "", fmt.Errorf("only %s is kept: %w", files[0], err)
		}
		if err != nil {
			return "", err
		}
		files = append(files, file)
	}
	return "Kept as " + filepath.Join(k.Ledger.ClipFolder(), strings.Join(files, " and ")) + ".", nil
}

// keptView is the share of one camera in a kept rep; view is noted where there are two.
type keptView struct {
	loop *lookback.Loop
	view drills.View
	over runner.Overlay
	read bool    // over says what was read
	at   float64 // s, of a picture
	late float64 // s, by which its clock shows the rep later
}

// onLater is an overlay on a clock that shows it later, s.
func onLater(o runner.Overlay, by float64) runner.Overlay {
	o.Trace = slices.Clone(o.Trace)
	return read.Earlier(o, -by)
}

// keepView keeps the pictures of one camera, and gives the name of the file.
func (k Keeper) keepView(ctx context.Context, j Wish, v keptView) (string, error) {
	pics := v.loop.Frames()
	defer frame.ReleaseAll(pics)
	var over *mark
	if j.Overlay && v.read {
		over = markOf(j.Rep)
		over.Overlay = v.over
		over.level += v.late
	}
	folder, err := k.Ledger.Draft(ctx, j.RepID)
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(folder)
	name := filepath.Join(folder, "clip."+j.As)
	if err := writeAs(ctx, name, pics, over, v.at); err != nil {
		return "", err
	}
	file, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer file.Close()
	c, err := k.Ledger.KeepClip(ctx, j.RepID, v.view, j.As, file)
	if err != nil {
		return "", err
	}
	k.Book.NoteClip(j.Player, c)
	if v.loop == j.Loop {
		if err := k.keepLine(ctx, j, pics); err != nil {
			return "", err
		}
	}
	return c.File, nil
}

// keepLine keeps where the shaft of a kept rep lies at level, and when in its clip: a
// report draws it, and two clips are laid beside each other by it.
func (k Keeper) keepLine(ctx context.Context, j Wish, pics []*frame.Picture) error {
	if len(pics) == 0 {
		return nil
	}
	o := j.Rep.Overlay
	m := book.LineMark{Hands: drills.Pixel{X: o.Hands.X, Y: o.Hands.Y}, Head: drills.Pixel{X: o.Head.X, Y: o.Head.Y}, Target: drills.Pixel{X: o.Target.X, Y: o.Target.Y}, At: j.Rep.Rep.Moments.Main() - pics[0].Seconds()}
	if j.Rep.ID == "" || !m.Known() && math.IsNaN(m.At) {
		return nil
	}
	return k.Book.KeepLine(ctx, j.Player, j.RepID, m)
}

// mark is drawn over the pictures of a rep: the shaft in the colour of
// its side from level on, s.
type mark struct {
	runner.Overlay
	level float64
	shaft color.RGBA
}

func markOf(d runner.Done) *mark { return &mark{d.Overlay, levelOf(d), picture.ShaftOf(d.Rep.Verdict)} }

// levelOf returns the time from which the shaft is drawn, s: 0, from the start, when no
// moment is known.
func levelOf(d runner.Done) float64 { return drills.FirstOf(d.Rep.Moments.Main(), 0) }

// writeAs writes pictures in the form that the name's ending says: over is
// drawn over them (nil: nothing); at is the instant of a picture. Times are s.
func writeAs(ctx context.Context, name string, pics []*frame.Picture, over *mark, at float64) error {
	if len(pics) == 0 {
		return errors.New("there are no pictures of this rep")
	}
	switch filepath.Ext(name) {
	case ".jpg":
		best := pics[0]
		for _, p := range pics {
			if math.Abs(p.Seconds()-at) < math.Abs(best.Seconds()-at) {
				best = p
			}
		}
		return writeTo(name, func(f *os.File) error {
			return jpeg.Encode(f, drawn(best, over), &jpeg.Options{Quality: 92})
		})
	case ".gif":
		return writeTo(name, func(f *os.File) error { return gif.EncodeAll(f, moving(pics, over)) })
	case ".mp4":
		avi := name + ".avi"
		if err := writeClipOver(avi, pics, over); err != nil {
			return err
		}
		return toMP4(ctx, avi, name)
	case ".avi":
		return writeClipOver(name, pics, over)
	}
	return fmt.Errorf("a clip cannot be kept as %q", filepath.Ext(name))
}

func writeTo(name string, write func(*os.File) error) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	return errors.Join(write(f), f.Close())
}

// writeClipOver writes a clip with what is drawn over its pictures.
func writeClipOver(name string, pics []*frame.Picture, over *mark) error {
	if over == nil {
		return WriteClip(name, pics)
	}
	own := make([]*frame.Picture, len(pics))
	for i, p := range pics {
		own[i] = frame.New(p.Width, p.Height, frame.Sub420)
		own[i].At, own[i].Index, own[i].Full = p.At, p.Index, true
		if err := own[i].CopyImage(drawn(p, over)); err != nil {
			return err
		}
	}
	return WriteClip(name, own)
}

// drawn is a picture with what is drawn over it at its instant: the line from
// the target point through the hands, the head's trace so far, and from level
// on the shaft.
func drawn(p *frame.Picture, over *mark) *image.RGBA {
	img := picture.RGBA(p)
	if over == nil {
		return img
	}
	at := func(d runner.Dot) lens.Point { return lens.Point{U: d.X, V: d.Y} }
	target, hands := at(over.Target), at(over.Hands)
	now := p.Seconds() + 1e-3
	thin := max(1, float64(p.Width)/850)
	picture.Stroke(img, target, lens.Point{U: target.U + 4*(hands.U-target.U), V: target.V + 4*(hands.V-target.V)}, thin, picture.White)
	for _, d := range over.Trace {
		if d.At <= now {
			picture.Disc(img, at(d), 2.5*thin, picture.Trace)
		}
	}
	if now >= over.level {
		picture.Stroke(img, hands, at(over.Head), 2*thin, over.shaft)
		picture.Disc(img, hands, 3*thin, picture.White)
	}
	picture.Ring(img, target, 5*thin)
	return img
}

// A moving picture that can be sent: small, and slowed down to half.
const (
	gifWide  = 480  // px
	gifStep  = 0.08 // s between its pictures
	gifSlow  = 2
	gifFirst = 60 // hundredths of a second that the last picture stands
)

// moving is the loop as a moving picture.
func moving(pics []*frame.Picture, over *mark) *gif.GIF {
	g := &gif.GIF{}
	last := math.Inf(-1)
	for i, p := range pics {
		if p.Seconds()-last < gifStep-1e-3 && i < len(pics)-1 {
			continue
		}
		if n := len(g.Delay); n > 0 {
			g.Delay[n-1] = max(int(math.Round((p.Seconds()-last)*gifSlow*100)), 2)
		}
		last = p.Seconds()
		small := smaller(drawn(p, over), gifWide)
		pic := image.NewPaletted(small.Bounds(), palette.Plan9)
		draw.FloydSteinberg.Draw(pic, pic.Bounds(), small, image.Point{})
		g.Image, g.Delay = append(g.Image, pic), append(g.Delay, gifFirst)
	}
	return g
}

// smaller halves a picture until it is no wider than wide.
func smaller(img *image.RGBA, wide int) *image.RGBA {
	for img.Rect.Dx() >= 2*wide {
		img = picture.Half(img)
	}
	if w := img.Rect.Dx(); w > wide {
		h := max(img.Rect.Dy()*wide/w, 1)
		out := image.NewRGBA(image.Rect(0, 0, wide, h))
		xdraw.ApproxBiLinear.Scale(out, out.Rect, img, img.Rect, xdraw.Src, nil)
		return out
	}
	return img
}

// CanMP4 reports whether ffmpeg is there.
func CanMP4() bool { _, err := exec.LookPath("ffmpeg"); return err == nil }

// toMP4 has ffmpeg write a clip as MP4, in H.264 where it can.
func toMP4(ctx context.Context, from, to string) error {
	var said []byte
	for _, codec := range []string{"libx264", "mpeg4"} {
		cmd := exec.CommandContext(ctx, "ffmpeg", "-v", "error", "-nostdin", "-y", "-i", from, "-vf", "scale=trunc(iw/2)*2:trunc(ih/2)*2",
			"-c:v", codec, "-pix_fmt", "yuv420p", "-movflags", "+faststart", "-f", "mp4", to)
		var err error
		if said, err = cmd.CombinedOutput(); err == nil {
			return nil
		}
	}
	line, _, _ := strings.Cut(strings.TrimSpace(string(said)), "\n")
	return fmt.Errorf("ffmpeg cannot write the clip as MP4 (%s): keep it as a clip", line)
}
