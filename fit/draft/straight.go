package draft

import (
	"engrail/fit"
)

// Straight is a rectangle with a straight hem.
type Straight struct {
	// Width is that of the whole panel, Depth from its top to the hem.
	Width, Depth float64
}

// Panel returns the panel.
func (s Straight) Panel(f Form) (fit.Panel, error) {
	if err := measure("width", s.Width); err != nil {
		return fit.Panel{}, f.named(err)
	}
	if err := measure("depth", s.Depth); err != nil {
		return fit.Panel{}, f.named(err)
	}
	p, err := sector{top: s.Width / 2, hem: s.Width / 2, length: s.Depth}.panel(f)
	return p, f.named(err)
}
