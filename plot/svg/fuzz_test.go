package svg

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
)

func FuzzRead(f *testing.F) {
	for _, body := range []string{
		`<path d="M0 0h10v10z"/>`,
		`<g id="a" transform="rotate(30) scale(2)"><rect width="5" height="6" rx="1"/></g><use xlink:href="#a" x="3"/>`,
		`<style>.a{display:none}</style><text class="a" x="1 2">t<tspan x="3" dy="1em">u</tspan></text>`,
		`<symbol id="s" viewBox="0 0 10 10"><circle r="10%"/></symbol><use href="#s" width="5" height="9"/>`,
		`<svg x="1" width="50%" preserveAspectRatio="xMaxYMid slice" viewBox="1 2 3 4"><ellipse rx="2" ry="1"/></svg>`,
		`<g stroke-dasharray="2"><polygon points="1,1 2,2 3,1"/><line x2="1in"/></g>`,
	} {
		f.Add(page100(body), 0.0)
		f.Add(body, 0.5)
	}
	files, err := filepath.Glob("../../testdata/plot-svg/*.svg")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(string(data), 1.0)
	}
	f.Fuzz(func(t *testing.T, file string, unit float64) {
		d, err := Read(strings.NewReader(file), Options{UnitMM: unit})
		if err != nil {
			require.Empty(t, d, "an error comes alone")
			var placed *Error
			if errors.As(err, &placed) {
				require.Positive(t, placed.Line)
				require.Positive(t, placed.Column)
			}
			return
		}
		for _, g := range d.Groups {
			g.Walk(func(h plot.Group) {
				require.NotZero(t, len(h.Lines)+len(h.Texts)+len(h.Groups), "no group is empty")
				for _, l := range h.Lines {
					requireSound(t, l.Path)
				}
				for _, x := range h.Texts {
					require.True(t, x.At.Finite() && x.Height >= 0 && !math.IsNaN(x.Angle))
					require.NotEmpty(t, x.String)
				}
			})
		}
	})
}

func FuzzPathData(f *testing.F) {
	for _, d := range []string{
		"M0 0h10v10z", "m1,2 3-4.5.5e1 6z", "M0 0C0 50 80 50 80 0S160-50 160 0", "M0 0Q5 5 10 0T20 0",
		"M0 0a25,50 -30 0150,-25", "M0 0A1e4 1e-4 0 1 1 3 3", "M0 0C9 9-8 9 1 0", "M0 0C0 0 0 0 1 1", "none", "", "M0 0Z0",
		"M0 0C10 0-5 0 1 0",
	} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		room := MaxVertices
		p := pen{m: path.Affine{A: 2, B: 0.5, C: -0.25, D: 3, E: 7, F: 9}, room: &room}
		if err := p.pathData(d); err != nil {
			return
		}
		for _, q := range p.paths {
			requireSound(t, q)
		}
	})
}

// requireSound checks that a path is one that the rest of the program can work
// with.
func requireSound(t *testing.T, p path.Path) {
	require.True(t, p.Finite())
	require.GreaterOrEqual(t, p.Segments(), 1)
	require.False(t, math.IsNaN(p.Length()))
	if !p.Closed {
		require.Zero(t, p.V[len(p.V)-1].Bulge)
	}
	for _, v := range p.V {
		require.LessOrEqual(t, max(math.Abs(v.X), math.Abs(v.Y)), float64(MaxDistance))
	}
}
