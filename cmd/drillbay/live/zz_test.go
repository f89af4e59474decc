package live
import ("testing";"drillbay/camera/virtual";"drillbay/camera/frame";"drillbay/drills/measure";"drillbay/drills";"drillbay/drills/rep";"drillbay/camera/sight";"drillbay/camera/eye")
func TestZZ(t *testing.T){
	s := virtual.Default()
	s.Width, s.Height, s.Reps = 960, 540, []virtual.RepSpec{{ShaftLineDeg: 5, Still: 1.5, Hold: 1.5}}
	place, _ := BayOf(s)
	k, _ := Known(place, drills.Right, 0, s.Width, s.Height)
	bay,_:=virtual.New(s)
	w,_:=measure.NewWatch(k.Setting)
	var pics []*frame.Picture
	var span sight.Span
	e:=bay.Events()[0]
	t.Logf("%+v",e)
	var pace measure.Pace
	extra:=-1
	for i:=range bay.Frames(){
		p:=frame.New(s.Width,s.Height,frame.Sub420); bay.Draw(i,p); pics=append(pics,p)
		if extra>=0 { extra--; if extra<0 {break}; continue}
		if !pace.Due(p.Seconds()) {continue}
		g,_:=w.See(p)
		t.Log(g.At,g.Phase,g.Since)
		if g.Caught { span=g.Span; extra=0; break}
	}
	t.Logf("%+v",span)
	net,_:=eye.Taught(); ey:=net.NewEye(); var f eye.Finder
	var looks []sight.Look
	for i,p:=range pics { if p.Seconds()<span.From {continue}; var b *frame.Picture; if i>0 {b=pics[i-1]}; q,ok:=f.Follow(ey,p,b,nil,false); l:=sight.Look{At:p.Seconds()}; if ok {l.Places=q.Places}; looks=append(looks,l)}
	m,err:=k.Setting.Follow(looks,k.Doubt(),false)
	t.Log(err)
	if err==nil { r,ok:=rep.Of(&m,k); t.Logf("%v %+v times %+v held %+v",ok,r,m.Times(),m.Held()) }
}
