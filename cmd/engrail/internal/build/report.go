package build

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"engrail/facing"
	"engrail/facing/advice"
	"engrail/fit"
)

// ReportName is the name of the report's file.
const ReportName = "report.json"

// ReportVersion names the report's form.
const ReportVersion = "engrail-report/1"

// Report is what was made, with figures: lengths in mm, areas in square mm,
// rounded to a ten thousandth.
type Report struct {
	Version string       `json:"version"`
	Style   string       `json:"style"`
	Sizes   []SizeReport `json:"sizes"`
	// Nest are the files that hold all sizes, none of a style with one.
	Nest []File `json:"nest"`
	// Texts say how files are used and how the design is sewn.
	Texts []File `json:"texts"`
	// Proof says of every file how far what is read back from it is from the design.
	Proof []Proof `json:"proof"`
	// Checks are what a careful maker says of the design. What is fine is left out.
	Checks   []Remark  `json:"checks"`
	Warnings []Warning `json:"warnings"`
}

// Files returns the files of all sizes, those that hold all of them, and the texts.
func (r *Report) Files() []File {
	var all []File
	for _, s := range r.Sizes {
		all = append(all, s.Files...)
	}
	return append(append(all, r.Nest...), r.Texts...)
}

// SizeReport is one size.
type SizeReport struct {
	Size   string  `json:"size"`
	Panels []Panel `json:"panels"`
	Seams  []Seam  `json:"seams"`
	// Truing is what walking along the seams finds: of the garments, then of the facings.
	Truing []Truing `json:"truing"`
	// Closings are left out when no facing is made in one piece.
	Closings []Closing `json:"facing_closings,omitempty"`
	Pieces   []Piece   `json:"pieces"`
	Files    []File    `json:"files"`
}

// Panel is a panel with its fitted hem.
type Panel struct {
	Name string `json:"name"`
	// Hem is the net length of the hem as drafted, of the half if only half is.
	Hem float64 `json:"hem"`
	// Repeats is the whole number in the unfolded panel.
	Repeats     int     `json:"repeats"`
	RepeatWidth float64 `json:"repeat_width"`
	Depth       float64 `json:"depth"`
	// Start and Finish are what stands on the ends: valley or peak.
	Start  string `json:"start"`
	Finish string `json:"finish"`
	// Valleys is their number on the hem as drafted, ends included.
	Valleys int `json:"valleys"`
	// Runs are the stretches of the hem between its corners, one when it has none.
	Runs []Run `json:"runs"`
	// Favour is how much smaller than the garment its facing is at the hem, and
	// EasePerRepeat by how much the garment's stitching line is longer for each repeat;
	// both are 0 without a facing.
	Favour        float64 `json:"favour"`
	EasePerRepeat float64 `json:"ease_per_repeat"`
}

// Run is a stretch of a hem between two corners or ends.
type Run struct {
	// Repeats counts half ones at corners with a peak, and Motifs those of all of a
	// sequence.
	Repeats float64 `json:"repeats"`
	Motifs  float64 `json:"motifs"`
	Width   float64 `json:"width"`
	Depth   float64 `json:"depth"`
	Start   string  `json:"start"`
	Finish  string  `json:"finish"`
	// AtValleys and AtPeaks are the least and the greatest straight distance of
	// neighbours on these lines, which differ on a curved hem.
	AtValleys [2]float64 `json:"at_valleys"`
	AtPeaks   [2]float64 `json:"at_peaks"`
	// Neck is the width of the narrowest neck, 0 of motifs without.
	Neck float64 `json:"neck"`
}

func runReports(f fit.Fitted) []Run {
	both := func(d [2]float64) [2]float64 { return [2]float64{round(d[0]), round(d[1])} }
	all := make([]Run, len(f.Runs))
	for i, r := range f.Runs {
		all[i] = Run{
			Repeats: r.Repeats, Motifs: r.Motifs, Width: round(r.Width), Depth: round(r.Spec.Depth),
			Start: r.Phases[fit.Start].String(), Finish: r.Phases[fit.Finish].String(),
			AtValleys: both(r.AtValleys), AtPeaks: both(r.AtPeaks), Neck: round(r.Neck),
		}
	}
	return all
}

// Seam compares two edges that are joined.
type Seam struct {
	A          string  `json:"a"`
	B          string  `json:"b"`
	ALength    float64 `json:"a_length"`
	BLength    float64 `json:"b_length"`
	Difference float64 `json:"difference"`
	HemTurnDeg float64 `json:"hem_turn_deg"`
}

// Truing is a joined seam, walked along in both directions.
type Truing struct {
	Kind       string  `json:"kind"`
	A          string  `json:"a"`
	B          string  `json:"b"`
	ALength    float64 `json:"a_length"`
	BLength    float64 `json:"b_length"`
	Difference float64 `json:"difference"`
	// Matched are notches that meet, from the hem up, and Unmatched is the number of
	// the others on both sides.
	Matched   []NotchPair `json:"notches_matched"`
	Unmatched int         `json:"notches_unmatched"`
	// HemTurnDeg is by how much more the hem turns at the join than at the motif's
	// other valleys or peaks, HemStep and CutStep by how much further down A's
	// stitching line and cut line come.
	HemTurnDeg float64 `json:"hem_turn_deg"`
	HemStep    float64 `json:"hem_step"`
	CutStep    float64 `json:"cut_step"`
	// Verdict is good, tolerated or untrue.
	Verdict string `json:"verdict"`
}

// NotchPair is two notches that meet, each by its distances from the hem and from the
// far end of its side; Apart is by how much they miss each other from the better end.
type NotchPair struct {
	AFromHem float64 `json:"a_from_hem"`
	BFromHem float64 `json:"b_from_hem"`
	AFromTop float64 `json:"a_from_top"`
	BFromTop float64 `json:"b_from_top"`
	Apart    float64 `json:"apart"`
}

func (s Size) truings() []Truing {
	all := []Truing{}
	for _, x := range s.Truing {
		kind := ""
		if x.Kind == facing.Facing {
			kind = " facing"
		}
		name := func(e fit.EndRef) string { return s.Fit.Panels[e.Panel].Panel.Name + kind + " " + e.End.String() }
		t := Truing{
			Kind: x.Kind.String(), A: name(x.Seam.A), B: name(x.Seam.B),
			ALength: round(x.Lengths[0]), BLength: round(x.Lengths[1]), Difference: round(x.Difference()),
			Matched: []NotchPair{}, Unmatched: x.Unmatched[0] + x.Unmatched[1],
			HemTurnDeg: round(x.HemTurn * 180 / math.Pi), HemStep: round(x.HemStep), CutStep: round(x.CutStep),
			Verdict: x.Verdict().String(),
		}
		for _, n := range x.Pairs {
			t.Matched = append(t.Matched, NotchPair{round(n.FromHem[0]), round(n.FromHem[1]), round(n.FromTop[0]), round(n.FromTop[1]), round(n.Apart())})
		}
		all = append(all, t)
	}
	return all
}

// Closing says how the facings of two joined panels close, laid out flat side line
// on side line: by how much the side lines differ in direction, and how far they are
// apart at the most.
type Closing struct {
	A        string  `json:"a"`
	B        string  `json:"b"`
	AngleDeg float64 `json:"angle_deg"`
	Gap      float64 `json:"gap"`
}

// Piece is a piece to cut.
type Piece struct {
	Name         string  `json:"name"`
	Kind         string  `json:"kind"`
	Panel        string  `json:"panel"`
	NetArea      float64 `json:"net_area"`
	CutArea      float64 `json:"cut_area"`
	NetPerimeter float64 `json:"net_perimeter"`
	CutQuantity  int     `json:"cut_quantity"`
	OnFold       bool    `json:"on_fold"`
	// Clips are the slits at valleys and inner corners, Snips all cuts into the allowance.
	Clips   int     `json:"clips"`
	Snips   Snips   `json:"snips"`
	Notches int     `json:"notches"`
	Width   float64 `json:"width"`
	Height  float64 `json:"height"`
	// BindingLength is what binds the inner edge of a whole piece, left out when it
	// is not bound.
	BindingLength float64 `json:"binding_length,omitempty"`
}

// Warning is something that a careful maker would look at. Level is note or warning, in the
// sense of the checks.
type Warning struct {
	Code    string `json:"code"`
	Level   string `json:"level"`
	Message string `json:"message"`
	Where   string `json:"where"`
}

func warningOf(w fit.Warning) Warning {
	return Warning{Code: w.Code, Level: w.Level.String(), Message: w.Message, Where: w.Where}
}

// Remark is what one check says of a panel, piece or seam.
type Remark struct {
	Name     string   `json:"name"`
	Level    string   `json:"level"`
	Message  string   `json:"message"`
	Figures  []Figure `json:"figures"`
	Remedy   string   `json:"remedy"`
	Where    string   `json:"where"`
	Accepted bool     `json:"accepted"`
}

// Figure is a number that a check goes by, in mm, degrees or as a count.
type Figure struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

func remarkOf(size string, f advice.Finding) Remark {
	c := Remark{
		Name: f.Name, Level: f.Level.String(), Message: f.Message, Figures: []Figure{},
		Remedy: f.Remedy, Where: inSize(size, f.Where), Accepted: f.Accepted,
	}
	for _, x := range f.Figures {
		c.Figures = append(c.Figures, Figure{x.Name, round(x.Value), string(x.Unit)})
	}
	return c
}

// inSize names a place in a size of a style that has several; a place without a name
// is the whole garment.
func inSize(size, where string) string {
	if where == "" {
		where = "the whole garment"
	}
	if size != "" {
		where = "size " + size + ": " + where
	}
	return where
}

// Telling returns the checks to be warned of: those of weight that are not accepted, and
// that no warning tells already.
func (r *Report) Telling() []Remark {
	var all []Remark
	for _, c := range r.Checks {
		told := slices.ContainsFunc(r.Warnings, func(w Warning) bool { return w.Code == c.Name && w.Where == c.Where })
		if c.Level != fit.LevelNote.String() && !c.Accepted && !told {
			all = append(all, c)
		}
	}
	return all
}

// File is a file that was made, with the size of its drawing.
type File struct {
	Path   string  `json:"path"`
	Format string  `json:"format"`
	Bytes  int     `json:"bytes"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	// Frame says which part of a larger drawing the file is.
	Frame *FrameReport `json:"frame,omitempty"`
}

// FrameReport is a part of a drawing: its row from below and its column from the
// left, counted from 1, how many parts there are, and the numbers of the register
// marks on it, each of which is on two of them.
type FrameReport struct {
	Row    int   `json:"row"`
	Column int   `json:"column"`
	Of     int   `json:"of"`
	Marks  []int `json:"marks"`
}

// Report returns the plan's report, without files.
func (p *Plan) Report() *Report {
	r := &Report{Version: ReportVersion, Style: p.Style.Name, Sizes: []SizeReport{}, Nest: []File{}, Texts: []File{}, Proof: []Proof{}, Checks: []Remark{}, Warnings: []Warning{}}
	for _, s := range p.Sizes {
		r.Sizes = append(r.Sizes, s.report())
	}
	for _, s := range p.Sizes {
		for _, f := range s.Checks {
			if f.Level > fit.LevelFine {
				r.Checks = append(r.Checks, remarkOf(s.Name, f))
			}
		}
	}
	for _, w := range p.Warnings {
		if !slices.Contains(p.Style.Accept, w.Code) {
			r.Warnings = append(r.Warnings, warningOf(w))
		}
	}
	return r
}

func (s Size) report() SizeReport {
	r := SizeReport{Size: s.Name, Panels: []Panel{}, Seams: []Seam{}, Truing: s.truings(), Pieces: []Piece{}, Files: []File{}}
	for i, f := range s.Fit.Panels {
		panel := Panel{
			Name: f.Panel.Name, Hem: round(f.Panel.Edges[0].Path.Length()), Repeats: f.Repeats,
			RepeatWidth: round(f.Width), Depth: round(f.Spec.Depth),
			Start: f.Phases[fit.Start].String(), Finish: f.Phases[fit.Finish].String(), Valleys: len(f.Valleys), Runs: runReports(f),
		}
		if s.Favours != nil {
			v := s.Favours[i]
			panel.Favour, panel.EasePerRepeat = round(v.Inward+v.Outward), round(v.PerRepeat)
		}
		r.Panels = append(r.Panels, panel)
	}
	side := func(kind string, e fit.EndRef) string {
		return s.Fit.Panels[e.Panel].Panel.Name + kind + " " + e.End.String()
	}
	add := func(kind string, list []fit.SeamReport) {
		for _, x := range list {
			r.Seams = append(r.Seams, Seam{
				A: side(kind, x.Seam.A), B: side(kind, x.Seam.B), ALength: round(x.ALength), BLength: round(x.BLength),
				Difference: round(x.ALength - x.BLength), HemTurnDeg: round(x.HemTurn * 180 / math.Pi),
			})
		}
	}
	add("", s.Fit.Seams)
	add(" facing", s.FacingSeams)
	for _, c := range s.Closings {
		r.Closings = append(r.Closings, Closing{
			A: side(" facing", c.Seam.A), B: side(" facing", c.Seam.B), AngleDeg: round(c.Angle * 180 / math.Pi), Gap: round(c.Gap),
		})
	}
	for _, p := range s.Pieces {
		r.Pieces = append(r.Pieces, pieceReport(p))
	}
	return r
}

func pieceReport(p facing.Piece) Piece {
	net, cut := p.Net(), p.Cut()
	box := cut.Bounds()
	snips, valleys := snipsOf(p)
	return Piece{
		Name: p.Name, Kind: p.Kind.String(), Panel: p.Panel,
		// A hole runs the other way, and counts as less.
		NetArea: round(net.Area() + p.Hole.Net.Area()), CutArea: round(cut.Area() + p.Hole.Cut.Area()), NetPerimeter: round(net.Length()),
		CutQuantity: p.Quantity, OnFold: p.OnFold, Clips: valleys, Snips: snips, Notches: len(p.Notches),
		Width: round(box.Width()), Height: round(box.Height()), BindingLength: round(p.Binding),
	}
}

// round keeps four decimals.
func round(x float64) float64 {
	const steps = 1e4
	r := math.Round(x*steps) / steps
	if r == 0 {
		return 0 // not -0
	}
	return r
}

// JSON returns the report as it is written, with a line end.
func (r *Report) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(r); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return b.Bytes(), nil
}
