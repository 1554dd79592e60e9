package build_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"

	"github.com/stretchr/testify/require"
)

// patternFolder gives the files of testdata/pattern that have one of the names.
func patternFolder(names ...string) build.Files {
	return build.Files{
		Read: func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(patternData, name)) },
		List: func(string) []string { return names },
	}
}

// nestStyle is the damson skirt from a file, with more lines of the style.
func nestStyle(t testing.TB, pattern string, lines ...string) *style.Style {
	s, err := style.Parse("damson.yaml", []byte("engrail: 1\nstyle: Damson\nmotif: {width: 55, depth: 18, hold: count}\n"+
		"pattern: "+pattern+"\npanels:\n"+
		"  front: {piece: {name: Front, includes: {hem: 15, side: 15, top: 10}}}\n"+
		"  back: {piece: {name: Back, includes: {hem: 15, side: 15, top: 10}}}\n"+
		"seams: [[front finish, back finish], [back start, back start]]\n"+strings.Join(lines, "\n")+"\n"))
	require.NoError(t, err)
	return s
}

func TestStyleHasTheSizesOfItsPattern(t *testing.T) {
	p, err := build.New(nestStyle(t, "{file: damson-layers.svg, sizes: layers}"), patternFolder())
	require.NoError(t, err)
	require.Len(t, p.Sizes, 9)
	require.Len(t, p.Held, 2)
	for k, size := range p.Sizes {
		require.Equal(t, []string{"34", "36", "38", "40", "42", "44", "46", "48", "50"}[k], size.Name)
		for i, f := range size.Fit.Panels {
			require.Equal(t, size.Name, f.Panel.Size)
			require.Equal(t, p.Held[i].Repeats, f.Repeats, "the count is held")
			require.Len(t, f.Panel.Internal, 1, "the hip line comes through")
			if k > 0 {
				require.Greater(t, f.Width, p.Sizes[k-1].Fit.Panels[i].Width, "and the width grows")
			}
		}
		for _, s := range size.Fit.Seams {
			require.InDelta(t, s.ALength, s.BLength, 0.01, "seams agree in every size")
			require.InDelta(t, 0, s.HemTurn, 1e-4)
		}
		for _, s := range size.FacingSeams {
			require.InDelta(t, s.ALength, s.BLength, 0.01)
		}
	}
}

func TestWidthIsHeldUnlessTheStyleSaysOtherwise(t *testing.T) {
	s := nestStyle(t, "{file: damson-layers.svg, sizes: layers}")
	s.Motif.Hold = style.HoldWidth
	p, err := build.New(s, patternFolder())
	require.NoError(t, err)
	require.Nil(t, p.Held)
	first, last := p.Sizes[0].Fit.Panels[0], p.Sizes[8].Fit.Panels[0]
	require.Less(t, first.Repeats, last.Repeats)
	require.InDelta(t, first.Width, last.Width, 0.1*55)
}

// Drafted panels that grow in all directions.
const growing = "engrail: 1\nstyle: Growing\nmotif: {width: 55, depth: 18, hold: count}\n" +
	"panels:\n  front: {gore: {waist: 360, hem: 620, length: 560}, half: fold}\n  strip: {straight: {width: 500, depth: 200}}\n" +
	"sizes:\n  S: {front: {waist: 340, hem: 600, length: 540}, strip: {width: 480}}\n  M:\n  L: {front: {waist: 380, hem: 640, length: 590}, strip: {width: 520}}\n"

func TestSizesOfANestLieOnACommonPoint(t *testing.T) {
	p := planOf(t, "growing.yaml", []byte(growing))
	drawings, err := p.Drawings()
	require.NoError(t, err)
	groups := drawings["growing-nest.dxf"].Groups
	require.Len(t, groups, 4*3, "two panels and their facings")
	var folds, middles []path.Point
	heights := map[float64]bool{}
	for _, g := range groups {
		for _, l := range g.Lines {
			if b := l.Path.Bounds(); l.Role == plot.Fold && !l.Sign && g.Piece.Name == "front" {
				folds = append(folds, b.Min)
				heights[math.Round(b.Height())] = true
			}
		}
		if g.Piece.Name == "strip" {
			b := g.Bounds()
			middles = append(middles, path.Point{X: (b.Min.X + b.Max.X) / 2, Y: b.Min.Y})
		}
	}
	require.Len(t, folds, 3)
	require.Len(t, middles, 3)
	require.Len(t, heights, 3, "the folds differ in length")
	for k := range 3 {
		require.InDelta(t, folds[0].X, folds[k].X, 1e-6)
		require.InDelta(t, folds[0].Y, folds[k].Y, 0.01, "on the fold's end at the hem, where the cut lines of scallops of three widths differ")
		require.InDelta(t, middles[0].X, middles[k].X, 1e-6, "on the hem's middle")
		require.InDelta(t, middles[0].Y, middles[k].Y, 1e-6)
	}
}

func TestPictureOfANestTellsItsSizesApart(t *testing.T) {
	p := planOf(t, "growing.yaml", []byte(growing))
	drawings, err := p.Drawings()
	require.NoError(t, err)
	d := drawings["growing-nest.png"]
	require.Len(t, d.Groups, 4)
	for i, g := range d.Groups {
		var texts []string
		for _, x := range g.Texts {
			texts = append(texts, x.String)
		}
		require.Equal(t, []string{g.Label, "S", "M", "L"}, texts)
		// The first size is solid; the others are dashes, and gaps between them.
		drawn := map[int]float64{}
		size := 0
		for _, l := range g.Lines {
			if l.Role != plot.Drawn {
				continue
			}
			drawn[size] += l.Path.Length()
			if l.Path.Closed {
				require.Zero(t, size)
				size++
			}
		}
		require.InDelta(t, p.Sizes[0].Pieces[i].Net().Length(), drawn[0], 1e-6)
		both := p.Sizes[1].Pieces[i].Net().Length() + p.Sizes[2].Pieces[i].Net().Length()
		require.Greater(t, drawn[1], 0.4*both)
		require.Less(t, drawn[1], 0.8*both)
	}
}

func TestOneSizeHasNoNest(t *testing.T) {
	_, r := written(t, demoPlan(t))
	require.Empty(t, r.Nest)
	_, r = written(t, planOf(t, "growing.yaml", []byte(growing+"output: {formats: [hpgl]}\n")))
	require.Empty(t, r.Nest, "plots are of one size")
}

// Between the sizes, pattern data with grade rules move points in proportion.
func TestPatternDataWithGradeRulesGoOutWithThem(t *testing.T) {
	s := nestStyle(t, "damson-graded.dxf", "output: {formats: [astm]}")
	p, err := build.New(s, patternFolder("damson-graded.dxf", "damson-graded.rul"))
	require.NoError(t, err)
	require.Len(t, p.Sizes, 9)
	files, r := written(t, p)
	var names []string
	for _, f := range r.Nest {
		names = append(names, f.Path)
	}
	require.Equal(t, []string{"damson-nest-astm.rul", "damson-nest-astm.dxf"}, names)
	rules, err := dxf.ParseRules(bytes.NewReader(files[names[0]]))
	require.NoError(t, err)
	require.Len(t, rules.Sizes, 9)
	back, err := dxf.Read(bytes.NewReader(files[names[1]]), dxf.ReadOptions{Rules: rules})
	require.NoError(t, err)

	drawings, err := p.Drawings()
	require.NoError(t, err)
	compared := 0
	for _, want := range drawings[names[1]].Groups {
		i := slices.IndexFunc(back.Groups, func(g plot.Group) bool {
			return g.Piece != nil && g.Piece.Name == want.Piece.Name && g.Piece.Size == want.Piece.Size
		})
		require.GreaterOrEqual(t, i, 0, "%s size %s", want.Piece.Name, want.Piece.Size)
		a, b := cutOf(want), cutOf(back.Groups[i])
		on := path.NewRuler(a)
		for _, v := range b.V {
			_, off := on.Nearest(v.Point)
			require.Less(t, off, 0.05, "%s size %s at %v", want.Piece.Name, want.Piece.Size, v.Point)
		}
		require.InEpsilon(t, a.Area(), b.Area(), 1e-3)
		compared++
	}
	require.Equal(t, 4*9, compared, "two panels and their facings")
}

func TestAllowancesOfADrawingAreKeptWhereNothingStatesOthers(t *testing.T) {
	for allowance, want := range map[string][3]float64{"": {15, 10, 15}, "allowance: {side: 12}": {12, 10, 12}, "allowance: 8": {8, 8, 8}} {
		s, err := style.Parse("damson.yaml", []byte("engrail: 1\npattern: {file: damson-layers.svg, sizes: layers}\n"+allowance+"\npanels: {back: {piece: Back}}\n"))
		require.NoError(t, err)
		p, err := build.New(s, patternFolder())
		require.NoError(t, err)
		for _, size := range p.Sizes {
			edges := size.Fit.Panels[0].Panel.Edges
			require.InDelta(t, want[0], edges[1].Allowance, 0.01, "the side in size %s", size.Name)
			require.InDelta(t, want[1], edges[2].Allowance, 0.01)
			require.InDelta(t, want[2], edges[3].Allowance, 0.01)
		}
	}
}

func TestGradedPatternWithoutItsRulesIsOneSizeWithAWarning(t *testing.T) {
	p, err := build.New(nestStyle(t, "damson-graded.dxf"), patternFolder("damson-graded.dxf"))
	require.NoError(t, err)
	require.Len(t, p.Sizes, 1)
	require.Contains(t, p.Warnings, fit.Warning{
		Code: "pattern-data", Where: "damson-graded.dxf",
		Message: "the file has 317 grade points and no rule table was given, so that only size 42 is read: put damson-graded.RUL beside it",
	})
}

func TestSizesThatRulesCannotMakeGoOutAsBlocksWithAWarning(t *testing.T) {
	s := nestStyle(t, "damson-graded.dxf", "output: {formats: [astm]}")
	s.Motif.Hold = "width" // larger sizes have more repeats
	p, err := build.New(s, patternFolder("damson-graded.dxf", "damson-graded.rul"))
	require.NoError(t, err)
	files, r := written(t, p)
	require.False(t, slices.ContainsFunc(r.Nest, func(f build.File) bool { return f.Format == "rul" }))
	require.True(t, slices.ContainsFunc(r.Warnings, func(w build.Warning) bool { return w.Code == "no-grade-rules" }))
	d, err := dxf.Read(bytes.NewReader(files["damson-nest-astm.dxf"]), dxf.ReadOptions{})
	require.NoError(t, err)
	require.Len(t, d.Groups, 4*9)
}

func TestMatchMarksStandAtTheSameRepeatsWhereTheCountIsHeld(t *testing.T) {
	p, err := build.New(nestStyle(t, "{file: damson-layers.svg, sizes: layers}"), patternFolder())
	require.NoError(t, err)
	for i, first := range p.Sizes[0].Pieces {
		for _, size := range p.Sizes[1:] {
			require.Len(t, size.Pieces[i].Notches, len(first.Notches), "%s size %s", first.Name, size.Name)
		}
	}
}

// cutOf returns the group's largest closed cut line.
func cutOf(g plot.Group) (cut path.Path) {
	for _, l := range g.Lines {
		if l.Role == plot.Cut && l.Path.Closed && math.Abs(l.Path.Area()) > math.Abs(cut.Area()) {
			cut = l.Path
		}
	}
	return cut
}

func TestEvenedLinesHaveTheSameJointsAndStayInPlace(t *testing.T) {
	arcs := func(w float64, joints ...float64) path.Path {
		whole := path.Path{V: []path.Vertex{{Point: path.Point{}, Bulge: 0.2}, {Point: path.Point{X: w}}}}
		r := path.NewRuler(whole)
		var p path.Path
		at := 0.0
		for _, j := range append(joints, 1) {
			p = path.Join(1e-6, p, r.Sub(at*r.Length(), j*r.Length()))
			at = j
		}
		p.V = append(p.V, path.Vertex{Point: path.Point{X: w / 2, Y: 200}}, path.Vertex{Point: path.Point{X: w / 4, Y: 100}})
		p.Closed = true
		return p
	}
	var sizes []plot.Group
	for _, p := range []path.Path{arcs(300, 0.5), arcs(320, 0.2, 0.50001), arcs(340)} {
		sizes = append(sizes, plot.Group{Lines: []plot.Line{{Role: plot.Cut, Path: p}}})
	}
	for k, g := range build.Evened(sizes) {
		a, b := sizes[k].Lines[0].Path, g.Lines[0].Path
		require.Len(t, b.V, 5, "two ends, two joints and the corner; the joint in the straight stretch is none")
		require.InDelta(t, a.Area(), b.Area(), 1e-6)
		require.InDelta(t, a.Length(), b.Length(), 1e-6)
	}
}
