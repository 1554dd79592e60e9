package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/fit"
	"engrail/motif/path"
)

// inspectVersion names the form of what inspect --json prints.
const inspectVersion = "engrail-inspect/1"

// The inspection as JSON: lengths in mm and places in mm from the drawing's
// origin, y up, rounded to a ten thousandth; angles in degrees.
type (
	inspectionJSON struct {
		Version string `json:"version"`
		File    string `json:"file"`
		// SizesBy is the word of the style file for how sizes are told apart, empty
		// when the file has one size.
		SizesBy  string        `json:"sizes_by"`
		Sizes    []sizeJSON    `json:"sizes"`
		Problems []problemJSON `json:"problems"`
	}
	sizeJSON struct {
		Size     string        `json:"size"`
		Pieces   []pieceJSON   `json:"pieces"`
		Seams    []seamJSON    `json:"seams"`
		Problems []problemJSON `json:"problems"`
	}
	pieceJSON struct {
		Number int    `json:"number"`
		Name   string `json:"name"`
		// FindBy and Find are the key under piece that finds it, and its value.
		FindBy string  `json:"find_by"`
		Find   string  `json:"find"`
		Width  float64 `json:"width"`
		Height float64 `json:"height"`
		// Quantity is 0 when the drawing does not say.
		Quantity int  `json:"quantity"`
		OnFold   bool `json:"on_fold"`
		// Outline is "cut" or "stitching".
		Outline string `json:"outline"`
		// Grain is the two ends of the grain line, or nothing.
		Grain     []pointJSON `json:"grain"`
		TurnedDeg float64     `json:"turned_deg"`
		Edges     []edgeJSON  `json:"edges"`
		Notches   []notchJSON `json:"notches"`
		Texts     []string    `json:"texts"`
	}
	edgeJSON struct {
		Number int     `json:"number"`
		Guess  string  `json:"guess"`
		Role   string  `json:"role"`
		Reason string  `json:"reason"`
		Length float64 `json:"length"`
		// Allowance is null where it is not measured.
		Allowance *float64 `json:"allowance"`
		// Corner is the letter of the corner at the start, and CornerDeg the angle
		// inside the piece there.
		Corner    string    `json:"corner"`
		CornerDeg float64   `json:"corner_deg"`
		Start     pointJSON `json:"start"`
		End       pointJSON `json:"end"`
	}
	notchJSON struct {
		At pointJSON `json:"at"`
		// Edge is the nearest edge, 0 without edges, and FromStart how far along it.
		Edge      int     `json:"edge"`
		FromStart float64 `json:"from_start"`
	}
	seamJSON struct {
		A       string  `json:"a"`
		B       string  `json:"b"`
		ALength float64 `json:"a_length"`
		BLength float64 `json:"b_length"`
		Reason  string  `json:"reason"`
	}
	problemJSON struct {
		Code    string `json:"code"`
		Level   string `json:"level"`
		Where   string `json:"where"`
		Message string `json:"message"`
	}
	pointJSON [2]float64
)

// json returns the inspection as it is printed, with a line end.
func (in *inspection) json() ([]byte, error) {
	j := inspectionJSON{
		Version: inspectVersion, File: in.file, SizesBy: string(in.by),
		Sizes: []sizeJSON{}, Problems: problemsJSON(in.problems),
	}
	for _, s := range in.sizes {
		size := sizeJSON{Size: s.Name, Pieces: []pieceJSON{}, Seams: []seamJSON{}, Problems: problemsJSON(s.report.Problems)}
		for _, p := range s.report.Pieces {
			size.Pieces = append(size.Pieces, newPieceJSON(p))
		}
		for _, g := range s.report.Seams {
			size.Seams = append(size.Seams, seamJSON{
				sideName(s.report, g.A), sideName(s.report, g.B), rounded(g.ALength), rounded(g.BLength), g.Reason,
			})
		}
		j.Sizes = append(j.Sizes, size)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(j); err != nil {
		return nil, fmt.Errorf("%s: %w", in.file, err)
	}
	return b.Bytes(), nil
}

func newPieceJSON(p pattern.Inspected) pieceJSON {
	box := p.Outline.Bounds()
	j := pieceJSON{
		Number: p.Number, Name: p.Name, FindBy: p.Key, Find: p.Value,
		Width: rounded(box.Width()), Height: rounded(box.Height()), Quantity: p.Quantity, OnFold: p.OnFold,
		Outline: "stitching", TurnedDeg: rounded(degrees(p.Turned)),
		Edges: []edgeJSON{}, Notches: []notchJSON{}, Texts: append([]string{}, p.Texts...),
	}
	if p.Cut {
		j.Outline = "cut"
	}
	if p.Grain.Length() > 0 {
		j.Grain = []pointJSON{newPointJSON(p.Grain.A), newPointJSON(p.Grain.B)}
	}
	for _, e := range p.Edges {
		edge := edgeJSON{
			Number: e.Number, Guess: e.Word, Role: e.Role.String(), Reason: e.Reason, Length: rounded(e.Path.Length()),
			Corner: e.Letter, CornerDeg: rounded(degrees(e.Corner)), Start: newPointJSON(e.Path.Start()), End: newPointJSON(e.Path.End()),
		}
		if e.Measured {
			width := rounded(e.Allowance)
			edge.Allowance = &width
		}
		j.Edges = append(j.Edges, edge)
	}
	for _, n := range p.Notches {
		edge, along := nearestEdge(p, n)
		j.Notches = append(j.Notches, notchJSON{newPointJSON(n), edge, rounded(along)})
	}
	return j
}

// nearestEdge returns the number of the edge that is nearest to a place, 0 without
// edges, and how far from the edge's start in mm the place is along it.
func nearestEdge(p pattern.Inspected, at path.Point) (number int, along float64) {
	least := math.Inf(1)
	for _, e := range p.Edges {
		if a, d := path.NewRuler(e.Path).Nearest(at); d < least {
			number, along, least = e.Number, a, d
		}
	}
	return number, along
}

// sideName names a side as the list of seams in a style file does, but with the
// name that the piece has in the drawing.
func sideName(r pattern.Report, s pattern.SideRef) string {
	return r.Pieces[s.Piece].Name + " " + s.End.String()
}

func problemsJSON(list []fit.Warning) []problemJSON {
	all := []problemJSON{}
	for _, w := range list {
		all = append(all, problemJSON{w.Code, w.Level.String(), w.Where, w.Message})
	}
	return all
}

func newPointJSON(p path.Point) pointJSON { return pointJSON{rounded(p.X), rounded(p.Y)} }

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// rounded keeps four decimals.
func rounded(x float64) float64 {
	const steps = 1e4
	return math.Round(x*steps)/steps + 0 // not -0
}
