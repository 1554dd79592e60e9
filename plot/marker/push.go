package marker

import (
	"engrail/motif/path"
)

// push returns two blocks in one section, the second behind the first, as near to it as
// the gaps allow when it is pushed along the cloth in a straight line.
//
// Moving along by what lies between two outlines beyond their gap can not bring them
// nearer than that, whatever they look like: so it goes on in such steps until they are
// small.
func (j *Job) push(a, b block) block {
	type solid struct {
		path.Path
		box  path.Box
		keep float64
	}
	solids := func(b block) []solid {
		all := make([]solid, len(b.places))
		for i, p := range b.places {
			q := &j.parts[j.partOf(p)]
			o := q.shape.Outline.Transform(p.motion(q.shape.Outline))
			all[i] = solid{o, o.Bounds(), j.margin(q)}
		}
		return all
	}
	still, moving := solids(a), solids(b)
	widest := 0.0
	for _, s := range append(append([]solid(nil), still...), moving...) {
		widest = max(widest, s.keep)
	}
	at := a.length + 2*widest // where no two can be too near
	for range mostPushes {
		step := at // to the beginning of the section at most
		for _, m := range moving {
			box := path.Box{Min: m.box.Min.Add(path.Vec{X: at}), Max: m.box.Max.Add(path.Vec{X: at})}
			var there path.Path
			for _, s := range still {
				keep := s.keep + m.keep
				if dx, dy := box.Min.X-s.box.Max.X, max(box.Min.Y-s.box.Max.Y, s.box.Min.Y-box.Max.Y); dy > keep || dx-keep > step {
					continue
				}
				if there.V == nil {
					there = m.Path.Transform(path.Translation(path.Vec{X: at}))
				}
				step = min(step, there.Distance(s.Path)-keep)
			}
		}
		if step < pushEnough {
			break
		}
		at -= step
	}
	out := block{places: append([]Place(nil), a.places...), length: a.length}
	for _, p := range b.places {
		p.At = rounded(p.At.Add(path.Vec{X: at}))
		out.places = append(out.places, p)
	}
	out.length = max(a.length, b.length+at)
	return out
}
