package build

import "engrail/plot"

// Drawings returns the drawing that each file of the plan shows.
func (p *Plan) Drawings() (map[string]plot.Drawing, error) {
	outputs, err := p.outputs()
	if err != nil {
		return nil, err
	}
	all := map[string]plot.Drawing{}
	for _, o := range outputs {
		all[o.name] = o.drawing
	}
	return all, nil
}

// Evened is what pattern data with grade rules need.
func Evened(sizes []plot.Group) []plot.Group { return evened(sizes) }
