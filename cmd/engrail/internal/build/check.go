package build

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"engrail/cmd/engrail/internal/style"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/hpgl"
	"engrail/plot/pdf"
	"engrail/plot/proof"
	"engrail/plot/svg"
)

// Checked is what was found in a file.
type Checked struct {
	// Kind is what the file is, for people.
	Kind string
	// Pages are the sizes of a PDF's pages, of which nothing else is read.
	Pages []pdf.Page
	// Found is what is in any other file.
	Found proof.Findings
	// Against compares it with its design, nil where it was not asked for or only
	// sizes of pages are compared. Proof has the figures, nil where not asked for.
	Against *proof.Comparison
	Proof   *Proof
	// Knife says that a knife cuts the file.
	Knife bool
}

// Problems say what would spoil the work, in the order of weight.
func (c *Checked) Problems() (all []string) {
	add := func(n int, one, several string) {
		switch {
		case n == 1:
			all = append(all, "1 "+one)
		case n > 1:
			all = append(all, fmt.Sprintf("%d %s", n, several))
		}
	}
	if c.Against != nil && c.Against.Max > c.Proof.within {
		worst, _ := c.Against.Worst()
		if math.IsInf(worst.Max, 1) {
			all = append(all, fmt.Sprintf("%s lines are missing, or are there and were not designed", worst.Class))
		} else {
			all = append(all, fmt.Sprintf("%s lines are up to %.3f mm from the design, near (%.1f, %.1f) mm; %g mm is allowed", worst.Class, worst.Max, worst.At.X, worst.At.Y, c.Proof.within))
		}
	}
	if p := c.Proof; p != nil {
		if p.MaxDeviation == nil && (p.ScaleX != 1 || p.ScaleY != 1) {
			all = append(all, fmt.Sprintf("pages are %g times as wide and %g times as high as they should be", p.ScaleX, p.ScaleY))
		}
		add(p.Open, "cut line is open and should be closed", "cut lines are open and should be closed")
	}
	add(len(c.Found.Crossing), "place where a cut line crosses itself", "places where a cut line crosses itself")
	if c.Knife {
		add(c.Found.Texts, "text that a knife would cut", "texts that a knife would cut")
	}
	return all
}

// Check reads a file and says what is in it.
func Check(name string, content []byte) (*Checked, error) {
	var d plot.Drawing
	var err error
	c := &Checked{}
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".hpgl", ".plt", ".hpg", ".hgl":
		c.Kind = "HP-GL"
		d, err = hpgl.Read(bytes.NewReader(content), hpgl.ReadOptions{})
	case ".dxf":
		c.Kind = "DXF"
		d, err = dxf.Read(bytes.NewReader(content), dxf.ReadOptions{})
	case ".svg":
		c.Kind = "SVG"
		d, err = svg.Read(bytes.NewReader(content), svg.Options{})
	case ".pdf":
		c.Kind = "PDF"
		c.Pages, err = pdf.Pages(content)
	default:
		return nil, &Error{
			Problem: fmt.Sprintf("%s: files that end in %q are not checked", name, ext),
			Hint:    "check a file that ends in .hpgl, .plt, .dxf, .svg or .pdf; engrail review looks over a style",
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	c.Found = proof.Look(linesOf(d))
	return c, nil
}

// Check reads one of the files that the plan makes and measures it against the
// design. A file of another name is an error.
func (p *Plan) Check(name string, content []byte) (*Checked, error) {
	outputs, err := p.outputs()
	if err != nil {
		return nil, err
	}
	var names []string
	for _, o := range outputs {
		names = append(names, o.name)
		if o.name != filepath.Base(name) {
			continue
		}
		c, err := Check(name, content)
		if err != nil {
			return nil, err
		}
		made, err := o.prove(content)
		if err != nil {
			return nil, err
		}
		if c.Proof = made; made.MaxDeviation != nil {
			c.Found, c.Against = made.Found, &made.Against
		}
		c.Knife = o.device != nil && o.device.Tool == hpgl.Knife
		return c, nil
	}
	hint := "the style makes " + strings.Join(names, ", ")
	if near := style.Nearest(filepath.Base(name), names); near != "" {
		hint = fmt.Sprintf("did you mean %q? ", near) + hint
	}
	return nil, &Error{Problem: fmt.Sprintf("the style makes no file that is called %s", filepath.Base(name)), Hint: hint}
}
