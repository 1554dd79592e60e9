package marker

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ground"
)

// ClothKind is the kind of the piece that stands for the cloth in a drawing.
const ClothKind = "cloth"

// Drawing returns the marker as a drawing, its sections one behind the other along x: of
// each piece its cut line, grain line, notches and what is drilled, with a label in it
// or beside it; and the edges of the cloth, its ends, and where sections are spliced.
//
// The legend's lines stand before the beginning of the cloth, none of them if there are
// none.
func (m *Marker) Drawing(title string, legend []string) plot.Drawing {
	d := plot.Drawing{Title: title}
	var from []float64
	at := 0.0
	for _, s := range m.Sections {
		from = append(from, at)
		at += s
	}
	labels := map[string]label{}
	d.Groups = append(d.Groups, m.cloth(from, at))
	for _, p := range m.Places {
		d.Groups = append(d.Groups, m.draw(p, from[p.Section], labels))
	}
	if len(legend) > 0 {
		d.Groups = append(d.Groups, m.legend(legend))
	}
	return d
}

// draw draws what lies at a place.
func (m *Marker) draw(p Place, from float64, labels map[string]label) plot.Group {
	j := m.Job
	q := j.parts[j.partOf(p)]
	piece := j.Pieces[q.piece]
	lie := turned(p.Mirrored, p.Turn)
	shift := path.Translation(p.At.Sub(q.shape.Outline.Transform(lie).Bounds().Min).Add(path.Vec{X: from}))
	g := q.shape.Group.Transform(lie)
	g.ID = plot.Identifier(piece.Name, piece.Size, p.Side.String(), fmt.Sprint(p.Copy))
	about := plot.Piece{Name: piece.Name, Size: piece.Size, Kind: piece.Kind, Quantity: 1, OnFold: p.Side == OnFold}
	if q.shape.Group.Piece != nil {
		about.Style = q.shape.Group.Piece.Style
	}
	if p.Side == Both {
		about.Quantity, about.Pairs = 2, true
	}
	g.Piece = &about
	g.Lines = slices.DeleteFunc(g.Lines, func(l plot.Line) bool {
		switch l.Role {
		case plot.Cut, plot.Grain, plot.Notch:
			return false
		case plot.Fold:
			return l.Sign
		case plot.Mark:
			return l.Path.Length() > 0
		}
		return true
	})
	g.Groups = nil
	words := m.words(p)
	key := fmt.Sprint(m.Job.partOf(p), p.Mirrored, p.Turn, len(words))
	l, known := labels[key]
	if !known {
		l = roomFor(g, words)
		labels[key] = l
	}
	if l.joined {
		words = []string{strings.Join(words, ", ")}
	}
	g.Texts = l.texts(words)
	return g.Transform(shift)
}

// words returns the lines of a piece's label.
func (m *Marker) words(p Place) []string {
	second := p.Size
	if n := m.Order.count(p.Size); n > 1 && p.Side != Both || n > 1 && m.Job.parts[m.Job.partOf(p)].perGarment > 0 {
		second = strings.TrimSpace(fmt.Sprintf("%s no %d", second, p.Garment))
	}
	switch p.Side {
	case Mirrored:
		second = strings.TrimPrefix(second+", mirrored", ", ")
	case Both:
		second = strings.TrimPrefix(second+", 2 layers", ", ")
	}
	if second == "" {
		return []string{p.Piece}
	}
	return []string{p.Piece, second}
}

// cloth draws the edges of the cloth, its ends and its splices.
func (m *Marker) cloth(from []float64, end float64) plot.Group {
	g := plot.Group{ID: "cloth", Label: "cloth", Piece: &plot.Piece{Name: "cloth", Kind: ClothKind}}
	line := func(r plot.Role, label string, a, b path.Point) {
		g.Lines = append(g.Lines, plot.Line{Role: r, Path: path.Open(a, b), Label: label})
	}
	high := m.Cloth.Breadth()
	lower, name := plot.Internal, "selvage"
	if m.Cloth.Folded {
		lower, name = plot.Fold, "fold"
	}
	line(lower, name, path.Point{}, path.Point{X: end})
	line(plot.Internal, "selvage", path.Point{Y: high}, path.Point{X: end, Y: high})
	line(plot.Internal, "beginning", path.Point{}, path.Point{Y: high})
	line(plot.Internal, "end", path.Point{X: end}, path.Point{X: end, Y: high})
	for i, x := range from[min(1, len(from)):] {
		line(plot.Mark, "splice", path.Point{X: x, Y: -spliceMark}, path.Point{X: x, Y: high + spliceMark})
		g.Texts = append(g.Texts, plot.Text{
			At: path.Point{X: x + spliceText/2, Y: -spliceMark}, Height: spliceText, String: fmt.Sprintf("splice %d", i+1),
		})
	}
	return g
}

// legend writes the lines of the legend before the beginning of the cloth, one below the
// other from its upper edge.
func (m *Marker) legend(lines []string) plot.Group {
	g := plot.Group{ID: "marker-legend", Label: "legend of the marker"}
	top := m.Cloth.Breadth() - legendText
	for i, s := range lines {
		g.Texts = append(g.Texts, plot.Text{
			At: path.Point{X: -legendGap, Y: top - float64(i)*legendText*1.7}, Height: legendText, Align: plot.Right, String: s,
		})
	}
	// A line under it lets the legend count in what is drawn.
	y := top - float64(len(lines))*legendText*1.7
	widest := 0.0
	for _, t := range g.Texts {
		c := t.Corners()
		widest = max(widest, c[1].X-c[0].X)
	}
	g.Lines = append(g.Lines, plot.Line{Role: plot.Internal, Path: path.Open(path.Point{X: -legendGap - widest, Y: y}, path.Point{X: -legendGap, Y: y})})
	return g
}

// Facts are what a legend says beside the figures of the marker.
type Facts struct {
	// Style and Date are written as they are given, left out when empty.
	Style, Date string
	// Length writes a length with its unit.
	Length func(mm float64) string
}

// Legend returns the lines of a legend: style, order, width and length of the cloth, and
// the share of it that is used.
func (m *Marker) Legend(f Facts) []string {
	var lines []string
	if f.Style != "" {
		lines = append(lines, f.Style)
	}
	var order []string
	for _, g := range m.Order {
		order = append(order, strings.TrimSpace(fmt.Sprintf("%d x %s", g.Count, g.Size)))
		if g.Size == "" {
			order[len(order)-1] = garments(g.Count)
		}
	}
	lines = append(lines, "order "+strings.Join(order, ", "))
	lie := "open, " + m.Cloth.Ways(m.Job.Pieces)
	if m.Cloth.Folded {
		lie = "folded, " + m.Cloth.Ways(m.Job.Pieces)
	}
	lines = append(lines, "cloth "+f.Length(m.Cloth.Width)+" wide", lie, "length "+f.Length(m.Length()))
	if n := len(m.Sections); n > 1 {
		lines = append(lines, fmt.Sprintf("in %d sections", n))
	}
	lines = append(lines, fmt.Sprintf("use of cloth %.1f %%", 100*m.Use()))
	if f.Date != "" {
		lines = append(lines, f.Date)
	}
	return lines
}

func garments(n int) string {
	if n == 1 {
		return "1 garment"
	}
	return fmt.Sprintf("%d garments", n)
}

// label is where the label of an outline stands in its pose, and whether its lines are
// joined in one.
type label struct {
	at     path.Point
	angle  float64
	height float64
	joined bool
}

// texts returns the lines of a label, centred.
func (l label) texts(lines []string) []plot.Text {
	along := path.Direction(l.angle)
	all := make([]plot.Text, len(lines))
	for i, s := range lines {
		up := (float64(len(lines)-1)/2-float64(i))*labelSpacing*l.height - l.height/2
		all[i] = plot.Text{At: l.at.Add(along.Left().Mul(up)), Height: l.height, Angle: l.angle, Align: plot.Middle, String: s}
	}
	return all
}

// roomFor finds the place for a label in a group in its pose: in the largest letters that
// have room, near its middle; in one line rather than in smaller letters.
func roomFor(g plot.Group, lines []string) label {
	box := g.Bounds()
	var room *ground.Ground
	var holes []path.Path
	for _, l := range g.Lines {
		if room == nil && l.Role == plot.Cut {
			room = ground.New(l.Path)
		} else if room != nil {
			room.Keep(l.Path)
			if l.Role == plot.Cut && l.Path.Closed {
				holes = append(holes, l.Path)
			}
		}
	}
	var spots []path.Point
	for y := 1; y < labelGrid; y++ {
		for x := 1; x < labelGrid; x++ {
			spots = append(spots, path.Point{X: box.Min.X + box.Width()*float64(x)/labelGrid, Y: box.Min.Y + box.Height()*float64(y)/labelGrid})
		}
	}
	spots = slices.DeleteFunc(spots, func(at path.Point) bool {
		return slices.ContainsFunc(holes, func(h path.Path) bool { return h.Contains(at) })
	})
	slices.SortStableFunc(spots, func(a, b path.Point) int { return cmp.Compare(a.Dist(box.Centre()), b.Dist(box.Centre())) })
	angles := []float64{0, math.Pi / 2}
	forms := [][]string{lines, {strings.Join(lines, ", ")}}
	for h := highestLabel; h > leastLabel && room != nil; h *= labelStep {
		for i, lines := range forms {
			half := path.Vec{Y: (labelSpacing*float64(len(lines)-1) + 2) * h / 2}
			for _, s := range lines {
				c := plot.Text{Height: h, String: s}.Corners()
				half.X = max(half.X, (c[1].X-c[0].X+h)/2)
			}
			for _, angle := range angles {
				for _, at := range spots {
					if room.Clear(at, path.Direction(angle), half) {
						return label{at, angle, h, i > 0}
					}
				}
			}
		}
	}
	return label{at: box.Centre(), height: leastLabel}
}
