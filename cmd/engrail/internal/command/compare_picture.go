package command

import (
	"bytes"
	"fmt"
	"path/filepath"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

const (
	// compareLongest is the longest side of the sheet in px.
	compareLongest = 2000
	// aboveHem and aboveFacing (mm) are shown of a panel above its valleys, and above
	// the facing's inner edge.
	aboveHem, aboveFacing = 30, 12
)

// draw draws the alternatives that can be.
func (t *trial) draw(name string, all []alternative) error {
	folder, base := filepath.Split(name)
	if base == "" {
		return &usageError{fmt.Sprintf("--png: %q names no file", name), "give it a name, such as --png hems.png"}
	}
	var cells []png.Cell
	height := t.shownHeight(all)
	last := ""
	for _, a := range all {
		if a.err != nil {
			continue
		}
		cell := png.Cell{Drawing: t.lowerPart(t.fitted(a.plan), height), Caption: t.caption(a), Chosen: a.chosen}
		if a.by != last {
			cell.Row, last = a.by, a.by
		}
		cells = append(cells, cell)
	}
	var picture bytes.Buffer
	if err := png.WriteSheet(&picture, cells, png.Options{Title: t.title() + ": the hem in alternatives", NoLegend: true, Longest: compareLongest}); err != nil {
		return err
	}
	const elsewhere = "choose another file with --png"
	if err := keep(t.inputs, filepath.Clean(folder), []string{base}, elsewhere); err != nil {
		return err
	}
	return place(filepath.Clean(folder), []file{{base, picture.Bytes()}}, elsewhere)
}

// caption says what the picture shows.
func (t *trial) caption(a alternative) []string {
	x, unit := t.figures(a.plan), t.plan.Style.Units
	lines := []string{a.name}
	if a.chosen {
		lines[0] += ", as in the style"
	}
	size := fmt.Sprintf("%s x %s %s", unit.Short(x.width), unit.Short(x.depth), unit)
	if a.by != byCounts {
		size = fmt.Sprintf("%d repeats, %s", x.repeats, size)
	}
	edge := fmt.Sprintf("edge %s %s", x.edgeText(unit), unit)
	if n := len(x.newWarnings); n == 1 {
		edge += ", 1 warning"
	} else if n > 1 {
		edge += fmt.Sprintf(", %d warnings", n)
	}
	return append(lines, size, edge)
}

// shownHeight returns how far above the hem line the panel is shown in all
// alternatives, in mm.
func (t *trial) shownHeight(all []alternative) float64 {
	height := 0.0
	for _, a := range all {
		if a.err == nil {
			height = max(height, -t.fitted(a.plan).ValleyHeight())
		}
	}
	return height + max(aboveHem, float64(t.plan.Style.Facing.Depth)+aboveFacing)
}

// lowerPart draws the panel up to a height above its hem line. A side that is not
// as high is drawn as far as it goes.
func (t *trial) lowerPart(f fit.Fitted, height float64) plot.Drawing {
	hem := f.Panel.Edges[0].Path
	lines := []plot.Line{{Role: plot.Internal, Path: hem}, {Role: plot.Cut, Path: f.Edge}}
	if d := float64(t.plan.Style.Facing.Depth); d > 0 {
		if inner, err := f.Level(f.ValleyHeight() - d); err == nil {
			lines = append(lines, plot.Line{Role: plot.Inner, Path: inner})
		}
	}
	for _, m := range f.Marks {
		lines = append(lines, plot.Line{Role: plot.Mark, Path: m})
	}
	if !hem.Closed {
		finish, start := f.Net[1], f.Net[len(f.Net)-1]
		start.Path = start.Path.Reverse()
		top, err := f.Level(-min(height, f.Room()))
		for i, side := range []fit.Edge{start, finish} {
			ruler := path.NewRuler(side.Path)
			to := min(height, ruler.Length())
			if err == nil {
				to, _ = ruler.Nearest([]path.Point{top.Start(), top.End()}[i])
			}
			role := plot.Drawn
			if side.Role == fit.FoldEdge {
				role = plot.Fold
			}
			lines = append(lines, plot.Line{Role: role, Path: ruler.Sub(0, to)})
		}
	}
	return plot.Drawing{Groups: []plot.Group{{Lines: lines}}}
}
