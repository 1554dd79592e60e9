package notes

import (
	"fmt"
	"math"
	"strings"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
)

// drawingWide (mm on paper) is the room that a drawing takes with its names.
const drawingWide = 88.0

// drawingsSection has drawings from the numbers of the design.
func (s *sheet) drawingsSection() Section {
	var all Figures
	for _, make := range []func() (Figure, bool){s.seamDrawing, s.foldDrawing, s.valleyDrawing, s.edgeDrawing} {
		if f, ok := make(); ok {
			all = append(all, f)
		}
	}
	if len(all) == 0 {
		return Section{}
	}
	title := "Drawings"
	if s.manySizes() {
		title += ", in size " + s.Sizes[s.sample()].Name
	}
	return Section{"drawings", title, []Block{all}}
}

// garmentOf returns the garment's piece of a panel in the size that is drawn, as it is cut.
func (s *sheet) garmentOf(panel int) facing.Piece { return s.Sizes[s.sample()].Pieces[panel] }

// nearEnd are lines of a panel near an end of its hem, with the end at the origin, the side
// straight up from it, and the panel to the left.
type nearEnd struct {
	hem, cut, side path.Path
}

// lines returns them, as far along the hem as the reach.
func (s *sheet) lines(panel int, e fit.End, reach, up float64) (nearEnd, bool) {
	f := s.hems[s.sample()][panel].Fitted
	if f.Edge.Closed {
		return nearEnd{}, false
	}
	g := s.garmentOf(panel)
	hem, side := f.Edge, f.Net[1].Path
	if e == fit.Start {
		hem, side = hem.Reverse(), f.Net[len(f.Net)-1].Path.Reverse()
	}
	r := path.NewRuler(hem)
	reach = min(reach, r.Length())
	n := nearEnd{hem: r.Sub(r.Length()-reach, r.Length())}
	if e == fit.Start {
		n.hem = path.NewRuler(f.Edge).Sub(0, reach)
	}
	ruler := path.NewRuler(side)
	n.side = ruler.Sub(0, min(up, ruler.Length()))
	at, along := side.Start(), n.side.End().Sub(side.Start())
	if along.Len() == 0 {
		return nearEnd{}, false
	}
	// The cut line beside the stretch of the hem. Unfolded pieces are cut from it all the
	// same, by nearness.
	cut := path.NewRuler(g.Edges[0].Cut)
	a, _ := cut.Nearest(n.hem.Start())
	b, _ := cut.Nearest(n.hem.End())
	if a > b {
		a, b = b, a
	}
	n.cut = cut.Sub(a, b)
	m := path.Translation(path.Vec{X: -at.X, Y: -at.Y}).Then(path.Rotation(path.Point{}, math.Pi/2-along.Angle()))
	if e == fit.Start {
		m = m.Then(path.Reflection(path.Point{}, path.Vec{Y: 1}))
	}
	n.hem, n.cut, n.side = n.hem.Transform(m), n.cut.Transform(m), n.side.Transform(m)
	return n, true
}

// transform moves all lines.
func (n nearEnd) transform(m path.Similarity) nearEnd {
	return nearEnd{n.hem.Transform(m), n.cut.Transform(m), n.side.Transform(m)}
}

// reach is how much of a hem a drawing of its end shows: about a motif and a half.
func (s *sheet) reach(panel int) float64 {
	h := s.hems[s.sample()][panel]
	return 1.6 * max(h.Along[1], h.Width)
}

// seamDrawing shows two panels that meet at a seam, the hem running on.
func (s *sheet) seamDrawing() (Figure, bool) {
	joins := s.joins(s.sample())
	if len(joins) == 0 {
		return Figure{}, false
	}
	j := joins[0]
	hems := s.hems[s.sample()]
	reach := max(s.reach(j.a), s.reach(j.b))
	left, okA := s.lines(j.a, j.ends[0], reach, reach*0.55)
	right, okB := s.lines(j.b, j.ends[1], reach, reach*0.55)
	if !okA || !okB {
		return Figure{}, false
	}
	right = right.transform(path.Reflection(path.Point{}, path.Vec{Y: 1}))
	k := newSketch()
	scale := s.toPaper(left, right)
	left, right = left.transform(scale), right.transform(scale)
	for _, n := range []nearEnd{left, right} {
		k.draw("cut", n.cut)
		k.draw("stitch", n.hem)
		k.draw("stitch", n.side)
	}
	top := left.side.End()
	k.write(path.Point{X: -14, Y: top.Y * 0.6}, "end", hems[j.a].Name)
	k.write(path.Point{X: 14, Y: top.Y * 0.6}, "start", hems[j.b].Name)
	k.point(path.Point{X: left.side.End().X, Y: top.Y * 0.9}, path.Point{X: 8, Y: top.Y + 3}, "start", "seam")
	meet := left.hem.End()
	if j.ends[0] == fit.Start {
		meet = left.hem.Start()
	}
	low := k.box.Min.Y
	stands := hems[j.a].Phases[j.ends[0]].String()
	k.point(meet, path.Point{X: 4, Y: low - 4}, "start", stands+" on the seam")
	cut, net := path.NewRuler(left.cut).At(left.cut.Length()*0.5), path.NewRuler(right.hem).At(right.hem.Length()*0.5)
	k.point(cut, path.Point{X: cut.X, Y: low - 3}, "middle", "cut line")
	k.point(net, path.Point{X: net.X, Y: top.Y * 0.25}, "middle", "stitching line")
	caption := fmt.Sprintf("%s and %s as they lie when the seam is sewn. The stitching lines of their hems meet on the seam, so that the hem runs on: a %s stands there.",
		upper(hems[j.a].Name), hems[j.b].Name, stands)
	if j.a == j.b {
		caption = fmt.Sprintf("Two %s pieces, one of them mirrored, as they lie when the seam is sewn. The stitching lines of their hems meet on the seam, so that the hem runs on: a %s stands there.", hems[j.a].Name, stands)
	}
	return Figure{SVG: k.svg("A seam that crosses the hem"), Title: "A seam", Caption: caption}, true
}

// toPaper returns the scale in which two ends beside one another fit.
func (s *sheet) toPaper(a, b nearEnd) path.Similarity {
	box := a.hem.Bounds().Union(b.hem.Bounds()).Union(a.side.Bounds()).Union(b.side.Bounds())
	return path.Scaling(path.Point{}, (drawingWide-8)/max(box.Width(), 1))
}

// foldDrawing shows the end of a hem at a fold, with the other half.
func (s *sheet) foldDrawing() (Figure, bool) {
	for i, h := range s.hems[s.sample()] {
		if h.Fitted.Edge.Closed {
			continue
		}
		for e, side := range [2]fit.Edge{h.Net[len(h.Net)-1], h.Net[1]} {
			if side.Role != fit.FoldEdge {
				continue
			}
			reach := s.reach(i)
			half, ok := s.lines(i, fit.End(e), reach, reach*0.55)
			if !ok {
				continue
			}
			other := half.transform(path.Reflection(path.Point{}, path.Vec{Y: 1}))
			scale := s.toPaper(half, other)
			half, other = half.transform(scale), other.transform(scale)
			k := newSketch()
			k.draw("cut", half.cut)
			k.draw("stitch", half.hem)
			k.draw("fold", half.side)
			k.draw("lead", other.cut)
			k.draw("lead", other.hem)
			top := half.side.End().Y
			k.write(path.Point{X: -14, Y: top * 0.6}, "end", "the piece")
			k.write(path.Point{X: 14, Y: top * 0.6}, "start", "its other half")
			k.point(path.Point{Y: top * 0.9}, path.Point{X: 8, Y: top + 3}, "start", "fold")
			at := half.hem.End()
			if fit.End(e) == fit.Start {
				at = half.hem.Start()
			}
			stands := h.Phases[e].String()
			k.point(at, path.Point{X: 4, Y: k.box.Min.Y - 4}, "start", stands+" on the fold")
			return Figure{SVG: k.svg("The hem at a fold"), Title: "A fold", Caption: fmt.Sprintf(
				"The end of the %s that lies on the fold. Nothing is cut there and there is no allowance; opened out, the thin lines are the other half. A %s stands on the fold.", h.Name, stands)}, true
		}
	}
	return Figure{}, false
}

// valleyDrawing shows a valley with its clip and the stitch across, enlarged.
func (s *sheet) valleyDrawing() (Figure, bool) {
	hem, gap := float64(s.Style.Allowance.Hem), float64(s.Style.Facing.ClipGap)
	for i, h := range s.hems[s.sample()] {
		g := s.garmentOf(i)
		clips := g.ValleyClips()
		if len(clips) == 0 {
			continue
		}
		clip := clips[len(clips)/2]
		out := clip.A.Sub(clip.B).Unit()
		edge, cut := path.NewRuler(h.Fitted.Edge), path.NewRuler(g.Edges[0].Cut)
		around := func(r *path.Ruler, p path.Point, reach float64) path.Path {
			at, _ := r.Nearest(p)
			return r.Sub(max(0, at-reach), min(r.Length(), at+reach))
		}
		reach := max(12, 2*hem)
		// The valley is at the origin and its way out points down.
		m := path.Translation(path.Vec{X: -clip.B.X + gap*out.X, Y: -clip.B.Y + gap*out.Y}).Then(path.Rotation(path.Point{}, -math.Pi/2-out.Angle()))
		net := around(edge, clip.B, reach).Transform(m)
		outer := around(cut, clip.A, reach).Transform(m)
		c := path.FromSegments(clip).Transform(m)
		box := net.Bounds().Union(outer.Bounds())
		zoom := path.Scaling(path.Point{}, min(44/box.Width(), 50/box.Height()))
		k := newSketch()
		net, outer, c = net.Transform(zoom), outer.Transform(zoom), c.Transform(zoom)
		k.draw("cut", outer)
		k.draw("stitch", net)
		k.draw("clip", c)
		box = k.box
		where := "valley"
		names := []callout{
			{"cut line", path.NewRuler(outer).At(outer.Length() * 0.95)},
			{"stitching line", path.NewRuler(net).At(net.Length() * 0.85)},
			{fmt.Sprintf("clip, ends %s short", s.length(gap)), c.End()},
		}
		caption := fmt.Sprintf("A %s of the %s, enlarged. The clip runs from the cut line through the allowance of %s and ends %s short of the stitching.", where, h.Name, s.both(hem), s.both(gap))
		if s.turns.Valleys {
			at := path.Point{}
			across := zoom.Scale() * reinforced / 2
			k.draw("sewn", path.Open(at.Add(path.Vec{X: -across}), at.Add(path.Vec{X: across})))
			names = append(names, callout{"one stitch across", at.Add(path.Vec{X: across})})
			caption += " The short thick line is the stitch across the valley, between two pivots."
		}
		k.callouts(names, box)
		return Figure{SVG: k.svg("A valley with its clip"), Title: "A valley and its clip", Caption: caption}, true
	}
	return Figure{}, false
}

// edgeDrawing shows the turned edge cut through, with the favour and the understitching.
func (s *sheet) edgeDrawing() (Figure, bool) {
	if !s.faced() {
		return Figure{}, false
	}
	const (
		zoom  = 4.0 // of lengths along the layers
		layer = 1.8 // mm on paper of a layer, and from layer to layer
		high  = 58.0
	)
	garment, faced, under := s.layers()
	seam := s.rolled()*zoom + layer
	x := func(n float64) float64 { return n * 2 * layer }
	k := newSketch()
	p := func(n, y float64) path.Point { return path.Point{X: x(n), Y: y} }
	// The garment comes down outside, goes round the edge and up to the seam; its allowance
	// goes on up. The facing's allowance lies beside it, turns at the seam, and is the facing.
	round := func(from, to path.Point) path.Segment { return path.Segment{A: from, B: to, Bulge: 1} }
	k.band("garment", path.FromSegments(
		path.Line(p(0, high), p(0, layer)), round(p(0, layer), p(1, layer)), path.Line(p(1, layer), p(1, seam+garment*zoom))), layer)
	k.band("facing", path.FromSegments(
		path.Line(p(2, seam+faced*zoom), p(2, seam+layer)), round(p(2, seam+layer), p(3, seam+layer)), path.Line(p(3, seam+layer), p(3, high))), layer)
	k.line("sewn", path.Point{X: x(1) - layer*0.8, Y: seam + layer}, path.Point{X: x(2) + layer*0.8, Y: seam + layer})
	up := seam + layer + under*zoom
	k.line("sewn", path.Point{X: x(1) - layer*0.8, Y: up}, path.Point{X: x(3) + layer*0.8, Y: up})
	right, left := x(3)+8, -8.0
	k.point(p(0, high*0.85), path.Point{X: left, Y: high * 0.85}, "end", "garment, right side out")
	k.point(p(1, seam+garment*zoom), path.Point{X: left, Y: seam + garment*zoom}, "end", fmt.Sprintf("its allowance, %s", s.length(garment)))
	k.point(p(0.5, layer/2), path.Point{X: left, Y: 0}, "end", "finished edge")
	k.point(p(3, high*0.85), path.Point{X: right, Y: high * 0.85}, "start", "facing")
	k.point(p(2, seam+faced*zoom), path.Point{X: right, Y: max(up+2*nameHeight, seam+faced*zoom)}, "start", fmt.Sprintf("its allowance, %s", s.length(faced)))
	k.point(path.Point{X: x(3) + layer*0.8, Y: up}, path.Point{X: right, Y: up}, "start", fmt.Sprintf("understitching, %s up", s.length(under)))
	name := "seam, on the edge"
	caption := "The turned edge, cut through, with the layers drawn apart. Both allowances are pressed toward the facing; the understitching goes through them and the facing, not through the garment."
	if r := s.rolled(); r > 0 {
		name = fmt.Sprintf("seam, %s inside", s.length(r))
		caption += fmt.Sprintf(" The favour of %s brings the seam about %s inside of the edge, half of it from each layer.", s.both(s.favour()), s.both(r))
	}
	k.point(path.Point{X: x(2) + layer*0.8, Y: seam + layer}, path.Point{X: right, Y: layer}, "start", name)
	return Figure{SVG: k.svg("The turned edge, cut through"), Title: "The turned edge", Caption: caption}, true
}

// upper returns a name as a sentence begins with it.
func upper(s string) string {
	letters := []rune(s)
	return strings.ToUpper(string(letters[:min(1, len(letters))])) + string(letters[min(1, len(letters)):])
}
