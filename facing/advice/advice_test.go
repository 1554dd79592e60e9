package advice_test

import (
	"math"
	"slices"
	"testing"

	"engrail/facing"
	"engrail/facing/advice"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// design is a garment of straight panels, the last of them joined to its own copy,
// of which every check thinks well.
type design struct {
	hems    []float64
	side    draft.Side
	counts  []int
	phase   fit.Phase
	spec    fit.Spec
	options advice.Options
	change  func(*fit.Result, *facing.Made)
}

func good() *design {
	return &design{
		hems: []float64{600}, counts: []int{10}, phase: fit.Peak, side: draft.Side{Allowance: 15},
		spec: fit.Spec{Shape: motif.Shape{Flat: 3}, Width: 60, Least: 1, Most: 1000, Depth: 20},
		options: advice.Options{Facing: facing.Options{
			Depth: 50, Favour: 1, Hem: 6, Inner: 6, SideAsPanel: true, ClipGap: 1.5, MarkEvery: 150,
		}},
	}
}

func (d *design) review(t *testing.T) []advice.Finding {
	var g fit.Garment
	for i, hem := range d.hems {
		p, err := draft.Straight{Width: hem, Depth: 400}.Panel(draft.Form{Name: []string{"front", "back"}[i], Start: d.side, Finish: d.side})
		require.NoError(t, err)
		p.Count, p.StartPhase, p.FinishPhase = d.counts[i], d.phase, d.phase
		p.Grain = path.Line(path.Point{Y: 100}, path.Point{Y: 200})
		g.Panels = append(g.Panels, p)
	}
	last := fit.EndRef{Panel: len(d.hems) - 1, End: fit.Finish}
	g.Seams = []fit.Seam{{A: last, B: last}}
	if len(d.hems) > 1 {
		g.Seams = append(g.Seams, fit.Seam{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Start}})
	}
	r, err := fit.Fit(g, d.spec)
	require.NoError(t, err)
	made, err := facing.Make(r, d.options.Facing)
	require.NoError(t, err)
	if d.change != nil {
		d.change(r, made)
	}
	return advice.Review(r, made, d.options)
}

// worst returns the heaviest finding of a check.
func worst(t *testing.T, all []advice.Finding, name string) advice.Finding {
	var found []advice.Finding
	for _, f := range all {
		if f.Name == name {
			found = append(found, f)
		}
	}
	require.NotEmpty(t, found, name)
	return slices.MaxFunc(found, func(a, b advice.Finding) int { return int(a.Level) - int(b.Level) })
}

func figure(t *testing.T, f advice.Finding, name string) float64 {
	i := slices.IndexFunc(f.Figures, func(x advice.Figure) bool { return x.Name == name })
	require.GreaterOrEqual(t, i, 0, "%s has no figure %s", f.Name, name)
	return f.Figures[i].Value
}

func TestEveryCheckLooksAtAGoodDesignAndHasNothingToSay(t *testing.T) {
	found := map[string]bool{}
	for _, f := range good().review(t) {
		require.Equal(t, fit.LevelFine, f.Level, "%s at %s: %s", f.Name, f.Where, f.Message)
		found[f.Name] = true
	}
	for _, name := range advice.Names() {
		require.True(t, found[name], name)
	}
}

// Each check has a design that it speaks of, and one beside the limit of which it does
// not, both in closed form.
func TestCheckSpeaksFromItsLimitOn(t *testing.T) {
	scaled := func(angle float64) float64 { return 15 / math.Tan(angle*math.Pi/360) } // depth of a point 30 mm wide
	turned := func(degrees float64) func(*fit.Result, *facing.Made) {
		return func(_ *fit.Result, m *facing.Made) {
			g := &m.Facings[0].Grain
			along := g.Chord().Rotate(degrees * math.Pi / 180)
			g.B = g.A.Add(along)
		}
	}
	points := func(depth float64) func(*design) {
		return func(d *design) {
			d.spec.Shape = motif.Shape{Kind: motif.Point, Flat: 3}
			d.spec.Width, d.spec.Depth, d.counts = 33, depth, []int{20}
			d.hems = []float64{660}
			d.options.Facing.Hem, d.options.Fray = 3, 3
		}
	}
	repeats := func(second float64) func(*design) {
		return func(d *design) { d.phase, d.hems, d.counts = fit.Valley, []float64{600, second}, []int{10, 10} }
	}
	clips := func(count int) func(*design) {
		return func(d *design) {
			d.phase, d.hems, d.counts = fit.Valley, []float64{float64(count) * 60}, []int{count}
		}
	}
	turn := func(degrees float64) func(*design) {
		return func(d *design) {
			d.change = func(r *fit.Result, _ *facing.Made) { r.Seams[0].HemTurn = -degrees * math.Pi / 180 }
		}
	}
	// The notch ends 1.6 mm beside the line of the clip, which ends 1.5 mm below the hem.
	notch := func(up float64) func(*design) {
		return func(d *design) {
			d.phase, d.side = fit.Valley, draft.Side{Allowance: 4, Notches: []float64{up}}
			d.options.Fray = 4
		}
	}
	for _, c := range []struct {
		check, name  string
		spoken, fine func(*design)
		level        fit.Level
		message      string
		remedy       string
	}{
		{"facing-depth", "narrow", func(d *design) { d.options.Facing.Depth = 24.9 }, func(d *design) { d.options.Facing.Depth = 25 }, fit.LevelWarning,
			"the facing reaches only 24.9 mm beyond the valleys; narrower than 25.0 mm it comes out below the hem", "make the facing 25.0 mm deep or more"},
		{"facing-depth", "no room for allowances", func(d *design) { d.options.Facing.Depth, d.options.Facing.Hem, d.options.Facing.Inner = 29.9, 10, 20 },
			func(d *design) { d.options.Facing.Depth, d.options.Facing.Hem, d.options.Facing.Inner = 30, 10, 20 }, fit.LevelError,
			"the facing reaches 29.9 mm beyond the valleys, and the allowances of its two edges meet there, 30.0 mm together", "make the facing 30.0 mm deep or more"},
		{"fray-allowance", "hem", func(d *design) { d.options.Facing.Hem = 5.9 }, func(d *design) { d.options.Facing.Hem = 6 }, fit.LevelWarning,
			"the allowance on the shaped hem is 5.9 mm, and cloth that frays by 6.0 mm pulls out of the seam",
			"make the allowance at least 6.0 mm and trim it when it is sewn, or take cloth that frays less"},
		{"fray-allowance", "side", func(d *design) { d.options.Facing.Hem, d.options.Fray = 16, 15.1 }, func(d *design) { d.options.Facing.Hem, d.options.Fray = 16, 15 }, fit.LevelWarning,
			"the allowance at a side seam is 15.0 mm, and cloth that frays by 15.1 mm pulls out of the seam",
			"make the allowance at least 15.1 mm and trim it when it is sewn, or take cloth that frays less"},
		{"valley-gap", "allowances", func(d *design) { d.spec.Shape = motif.Shape{Kind: motif.Tab, Flat: 11.9} },
			func(d *design) { d.spec.Shape = motif.Shape{Kind: motif.Tab, Flat: 12} }, fit.LevelWarning,
			"the motifs are only 11.9 mm apart, and two allowances of 6.0 mm lie on one another between them",
			"an allowance of at most 5.9 mm has room; otherwise leave a wider flat between the motifs, or make them wider"},
		{"valley-gap", "stitch", func(d *design) { d.spec.Shape.Flat = 1.4 }, func(d *design) { d.spec.Shape.Flat = 1.5 }, fit.LevelNote,
			"the valleys are 1.4 mm wide at their foot, less than one stitch of 1.5 mm: they pucker unless they are clipped right to the stitching",
			"leave a flat of 1.5 mm at each valley, or pivot with a single stitch across it"},
		{"valley-gap", "sharp", func(d *design) { d.spec.Shape.Flat = 0 }, func(d *design) { d.spec.Shape.Flat = 1.5 }, fit.LevelNote,
			"the valleys are sharp, without room for one stitch of 1.5 mm across: they pucker unless they are clipped right to the stitching",
			"leave a flat of 1.5 mm at each valley, or pivot there and clip to the stitching"},
		{"sharp-point", "hard", points(scaled(29.9)), points(scaled(30.1)), fit.LevelWarning,
			"a point of 30 degrees is hard to turn; from 30 degrees on there is room for the allowances",
			"make the motif wider or shallower, or cut its tip off by some stitches with tip: {blunt: 4mm}"},
		{"sharp-point", "impossible", points(scaled(14.4)), points(scaled(30.1)), fit.LevelError,
			"a point of 14 degrees cannot be turned: its allowances fill it",
			"make the motif wider or shallower, or cut its tip off by some stitches with tip: {blunt: 4mm}"},
		{"clip-count", "many", clips(60), clips(59), fit.LevelNote,
			"122 clips are to be cut by hand after stitching, which takes about 61 minutes",
			"wider motifs need fewer of them, and smooth ones such as waves can be trimmed narrow in their place"},
		{"repeat-widths", "seam", repeats(640.1), repeats(639.9), fit.LevelWarning,
			"repeats 64.0 mm wide beside repeats 60.0 mm wide are seen to differ", "try another width or wider limits"},
		{"hem-turn", "seam", turn(3.01), turn(2.99), fit.LevelWarning,
			"the hem turns by 3.0 degrees where it crosses the seam", "true the hem to run smoothly across the seam"},
		{"facing-on-valley", "valley", func(d *design) { d.phase = fit.Valley }, func(d *design) { d.phase = fit.Peak }, fit.LevelNote,
			"the facing's seam lands on a valley, where its allowances lie under the clip",
			"press the facing's seam open and trim it narrow before the hem is sewn, or put a peak there with motif: peak"},
		{"facing-on-valley", "near", func(d *design) { d.side.Allowance = 30.1 }, func(d *design) { d.side.Allowance = 30 }, fit.LevelNote,
			"a valley is 30.0 mm from the facing's seam, whose allowance of 30.1 mm lies under its clip",
			"press the facing's seam open and trim it narrow before the hem is sewn"},
		{"no-favour", "none", func(d *design) { d.options.Facing.Favour = 0 }, func(d *design) { d.options.Facing.Favour = 0.1 }, fit.LevelWarning,
			"the facing is as large as the garment, and its seam will roll to the outside and show", "give it a favour of 1 to 3 mm, more for thicker cloth"},
		{"notch-on-clip", "side", notch(-1.5 + math.Sqrt(9-1.6*1.6) - 0.01), notch(-1.5 + math.Sqrt(9-1.6*1.6) + 0.01), fit.LevelWarning,
			"the notch at (-304, 1) is 3.0 mm from a clip, and what is between the two cuts tears away",
			"move the notch so that it is 3.0 mm from the clip, or leave it out"},
		{"facing-grain", "turned", func(d *design) { d.change = turned(3.01) }, func(d *design) { d.change = turned(2.99) }, fit.LevelWarning,
			"the facing's grain is turned by 3.0 degrees from its panel's, and the two will hang and stretch apart",
			"turn the facing's grain line as its panel's is; if it is to be cut on the bias, accept this"},
		{"facing-grain", "none", func(d *design) {
			d.change = func(_ *fit.Result, m *facing.Made) { m.Facings[0].Grain = path.Segment{} }
		}, func(d *design) { d.change = turned(180) }, fit.LevelNote,
			"the facing has no room for a grain line", "make the facing deeper, or lay it on the cloth as its panel lies"},
	} {
		t.Run(c.check+"/"+c.name, func(t *testing.T) {
			d := good()
			c.spoken(d)
			f := worst(t, d.review(t), c.check)
			require.Equal(t, c.level, f.Level, "%+v", f)
			require.Equal(t, c.message, f.Message)
			require.Equal(t, c.remedy, f.Remedy)
			require.False(t, f.Accepted)

			d.options.Accept = []string{"another", c.check}
			for _, f := range d.review(t) {
				require.Equal(t, f.Level > fit.LevelFine && f.Name == c.check, f.Accepted, f.Name)
			}

			d = good()
			c.fine(d)
			f = worst(t, d.review(t), c.check)
			require.Less(t, f.Level, c.level, f.Message)
		})
	}
}

func TestFootIsTheFlatOrTheChordOfARounding(t *testing.T) {
	for _, c := range []struct {
		name  string
		shape motif.Shape
		depth float64
		want  float64
	}{
		{"sharp", motif.Shape{}, 20, 0},
		{"flat", motif.Shape{Flat: 2.5}, 20, 2.5},
		{"tab", motif.Shape{Kind: motif.Tab, Flat: 14}, 20, 14},
		// Sides of more than 45 degrees: the rounding's quarter.
		{"rounded", motif.Shape{Kind: motif.Point, ValleyRadius: 3}, 40, 3 * math.Sqrt2},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := good()
			d.spec.Shape, d.spec.Depth = c.shape, c.depth
			for _, phase := range []fit.Phase{fit.Peak, fit.Valley} {
				d.phase = phase
				require.InDelta(t, c.want, figure(t, worst(t, d.review(t), "valley-gap"), "foot"), 1e-6)
			}
		})
	}
}

func TestTipIsAsSharpAsDrawn(t *testing.T) {
	for _, c := range []struct {
		name  string
		shape motif.Shape
		depth float64
		want  float64
	}{
		{"point", motif.Shape{Kind: motif.Point}, 30, 90},
		{"tab", motif.Shape{Kind: motif.Tab}, 20, 90},
		// Two chords of 5 mm of arc on a semicircle of 30 mm.
		{"half circle", motif.Shape{}, 30, 180 - 5.0/30*180/math.Pi},
		// Its hollow arcs are upright at their point, and open as two circles do.
		{"engrailed", motif.Shape{Kind: motif.Engrailed}, 30, 5.0 / 30 * 180 / math.Pi},
		{"blunt", motif.Shape{Kind: motif.Point, TipFlat: 12}, 24, 135},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := good()
			d.spec.Shape, d.spec.Depth = c.shape, c.depth
			require.InDelta(t, c.want, figure(t, worst(t, d.review(t), "sharp-point"), "angle"), 1e-6)
		})
	}
}

// Half of a panel is told of as the whole that is cut.
func TestClipsOfAPieceOnTheFoldCountTwice(t *testing.T) {
	for _, phase := range []fit.Phase{fit.Valley, fit.Peak} {
		p, err := draft.Straight{Width: 600, Depth: 400}.Panel(draft.Form{Name: "front", Half: true, Finish: draft.Side{Allowance: 15}})
		require.NoError(t, err)
		p.StartPhase, p.FinishPhase = phase, fit.Valley
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, good().spec)
		require.NoError(t, err)
		made, err := facing.Make(r, facing.Options{Hem: 6, ClipGap: 1.5})
		require.NoError(t, err)
		f := worst(t, advice.Review(r, made, advice.Options{}), "clip-count")
		require.Equal(t, float64(len(made.Garments[0].Unfold().Clips)), figure(t, f, "clips"))
	}
}

func TestWithoutFacingsNothingIsSaidOfThem(t *testing.T) {
	d := good()
	d.options.Facing.Depth = 0
	for _, f := range d.review(t) {
		require.NotContains(t, []string{"facing-depth", "facing-on-valley", "no-favour", "facing-grain"}, f.Name)
	}
}

func TestFindingsOfRandomGarmentsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := advice.Options{Facing: facing.Options{
			Depth: rapid.Float64Range(5, 70).Draw(t, "depth"), Favour: rapid.Float64Range(0, 2).Draw(t, "favour"),
			Hem: rapid.Float64Range(0, 10).Draw(t, "hem"), Inner: 6, Side: 10, ClipGap: 1.5, MarkEvery: 200,
		}}
		made, err := facing.Make(r, o.Facing)
		if err != nil {
			t.Skip(err)
		}
		looked := map[string]int{}
		for _, f := range advice.Review(r, made, o) {
			looked[f.Name]++
			require.Contains(t, advice.Names(), f.Name)
			require.NotEmpty(t, f.Message)
			require.Equal(t, f.Level > fit.LevelFine, f.Remedy != "", f.Name)
			for _, x := range f.Figures {
				require.False(t, math.IsNaN(x.Value) || math.IsInf(x.Value, 0), "%s: %s", f.Name, x.Name)
			}
		}
		n := len(r.Panels)
		require.Equal(t, n, looked["valley-gap"])
		require.Equal(t, n, looked["sharp-point"])
		require.Equal(t, n, looked["facing-depth"])
		require.Equal(t, 2*n, looked["fray-allowance"])
		require.Equal(t, len(r.Seams), looked["hem-turn"])
	})
}

// A motif that is the same all along is as wide at the foot of every valley as its cell.
func TestFootOfRigidMotifsIsTheirFlat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := fittest.Garment(t)
		flat := rapid.Float64Range(0.5, 8).Draw(t, "flat")
		s := fit.Spec{Shape: motif.Shape{Flat: flat}, Width: 50, Least: 35, Most: 70, Depth: 12}
		r, err := fit.Fit(g, s)
		if err != nil {
			t.Skip(err)
		}
		made, err := facing.Make(r, facing.Options{Hem: 3})
		if err != nil {
			t.Skip(err)
		}
		for _, f := range advice.Review(r, made, advice.Options{}) {
			if f.Name != "valley-gap" {
				continue
			}
			// The two halves of a flat lie along chords that turn by the hem's bend.
			i := slices.IndexFunc(f.Figures, func(x advice.Figure) bool { return x.Name == "foot" })
			require.InDelta(t, flat, f.Figures[i].Value, 0.05*flat, f.Where)
		}
	})
}
