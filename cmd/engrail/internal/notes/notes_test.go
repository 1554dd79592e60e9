package notes_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/demo"
	"engrail/cmd/engrail/internal/notes"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/plot/plottest"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const testdata = "../../../../testdata"

// cape is a pattern with a piece whose hem goes all round, and one whose hem has a corner.
const cape = `<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="700mm" viewBox="0 0 700 700"><circle id="cape" cx="350" cy="350" r="250"/><path id="wrap" d="M 0 1000 L 600 1000 L 600 1400 L 0 1400 Z"/></svg>`

func planOf(t require.TestingT, text string) *build.Plan {
	s, err := style.Parse("x.yaml", []byte(text))
	require.NoError(t, err)
	p, err := build.New(s, build.Files{Read: func(name string) ([]byte, error) {
		switch name {
		case demo.PatternName:
			return demo.Pattern(), nil
		case "cape.svg":
			return []byte(cape), nil
		}
		return nil, fmt.Errorf("there is no file %s", name)
	}})
	require.NoError(t, err)
	return p
}

func nineSizes(t require.TestingT) string {
	text, err := os.ReadFile(filepath.Join(testdata, "build", "nine-sizes.yaml"))
	require.NoError(t, err)
	return string(text)
}

// drawn is a style of two drafted panels with the lines in place of the motif and at the end.
func drawn(motif string, lines ...string) string {
	return "engrail: 1\nstyle: Sorrel\nmotif: {" + motif + "}\npanels:\n  front: {gore: {waist: 360, hem: 620, length: 560}, half: fold}\n" +
		"  back: {gore: {waist: 360, hem: 640, length: 560}, half: fold}\nseams: [[front finish, back finish]]\n" + strings.Join(lines, "\n") + "\n"
}

// designs are styles of every kind that a sheet has words for.
func designs(t require.TestingT) map[string]string {
	return map[string]string{
		"scallops":   string(demo.Style()),
		"nine sizes": nineSizes(t),
		"no facing":  drawn("shape: scallop, width: 55, depth: 18", "facing: none"),
		"all round":  "engrail: 1\nstyle: Cape\npattern: cape.svg\npanels: {cape: {piece: {hem: all round}}}\n",
		"sequence":   drawn("shape: scallop, width: 60, depth: 20, sequence: [{}, {width: 1/2, depth: 2/3}, {width: 1/2, depth: 2/3}]"),
		"points":     drawn("shape: point, width: 40, depth: 15, flat: 2"),
		"waves":      drawn("shape: wave, width: 45, depth: 14"),
		"tabs":       drawn("shape: tab, width: 45, depth: 20"),
		"wide allowance": drawn("shape: scallop, width: 80, depth: 20, flat: 3",
			"allowance: {hem: 12, side: 15, inner: 0}", "facing: {depth: 60, favour: 0}"),
		"hollow":   drawn("shape: engrailed, width: 50, depth: 12"),
		"no seams": "engrail: 1\nstyle: Strip\npanels: {strip: {straight: {width: 500, depth: 200}}}\n",
		"corners": "engrail: 1\nstyle: Wrap\nmotif: {shape: point, width: 30, depth: 10}\npattern: cape.svg\n" +
			`panels: {wrap: {piece: {name: wrap, hem: ["#1", "#2"]}, runs: [{bare: true}, {}]}}` + "\nfacing: 40\n",
		"odd names":    strings.Replace(drawn("shape: scallop, width: 55, depth: 18"), "style: Sorrel", `style: "A & B <c> |*x*| [y](z) _q_"`, 1),
		"one piece":    drawn("shape: scallop, width: 55, depth: 18, flat: 2", "facing: {depth: 50, kind: one piece, inner edge: bound}", "allowance: {inner: 0}"),
		"pieced":       drawn("shape: scallop, width: 55, depth: 18, flat: 2", "facing: {depth: 50, kind: pieced, section: 250, interfacing: 4mm}"),
		"band":         "engrail: 1\nstyle: Strip\npanels: {strip: {straight: {width: 500, depth: 200}}}\nfacing: {depth: 60, kind: band}\n",
		"grown on":     "engrail: 1\nstyle: Strip\npanels: {strip: {straight: {width: 500, depth: 200}}}\nfacing: {depth: 60, kind: grown on, inner edge: overlocked}\n",
		"lined facing": drawn("shape: scallop, width: 55, depth: 18, flat: 2", "facing: {depth: 50, lining: true}"),
		"wrapped": "engrail: 1\nstyle: Wrap\npanels:\n  front: {straight: {width: 500, depth: 300}, start: {edge: opening}}\n" +
			"  back: {straight: {width: 500, depth: 300}, finish: {edge: opening}}\nseams: [[front finish, back start]]\nfacing: {depth: 50, kind: one piece}\n",
		"lining": drawn("shape: scallop, width: 55, depth: 18, flat: 2", "facing: {depth: none, lining: true}"),
		"turning": drawn("shape: scallop, width: 55, depth: 18, flat: 2", "facing: {depth: 50, favour: auto, favour on: both}",
			"cloth: {weight: light}", "turning: {notches: v, curves: true, trim: {garment: 5, facing: 3}}"),
		"unfolded": drawn("shape: scallop, width: 55, depth: 18", "output: {unfold: true}"),
	}
}

// sheets gives the sheet of a plan in a unit, as Markdown and HTML.
func sheets(t require.TestingT, p *build.Plan, o build.NotesOptions) (markdown, html string) {
	_, err := p.Notes(o, func(name string, content []byte) error {
		switch filepath.Ext(name) {
		case ".md":
			markdown = string(content)
		case ".html":
			html = string(content)
		}
		return nil
	})
	require.NoError(t, err)
	return markdown, html
}

// document makes the sheet of a plan as a document.
func document(p *build.Plan) notes.Document {
	d := notes.Design{Style: p.Style, Unit: p.Style.Units}
	for _, s := range p.Sizes {
		d.Sizes = append(d.Sizes, notes.Size{Name: s.Name, Fit: s.Fit, Pieces: s.Pieces})
	}
	return notes.Of(d)
}

func section(t require.TestingT, d notes.Document, id string) notes.Section {
	i := slices.IndexFunc(d.Sections, func(s notes.Section) bool { return s.ID == id })
	require.GreaterOrEqual(t, i, 0, "no section %s", id)
	return d.Sections[i]
}

func tableOf(t require.TestingT, s notes.Section, caption string) notes.Table {
	for _, b := range s.Blocks {
		if table, ok := b.(notes.Table); ok && strings.HasPrefix(table.Caption, caption) {
			return table
		}
	}
	require.Fail(t, "no table "+caption)
	return notes.Table{}
}

func TestSheetsOfTheDemoAreAsBefore(t *testing.T) {
	p := planOf(t, string(demo.Style()))
	for _, unit := range []style.Unit{style.Millimetre, style.Inch} {
		markdown, html := sheets(t, p, build.NotesOptions{Unit: unit})
		plottest.Golden(t, *update, filepath.Join(testdata, "notes", "tansy-skirt-"+string(unit)+".golden.md"), []byte(markdown))
		plottest.Golden(t, *update, filepath.Join(testdata, "notes", "tansy-skirt-"+string(unit)+".golden.html"), []byte(html))
	}
	_, pictures := document(p).Markdown("tansy-skirt")
	for _, x := range pictures[3:5] {
		plottest.Golden(t, *update, filepath.Join(testdata, "notes", x.Name), x.SVG)
	}
}

// What the page shows inside the Markdown shows from files: every drawing once, each with
// words for who does not see it.
func TestMarkdownLinksTheDrawingsOfThePage(t *testing.T) {
	link := regexp.MustCompile(`(?m)^!\[(.+)\]\((.+)\)$`)
	for name, text := range designs(t) {
		t.Run(name, func(t *testing.T) {
			p := planOf(t, text)
			files := map[string]string{}
			var names []string
			_, err := p.Notes(build.NotesOptions{}, func(name string, content []byte) error {
				names, files[name] = append(names, name), string(content)
				return nil
			})
			require.NoError(t, err)
			links := link.FindAllStringSubmatch(files[names[0]], -1)
			require.Len(t, links, len(names)-2)
			require.Equal(t, strings.Count(files[names[1]], "<svg "), len(links))
			for i, l := range links {
				picture := files[names[i+2]]
				require.Equal(t, names[i+2], l[2])
				head, body, ok := strings.Cut(picture, "<style>")
				require.True(t, ok)
				_, body, ok = strings.Cut(body, "</style>\n")
				require.True(t, ok)
				require.Contains(t, files[names[1]], head+body, "it is that of the page")
				require.NoError(t, xml.Unmarshal([]byte(picture), &struct {
					XMLName xml.Name `xml:"http://www.w3.org/2000/svg svg"`
				}{}))
			}
		})
	}
}

// The page is well-formed XML, so that an unescaped name or an open element is found.
func TestPagesAreWellFormed(t *testing.T) {
	for name, text := range designs(t) {
		t.Run(name, func(t *testing.T) {
			_, html := sheets(t, planOf(t, text), build.NotesOptions{})
			d := xml.NewDecoder(strings.NewReader(html))
			ids := map[string]bool{}
			for {
				token, err := d.Token()
				if errors.Is(err, io.EOF) {
					break
				}
				require.NoError(t, err)
				e, ok := token.(xml.StartElement)
				if !ok {
					continue
				}
				require.NotContains(t, []string{"script", "link", "iframe", "img"}, e.Name.Local, "the page needs no other file")
				for _, a := range e.Attr {
					if a.Name.Local == "id" {
						require.False(t, ids[a.Value], "the id %s is there twice", a.Value)
						ids[a.Value] = true
					}
					if a.Name.Local == "d" || a.Name.Local == "viewBox" {
						require.NotRegexp(t, `NaN|Inf|e[+-]`, a.Value)
					}
				}
			}
			require.NotContains(t, html, "url(")
			require.NotContains(t, html, "@import")
		})
	}
}

// unescaped matches a bar that divides cells.
var unescaped = regexp.MustCompile(`(^|[^\\])\|`)

func TestTablesOfMarkdownHaveEqualRows(t *testing.T) {
	for name, text := range designs(t) {
		t.Run(name, func(t *testing.T) {
			markdown, _ := sheets(t, planOf(t, text), build.NotesOptions{})
			columns, at := 0, 0
			for i, line := range strings.Split(markdown, "\n") {
				if !strings.HasPrefix(line, "|") {
					require.NotRegexp(t, unescaped, line, "a bar outside of tables")
					columns = 0
					continue
				}
				n := len(unescaped.FindAllString(line, -1))
				if columns == 0 {
					columns, at = n, i
				}
				require.Equal(t, columns, n, "line %d", i+1)
				if i == at+1 {
					require.Regexp(t, `^(\|---:?)+\|$`, line)
				}
			}
		})
	}
}

func TestNamesAreEscaped(t *testing.T) {
	markdown, html := sheets(t, planOf(t, designs(t)["odd names"]), build.NotesOptions{})
	require.Contains(t, html, "<h1>A &amp; B &lt;c&gt; |*x*| [y](z) _q_: notes for the shaped hem</h1>")
	require.NotContains(t, html, "<c>")
	require.True(t, strings.HasPrefix(markdown, `# A \& B \<c\> \|\*x\*\| \[y\](z) \_q\_: notes for the shaped hem`+"\n"), markdown[:90])
}

func TestSameDesignGivesTheSameBytes(t *testing.T) {
	for _, name := range []string{"scallops", "sequence", "tabs"} {
		a, b := sheets(t, planOf(t, designs(t)[name]), build.NotesOptions{})
		c, d := sheets(t, planOf(t, designs(t)[name]), build.NotesOptions{})
		require.True(t, a == c && b == d, name)
	}
}

// Words of the trade that someone new to sewing does not know. Each that stands in a sheet
// has to be explained in it.
var trade = []string{
	"allowance", "baste", "bias", "bobbin", "clip", "ease", "facing", "favour", "foot", "fray", "fuse", "grade", "grading", "grain", "interfacing", "lining",
	"match mark", "mirrored", "motif", "nap", "net", "notch", "overlock", "panel", "peak", "pinked", "pivot", "press", "pucker", "repeat", "right side", "seam", "selvage",
	"stitching line", "tack", "truing", "tuck", "turn of cloth", "understitch", "understitching", "valley", "warp", "weft", "wrong side", "zigzag", "inner edge", "cut line", "snip", "bind", "drill hole", "line to mark", "dart",
}

func TestEveryUnusualWordIsExplained(t *testing.T) {
	for name, text := range designs(t) {
		t.Run(name, func(t *testing.T) {
			d := document(planOf(t, text))
			words := section(t, d, "words")
			terms, ok := words.Blocks[0].(notes.Terms)
			require.True(t, ok)
			explained := ""
			for _, x := range terms {
				explained += x.Word + "\n" + x.Meaning + "\n"
				require.NotEmpty(t, x.Meaning)
			}
			explained = strings.ToLower(explained)
			body := strings.ToLower(d.Text())
			for _, w := range trade {
				if regexp.MustCompile(`\b` + w + `(s|es|ed)?\b`).MatchString(body) {
					require.Regexp(t, `\b`+w, explained, "%q is used and not explained", w)
				}
			}
			// None is explained that is not used.
			rest := d
			rest.Sections = slices.DeleteFunc(slices.Clone(d.Sections), func(s notes.Section) bool { return s.ID == "words" })
			for _, x := range terms {
				used := strings.ToLower(rest.Text() + strings.Replace(explained, strings.ToLower(x.Word+"\n"), "", 1))
				require.Contains(t, used, strings.ToLower(x.Word)[:4], x.Word)
			}
		})
	}
}

// The figures are the report's: repeats, depth, and of clips those of the opened pieces.
func TestFiguresAreTheReports(t *testing.T) {
	for name, text := range designs(t) {
		t.Run(name, func(t *testing.T) {
			p := planOf(t, text)
			r := p.Report()
			figures := section(t, document(p), "figures")
			hems := tableOf(t, figures, "The hem of each")
			first := hems.Left - 1
			row := 0
			for k, size := range r.Sizes {
				all := 0
				for i, panel := range size.Panels {
					cells := hems.Rows[row]
					row++
					require.Equal(t, panel.Name, cells[first])
					require.Equal(t, strconv.Itoa(panel.Repeats), cells[first+1])
					require.Equal(t, p.Style.Units.Short(panel.Depth), cells[first+3])
					f := p.Sizes[k].Fit.Panels[i]
					whole := f.Edge.Length()
					if f.Panel.OnFold() {
						whole *= 2
					}
					require.Equal(t, p.Style.Units.Short(whole), cells[first+4])
				}
				for i, piece := range size.Pieces {
					if piece.Kind == "garment" {
						all += len(p.Sizes[k].Pieces[i].Unfold().ValleyClips()) * piece.CutQuantity
					}
				}
				if p.Style.Facing.Kind == style.GrownOn {
					continue // whose clips are not drawn
				}
				clips := tableOf(t, figures, "Clips")
				// Two pieces that meet at a seam share what clips it has.
				cells := clips.Rows[k]
				shared := 0
				if slices.Contains(clips.Head, "on seams") {
					shared, _ = strconv.Atoi(cells[len(cells)-2])
				}
				total, err := strconv.Atoi(cells[len(cells)-1])
				require.NoError(t, err)
				require.Equal(t, all, total+shared)
			}
			require.Len(t, hems.Rows, row)
		})
	}
}

// In closed form: a scallop of the width w and the depth d is an arc of the radius
// (w²/4 + d²)/2d, and its stitches are its length by that of one.
func TestStitchesOfAScallopAreThoseOfItsArc(t *testing.T) {
	p := planOf(t, "engrail: 1\nstyle: Strip\nmotif: {shape: scallop, width: 50, depth: 15}\npanels: {strip: {straight: {width: 500, depth: 200}}}\n")
	d := document(p)
	r := (25.0*25 + 15*15) / (2 * 15)
	arc := 2 * r * math.Asin(25/r)
	require.Equal(t, p.Style.Units.Short(arc), tableOf(t, section(t, d, "figures"), "The hem").Rows[0][6-1])
	for i, stitch := range []float64{2, 2.5, 2.5, 3} { // common practice
		row := tableOf(t, section(t, d, "stitches"), "Settings").Rows[i]
		require.Equal(t, strconv.Itoa(int(math.Round(arc/stitch))), row[5])
		require.Equal(t, strconv.Itoa(int(math.Round(10*arc/stitch))), row[6])
	}
	require.Equal(t, "10", tableOf(t, section(t, d, "stitches"), "Settings").Rows[1][2], "stitches to an inch at 2.5 mm: 25.4/2.5 = 10.16")
}

// The tables of cloth: what is bought of a width holds all pieces.
func TestBoughtClothHoldsThePieces(t *testing.T) {
	for name, text := range designs(t) {
		p := planOf(t, text)
		d := document(p)
		i := slices.IndexFunc(d.Sections, func(s notes.Section) bool { return s.ID == "cloth" })
		require.Equal(t, slices.ContainsFunc(p.Sizes[0].Pieces, func(x facing.Piece) bool { return x.Kind == facing.Facing || x.Kind == facing.Lining }), i >= 0, name)
		if i < 0 || p.Style.Facing.Depth == 0 {
			continue
		}
		table := tableOf(t, d.Sections[i], "Cloth for the facing")
		for k, size := range p.Sizes {
			area, longest := 0.0, 0.0
			for _, x := range size.Pieces {
				if x.Kind.String() == "facing" {
					u := x.Unfold()
					area += (u.Cut().Area() + u.Hole.Cut.Area()) * float64(x.Quantity)
					longest = max(longest, min(u.Cut().Bounds().Height(), u.Cut().Bounds().Width()))
				}
			}
			for c, width := range []float64{900, 1140, 1400, 1500} {
				cell := table.Rows[k][table.Left+c]
				if cell == "–" {
					continue
				}
				metres, err := strconv.ParseFloat(strings.TrimSuffix(cell, " m"), 64)
				require.NoError(t, err)
				require.Greater(t, metres*1000*width, area, name)
				require.Greater(t, metres*1000, longest, name)
			}
		}
	}
}

func TestInchesAreVulgarFractions(t *testing.T) {
	markdown, _ := sheets(t, planOf(t, string(demo.Style())), build.NotesOptions{Unit: style.Inch})
	require.Contains(t, markdown, "1/16 in (1.5 mm) short")
	require.Contains(t, markdown, "allowance to 3/16 in (4.5 mm)")
	require.Regexp(t, `\d(/8)? yd`, markdown)
	require.NotRegexp(t, `[0-9]\.[0-9]+ in\b`, markdown)
}

func TestOneSizeIsWrittenAlone(t *testing.T) {
	p := planOf(t, nineSizes(t))
	var names []string
	keep := func(name string, _ []byte) error { names = append(names, name); return nil }
	_, err := p.Notes(build.NotesOptions{Size: "38"}, keep)
	require.NoError(t, err)
	require.Equal(t, []string{"sorrel-skirt-38-notes.md", "sorrel-skirt-38-notes.html", "sorrel-skirt-38-notes-picture-1.svg"}, names[:3])
	markdown, _ := sheets(t, p, build.NotesOptions{Size: "38"})
	require.True(t, strings.HasPrefix(markdown, "# Sorrel skirt: notes for the shaped hem, size 38\n"))
	require.NotContains(t, markdown, "| 50 |")
	all, _ := sheets(t, p, build.NotesOptions{})
	for _, size := range p.Sizes {
		require.Contains(t, all, "\n| "+size.Name+" | front |")
	}
	_, err = p.Notes(build.NotesOptions{Size: "39"}, keep)
	require.EqualError(t, err, `the style has no size "39"`)
}

// Steps that a design has no use for are not in its sheet, and the others are in the order
// of the trade: Apparel: Design, Textiles & Construction, 2012, p. 453.
func TestWorkIsInTheOrderOfTheTrade(t *testing.T) {
	leads := func(text string) (all []string) {
		for _, b := range section(t, document(planOf(t, text)), "work").Blocks {
			if l, ok := b.(notes.List); ok {
				for _, i := range l.Items {
					all = append(all, i.Lead)
				}
			}
		}
		return all
	}
	d := designs(t)
	require.Equal(t, []string{"Wash and press", "Cut", "Mark.", "Interface", "Join the garment", "Join the facing", "Finish the inner edge", "Lay the facing", "Sew",
		"Pivot at each valley.", "Grade", "Clip", "Notch the curves.", "Press", "Understitch:", "Turn", "Roll and press", "Tack", "Look"}, leads(d["scallops"]))
	require.NotContains(t, leads(d["scallops"]), "Blunt each point.")
	require.Contains(t, leads(d["points"]), "Blunt each point.")
	require.NotContains(t, leads(d["points"]), "Notch the curves.")
	require.NotContains(t, leads(d["waves"]), "Pivot at each valley.")
	require.NotContains(t, leads(d["no facing"]), "Understitch:")
	require.NotContains(t, leads(d["all round"]), "Join the garment")
	require.Contains(t, leads(d["pieced"]), "Join the sections")
	require.Contains(t, leads(d["one piece"]), "Close the facing,")
	require.NotContains(t, leads(d["one piece"]), "Join the facing")
	require.NotContains(t, leads(d["wrapped"]), "Close the facing,")
	require.Equal(t, []string{"Wash and press", "Cut", "Mark.", "Interface", "Join the garment", "Join the facing", "Join the lining", "Finish the inner edge", "Baste the lining", "Lay the facing", "Sew",
		"Pivot at each valley.", "Grade", "Clip", "Notch the curves.", "Press", "Understitch:", "Turn", "Roll and press", "Tack", "Look"}, leads(d["lined facing"]))
	require.Equal(t, []string{"Wash and press", "Cut", "Mark.", "Look for seams.", "Finish the inner edge", "Fold back", "Sew",
		"Pivot at each valley.", "Grade", "Clip", "Notch the curves.", "Press", "Understitch:", "Turn", "Roll and press", "Tack", "Look"}, leads(d["grown on"]))
	require.Equal(t, []string{"Wash and press", "Cut", "Mark.", "Join the garment", "Join the lining", "Lay the lining", "Sew",
		"Pivot at each valley.", "Grade", "Clip", "Notch the curves.", "Press", "Understitch:", "Turn", "Roll and press", "Look"}, leads(d["lining"]))
}

// Every number that the order of work states is the design's.
func TestNumbersOfTheWorkAreTheDesigns(t *testing.T) {
	for name, text := range designs(t) {
		t.Run(name, func(t *testing.T) {
			p := planOf(t, text)
			d := document(p)
			steps := map[string]string{}
			for _, i := range section(t, d, "work").Blocks[1].(notes.List).Items {
				steps[i.Lead] = i.Text
			}
			if clip, ok := steps["Clip"]; ok && p.Style.Facing.Kind != style.GrownOn {
				least, most := math.MaxInt, 0
				for _, row := range tableOf(t, section(t, d, "figures"), "Clips").Rows {
					n, err := strconv.Atoi(row[len(row)-1])
					require.NoError(t, err)
					least, most = min(least, n), max(most, n)
				}
				want := strconv.Itoa(least)
				if most > least {
					want += " to " + strconv.Itoa(most)
				}
				require.Contains(t, clip, "These are "+want+" places.")
				require.Contains(t, clip, "stop "+p.Style.Units.Short(float64(p.Style.Facing.ClipGap))+" mm (1/16 in) short")
			}
			around := [2]float64{math.Inf(1), 0}
			for _, size := range p.Sizes {
				sum := 0.0
				for i, f := range size.Fit.Panels { // the finished edge
					n := float64(size.Pieces[i].Quantity)
					if f.Panel.OnFold() {
						n *= 2
					}
					sum += n * f.Edge.Length()
				}
				around = [2]float64{min(around[0], sum), max(around[1], sum)}
			}
			if sew, ok := steps["Sew"]; ok {
				want := p.Style.Units.Short(around[0])
				if len(p.Sizes) > 1 {
					want += " to " + p.Style.Units.Short(around[1])
				}
				require.Contains(t, sew, "The whole way is "+want+" mm long")
			}
			for _, x := range p.Sizes[0].Pieces {
				require.Contains(t, steps["Cut"], fmt.Sprintf("%s (%d piece", x.Name, x.Quantity))
			}
			for _, x := range p.Report().Sizes[0].Panels {
				require.Contains(t, steps["Look"], x.Name)
			}
			if len(p.Sizes) == 1 {
				for _, x := range p.Report().Sizes[0].Panels {
					require.Regexp(t, fmt.Sprintf(`\b%d repeats? on (the|each) %s`, x.Repeats, x.Name), steps["Look"])
				}
			}
			if f := p.Style.Facing; f.Depth > 0 && f.Favour > 0 && f.Kind != style.GrownOn {
				// The seam rolls by half of what the facing is smaller.
				require.Contains(t, steps["Roll and press"], "about "+p.Style.Units.Short(float64(f.Favour)/2)+" mm")
			}
		})
	}
}

// Two half circles of panels are wider than any cloth: the sheet says so and does not state
// a length that cannot do.
func TestPiecesWiderThanTheClothAreNamed(t *testing.T) {
	d := document(planOf(t, "engrail: 1\nstyle: Wide\npanels: {round: {circle: {waist: 700, length: 600, part: half}}}\n"))
	s := section(t, d, "cloth")
	require.Equal(t, []string{"–", "–", "–", "–"}, tableOf(t, s, "Cloth for the facing").Rows[0])
	require.Contains(t, d.Text(), "A dash stands where a piece is wider than the cloth: round facing at 90 cm; ")
}

func TestPictureOfEveryPieceIsDrawn(t *testing.T) {
	for name, text := range designs(t) {
		p := planOf(t, text)
		_, html := sheets(t, p, build.NotesOptions{})
		pieces := p.Sizes[len(p.Sizes)/2].Pieces
		require.GreaterOrEqual(t, strings.Count(html, "<svg "), len(pieces), name)
		for _, x := range pieces {
			require.Contains(t, html, "<title>"+x.Name, name)
		}
		for _, width := range regexp.MustCompile(`<svg [^>]* width="([0-9.]+)mm"`).FindAllStringSubmatch(html, -1) {
			w, err := strconv.ParseFloat(width[1], 64)
			require.NoError(t, err)
			// Letter is 216 mm wide and A4 210, with 14 mm of margin on both sides.
			require.Less(t, w, 182.0, name)
		}
	}
}

func TestBuildMakesTheSheetWhenItIsListed(t *testing.T) {
	p := planOf(t, drawn("shape: scallop, width: 55, depth: 18", "output: {formats: [notes]}"))
	files := map[string][]byte{}
	r, err := p.Write(func(name string, content []byte) error { files[name] = bytes.Clone(content); return nil }, func(int, int) {})
	require.NoError(t, err)
	markdown, html := sheets(t, p, build.NotesOptions{})
	require.Equal(t, markdown, string(files["sorrel-notes.md"]))
	require.Equal(t, html, string(files["sorrel-notes.html"]))
	pictures := strings.Count(html, "<svg ")
	require.Positive(t, pictures)
	require.Len(t, files, 3+pictures, "the report, and nothing else")
	require.Len(t, r.Texts, 2+pictures)
	require.Equal(t, "sorrel-notes.md", r.Texts[0].Path)
	require.Equal(t, "sorrel-notes.html", r.Texts[1].Path)
}
