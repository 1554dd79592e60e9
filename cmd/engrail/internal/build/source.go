package build

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/svg"
)

// findSizes gives the style the sizes of its pattern, all or those that it
// lists.
func (p *patterns) findSizes() error {
	s := p.style
	file := s.Pattern.File
	for i := 0; file == "" && i < len(s.Panels); i++ {
		if q := s.Panels[i].Piece; q != nil {
			file = q.File
		}
	}
	if file == "" {
		return nil
	}
	if p.by == pattern.ByNothing {
		// A rule table is for the pieces of pattern data.
		switch rules, err := p.rules(file); {
		case err != nil:
			return err
		case rules != nil:
			p.by = pattern.ByPiece
		}
	}
	var found []string
	switch {
	case strings.Contains(file, style.SizeInName):
		found = p.inNames(file)
		if len(found) == 0 && !s.Sized() {
			return noSuchSizes(file)
		}
	case p.by != pattern.ByNothing:
		list, err := p.divided(file)
		if err != nil {
			return err
		}
		for _, x := range list {
			found = append(found, x.Name)
		}
	default:
		return nil
	}
	names := found
	if given := s.Pattern.Names; len(given) > 0 {
		if len(given) != len(found) {
			return &Error{
				Problem: fmt.Sprintf("the style names %d sizes, but %s has %d: %s", len(given), file, len(found), strings.Join(found, ", ")),
				Hint:    "write a name for each of them, in this order, after `names:` under `pattern:`",
			}
		}
		names = given
	}
	sample := p.sample
	for i, name := range names {
		p.own[name] = found[i]
		if found[i] == sample {
			p.sample = name
		}
	}
	if !s.Sized() {
		p.style = s.WithSizes(names)
		return nil
	}
	for _, size := range s.Sizes {
		if len(names) > 0 && !slices.Contains(names, size.Name) {
			hint := "the sizes there are " + strings.Join(names, ", ")
			if near := style.Nearest(size.Name, names); near != "" {
				hint = fmt.Sprintf("did you mean %q? %s", near, hint)
			}
			return &Error{Problem: fmt.Sprintf("the style lists the size %s, which %s does not have", size.Name, file), Hint: hint}
		}
	}
	return nil
}

// inNames returns the sizes for which there is a file of the name, in order.
func (p *patterns) inNames(file string) []string {
	if p.files.List == nil {
		return nil
	}
	folder, base := filepath.Split(file)
	before, after, _ := strings.Cut(base, style.SizeInName)
	var sizes []string
	for _, name := range p.files.List(folder) {
		if len(name) > len(before)+len(after) && strings.HasPrefix(name, before) && strings.HasSuffix(name, after) {
			sizes = append(sizes, name[len(before):len(name)-len(after)])
		}
	}
	pattern.SortSizes(sizes)
	return sizes
}

// drawingIn returns what a file draws in the size.
func (p *patterns) drawingIn(file, size string) (plot.Drawing, error) {
	own, known := p.own[size]
	if !known {
		own = size
	}
	switch {
	case strings.Contains(file, style.SizeInName):
		return p.drawing(strings.ReplaceAll(file, style.SizeInName, own))
	case p.by == pattern.ByNothing:
		return p.drawing(file)
	}
	list, err := p.divided(file)
	if err != nil {
		return plot.Drawing{}, err
	}
	var names []string
	for _, x := range list {
		if x.Name == own {
			return x.Drawing, nil
		}
		names = append(names, x.Name)
	}
	return plot.Drawing{}, &Error{
		Problem: fmt.Sprintf("%s does not have the size %s", file, own),
		Hint:    "draw it there too; the sizes there are " + strings.Join(names, ", "),
	}
}

// divided returns the sizes of a file, which it divides once.
func (p *patterns) divided(file string) ([]pattern.Sized, error) {
	if list, ok := p.sized[file]; ok {
		return list, nil
	}
	d, err := p.drawing(file)
	if err != nil {
		return nil, err
	}
	list, warnings, err := pattern.Sizes(d, p.by)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	for _, w := range warnings {
		w.Where = file + ", " + w.Where
		p.warnings = append(p.warnings, w)
	}
	p.sized[file] = list
	return list, nil
}

// propose looks, for a style without sizes, whether the drawing has some. The
// error, that of taking the piece or one of its own where the piece is there in
// several sizes, then says how the style file tells of them; a piece of only one
// size, which must be meant, has a warning.
func (p *patterns) propose(sel pattern.Selection, failed error) ([]fit.Warning, error) {
	if _, ok := p.proposed[sel.File]; !ok {
		by, names := pattern.ProposeSizes(p.drawings[sel.File])
		p.proposed[sel.File] = proposal{by, names}
	}
	has := p.proposed[sel.File]
	if has.by == pattern.ByNothing {
		return nil, failed
	}
	what := fmt.Sprintf("the drawing has %d sizes, %s, told apart by %s", len(has.names), strings.Join(has.names, ", "), has.by)
	line := fmt.Sprintf("write `pattern: {file: %s, sizes: %s}` in the style file", sel.File, has.by)
	if failed != nil {
		return nil, &Error{Problem: failed.Error(), Hint: what + "; " + line}
	}
	found := 0
	list, _, err := pattern.Sizes(p.drawings[sel.File], has.by)
	for _, x := range list {
		if _, _, err := pattern.Take(x.Drawing, sel); err == nil {
			found++
		}
	}
	if found > 1 || err != nil {
		return nil, &Error{Problem: fmt.Sprintf("%s: %s, and the style does not say so", sel.File, what), Hint: line}
	}
	return []fit.Warning{{
		Code: "one-of-sizes", Message: fmt.Sprintf("%s, and the piece is of one of them; for all of them %s", what, line),
		Where: fmt.Sprintf("%s, panel %s", sel.File, sel.Panel),
	}}, nil
}

// drawing reads a pattern file, once.
func (p *patterns) drawing(file string) (plot.Drawing, error) {
	if d, ok := p.drawings[file]; ok {
		return d, nil
	}
	data, err := p.files.Read(file)
	if err != nil {
		return plot.Drawing{}, err
	}
	var rules *dxf.Rules
	if p.by == pattern.ByPiece {
		if rules, err = p.rules(file); err != nil {
			return plot.Drawing{}, err
		}
	}
	d, warnings, err := decode(file, data, float64(p.style.Pattern.Unit), rules)
	if err != nil {
		return plot.Drawing{}, err
	}
	p.warnings = append(p.warnings, warnings...)
	p.drawings[file] = d
	return d, nil
}

// rules reads the grade rules of a file of pattern data: those that the style
// names, else those of the file's name beside it; nil without any.
func (p *patterns) rules(file string) (*dxf.Rules, error) {
	stem, isDXF := cutExt(file, ".dxf")
	if !isDXF {
		return nil, nil
	}
	name := ""
	if file == p.style.Pattern.File {
		name = p.style.Pattern.Rules
	}
	if folder, base := filepath.Split(stem); name == "" && p.files.List != nil {
		for _, n := range p.files.List(folder) {
			if other, ok := cutExt(n, ".rul"); ok && strings.EqualFold(other, base) {
				name = folder + n
			}
		}
	}
	if name == "" {
		return nil, nil
	}
	data, err := p.files.Read(name)
	if err != nil {
		return nil, err
	}
	rules, err := dxf.ParseRules(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	p.sample = rules.Sample
	return rules, nil
}

// cutExt returns the name without the ending, in whatever capitals.
func cutExt(name, ext string) (stem string, ok bool) {
	if have := filepath.Ext(name); strings.EqualFold(have, ext) {
		return name[:len(name)-len(have)], true
	}
	return name, false
}

// dxfHead is how DXF begins.
var dxfHead = regexp.MustCompile(`^\s*(0\s+SECTION|999\s)`)

// decode reads a drawing in the format that the file's name says. unit is the
// true length in mm of one of its units, 0 to believe the file; rules are the grade
// rules of pattern data, nil without any. The warnings say what of the file may
// not be as it was meant.
func decode(file string, data []byte, unit float64, rules *dxf.Rules) (d plot.Drawing, warnings []fit.Warning, err error) {
	isSVG := false
	switch strings.ToLower(filepath.Ext(file)) {
	case ".svg":
		isSVG = true
		var report svg.Report
		d, report, err = svg.ReadWithReport(bytes.NewReader(data), svg.Options{UnitMM: unit})
		if report.Sheet != "" {
			warnings = append(warnings, fit.Warning{Code: "page-size", Where: file, Message: fmt.Sprintf(
				"the page is a sheet of %s if %d px are an inch, and 96 were taken for one; measure something, and if it comes out %d/96 times as large as it should, "+
					"write `unit: 1/%d in` under `pattern:` beside `file:`", report.Sheet, report.PerInch, report.PerInch, report.PerInch)})
		}
	case ".dxf":
		var report dxf.Report
		d, report, err = dxf.ReadWithReport(bytes.NewReader(data), dxf.ReadOptions{UnitMM: unit, Rules: rules})
		for _, w := range report.Warnings {
			warnings = append(warnings, fit.Warning{Code: "pattern-data", Message: w, Where: file})
		}
	default:
		return d, nil, &Error{
			Problem: fmt.Sprintf("the pattern %s is of a kind that is not read: its name ends in neither .svg nor .dxf", file),
			Hint:    "save the pattern as plain SVG or ASCII DXF in the drawing program, and name that file",
		}
	}
	var placed *svg.Error
	switch {
	case err != nil && !isSVG && bytes.HasPrefix(bytes.TrimSpace(data), []byte("<")):
		return d, nil, &Error{Problem: fmt.Sprintf("the pattern %s looks like SVG, and its name says that it is DXF", file), Hint: "give it a name that ends in .svg"}
	case err != nil && isSVG && dxfHead.Match(data):
		return d, nil, &Error{Problem: fmt.Sprintf("the pattern %s looks like DXF, and its name says that it is SVG", file), Hint: "give it a name that ends in .dxf"}
	case err != nil && (errors.As(err, &placed) || !isSVG):
		return d, nil, fmt.Errorf("%s: %w", file, err)
	case err != nil: // it is of no kind that is read
		return d, nil, &Error{
			Problem: fmt.Sprintf("the pattern %s %v", file, err),
			Hint:    "save the pattern as plain SVG or ASCII DXF in the drawing program, and name that file",
		}
	}
	return d, warnings, nil
}
