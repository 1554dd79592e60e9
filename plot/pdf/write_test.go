package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/facing"
	"engrail/fit/fittest"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
)

func one(role plot.Role, paths ...path.Path) plot.Drawing {
	g := plot.Group{ID: "a"}
	for _, p := range paths {
		g.Lines = append(g.Lines, plot.Line{Role: role, Path: p})
	}
	return plot.Drawing{Title: "Test", Groups: []plot.Group{g}}
}

func TestCurvesLieWithinTwoThousandthsOfTheirArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := math.Exp(rapid.Float64Range(math.Log(0.1), math.Log(50_000)).Draw(t, "radius"))
		sweep := rapid.Float64Range(-1.99*math.Pi, 1.99*math.Pi).Filter(func(v float64) bool { return math.Abs(v)*r > 0.01 }).Draw(t, "sweep")
		s := path.Arc(path.Point{}, r, 0.3, sweep)
		n := parts(s.Radius(), s.Sweep())
		for k := range n {
			piece := s.Sub(float64(k)/float64(n), float64(k+1)/float64(n))
			c1, c2 := controls(piece)
			curve := path.CubicBezier{A: piece.A, C1: c1, C2: c2, B: piece.B}
			for i := range 33 {
				require.InDelta(t, r, curve.At(float64(i)/32).Dist(path.Point{}), curveError*1.01+1e-9*r)
			}
		}
		if n > 1 && math.Abs(sweep)/float64(n-1) < math.Pi/2 {
			// One fewer would not do: the bound is the error, not a guess above it.
			k := s.Sub(0, 1/float64(n-1))
			c1, c2 := controls(k)
			worst := 0.0
			for i := range 129 {
				worst = max(worst, math.Abs(path.CubicBezier{A: k.A, C1: c1, C2: c2, B: k.B}.At(float64(i)/128).Dist(path.Point{})-r))
			}
			require.Greater(t, worst, 0.95*curveError)
		}
	})
}

// points finds the numbers of the path operators in a document without compression.
var points = regexp.MustCompile(`(?m)^(-?[0-9.]+) (-?[0-9.]+) [ml]$|(-?[0-9.]+) (-?[0-9.]+) c$`)

func TestEveryVertexOfAGarmentIsInItsSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		made, err := facing.Make(r, facing.Options{Depth: 45, Hem: 5, Inner: 6, SideAsPanel: true, ClipGap: 1.5, Style: "Test"})
		if err != nil {
			t.Skip(err)
		}
		d := plot.Drawing{Title: "Test", Groups: []plot.Group{plot.FromPiece(made.Garments[0], "Test")}}
		box, err := d.Extent()
		require.NoError(t, err)
		b, err := newBook(d, box.Width(), box.Height(), Stretch{})
		require.NoError(t, err)
		b.SetCompression(false)
		b.AddPage()
		b.draw(d, view{corner: path.Point{X: box.Min.X, Y: box.Max.Y}, scale: 1, of: box, whole: true})
		var file bytes.Buffer
		require.NoError(t, b.finish(&file))
		const mm = 25.4 / 72
		at := map[[2]int]bool{} // in fiftieths of a mm, with their neighbours
		for _, m := range points.FindAllStringSubmatch(file.String(), -1) {
			x, errX := strconv.ParseFloat(m[1]+m[3], 64)
			y, errY := strconv.ParseFloat(m[2]+m[4], 64)
			require.NoError(t, errX)
			require.NoError(t, errY)
			i, j := int(math.Round((x*mm+box.Min.X)*50)), int(math.Round((y*mm+box.Min.Y)*50))
			for di := -1; di <= 1; di++ {
				for dj := -1; dj <= 1; dj++ {
					at[[2]int{i + di, j + dj}] = true
				}
			}
		}
		for _, g := range d.Groups {
			for _, l := range g.Lines {
				for _, v := range l.Path.V {
					if l.Path.Segments() > 0 {
						require.True(t, at[[2]int{int(math.Round(v.X * 50)), int(math.Round(v.Y * 50))}], "%v of %v", v, l.Role)
					}
				}
			}
		}
	})
}

func TestSameDrawingGivesTheSameFile(t *testing.T) {
	d := one(plot.Cut, path.Circle(path.Point{}, 200))
	for name, write := range map[string]func(*bytes.Buffer) error{
		"sheet": func(b *bytes.Buffer) error { return Write(b, d, Stretch{}) },
		"tiles": func(b *bytes.Buffer) error { return WriteTiles(b, d, A4(), Stretch{}) },
	} {
		var first, second bytes.Buffer
		require.NoError(t, write(&first))
		require.NoError(t, write(&second))
		require.Equal(t, first.Bytes(), second.Bytes(), name)
	}
}

func TestDrawingsThatCannotBePrintedAreRefused(t *testing.T) {
	var b bytes.Buffer
	wide := one(plot.Cut, path.Open(path.Point{}, path.Point{X: 5100}))
	require.ErrorContains(t, Write(&b, plot.Drawing{}, Stretch{}), "has no lines")
	require.ErrorContains(t, WriteTiles(&b, plot.Drawing{}, A4(), Stretch{}), "has no lines")
	require.ErrorContains(t, Write(&b, one(plot.Cut, path.Open(path.Point{X: math.NaN()}, path.Point{})), Stretch{}), "not a number")
	require.ErrorContains(t, Write(&b, wide, Stretch{}), "5120 x 20 mm with its margin, and a page at most 5080 mm: too large")
	require.ErrorIs(t, Write(&b, wide, Stretch{}), ErrTooLarge)
	require.NoError(t, WriteTiles(&b, wide, A4(), Stretch{}))
	require.ErrorContains(t, WriteTiles(&b, one(plot.Cut, path.Open(path.Point{}, path.Point{X: 1e5, Y: 1e5})), A4(), Stretch{}), "pages of A4, of at most 2000: too large")
	require.ErrorContains(t, WriteTiles(&b, wide, Paper{"card", 80, 120}, Stretch{}), "too small")
}

// pdfinfo, an independent program: ISO 216 and ANSI/ASME Y14.1 give the sizes of paper.
func TestAnotherProgramFindsThePagesAtTheirSizes(t *testing.T) {
	program := plottest.Program(t, "pdfinfo")
	box := one(plot.Cut, path.Closed(path.Point{}, path.Point{X: 600}, path.Point{X: 600, Y: 400}, path.Point{Y: 400}))
	for _, c := range []struct {
		write         func(*bytes.Buffer) error
		width, height float64 // mm
	}{
		{func(b *bytes.Buffer) error { return Write(b, box, Stretch{}) }, 620, 420},
		{func(b *bytes.Buffer) error { return WriteRoll(b, box, 36*25.4, Stretch{}) }, 914.4, 420},
		{func(b *bytes.Buffer) error { return WriteTiles(b, box, A4(), Stretch{}) }, 210, 297},
		{func(b *bytes.Buffer) error { return WriteTiles(b, box, A3(), Stretch{}) }, 297, 420},
		{func(b *bytes.Buffer) error { return WriteTiles(b, box, Letter(), Stretch{}) }, 8.5 * 25.4, 11 * 25.4},
		{func(b *bytes.Buffer) error { return WriteTiles(b, box, Tabloid(), Stretch{}) }, 11 * 25.4, 17 * 25.4},
	} {
		var b bytes.Buffer
		require.NoError(t, c.write(&b))
		out, err := exec.Command(program, "-f", "1", "-l", "99", saved(t, b)).CombinedOutput()
		require.NoError(t, err, string(out))
		sizes := regexp.MustCompile(`size: +([0-9.]+) x ([0-9.]+) pts`).FindAllStringSubmatch(string(out), -1)
		require.NotEmpty(t, sizes, string(out))
		for _, s := range sizes {
			w, errW := strconv.ParseFloat(s[1], 64)
			h, errH := strconv.ParseFloat(s[2], 64)
			require.NoError(t, errW)
			require.NoError(t, errH)
			if (w > h) != (c.width > c.height) { // paper lies across
				w, h = h, w
			}
			require.InDelta(t, c.width, w*25.4/72, 0.005)
			require.InDelta(t, c.height, h*25.4/72, 0.005)
		}
	}
}

func saved(t *testing.T, b bytes.Buffer) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "file.pdf")
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o644))
	return name
}

// pages draws the pages of a file by pdftoppm, an independent program, with 10 px a mm.
func pages(t *testing.T, b bytes.Buffer) []*image.Gray {
	t.Helper()
	program := plottest.Program(t, "pdftoppm")
	file := saved(t, b)
	base := filepath.Join(filepath.Dir(file), "page")
	out, err := exec.Command(program, "-r", "254", "-gray", "-png", file, base).CombinedOutput()
	require.NoError(t, err, string(out))
	names, err := filepath.Glob(base + "*.png")
	require.NoError(t, err)
	var all []*image.Gray
	for _, name := range names {
		f, err := os.Open(name)
		require.NoError(t, err)
		m, err := png.Decode(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		gray := image.NewGray(m.Bounds())
		draw.Draw(gray, gray.Rect, m, m.Bounds().Min, draw.Src)
		all = append(all, gray)
	}
	return all
}

func dark(m *image.Gray, x, y int) bool {
	return image.Pt(x, y).In(m.Rect) && m.GrayAt(x, y).Y < 140
}

// mark finds the cross that lies nearest x, y: where most is dark along both its arms.
func mark(m *image.Gray, x, y int) image.Point {
	best, at := 0, image.Point{}
	for dx := -15; dx <= 15; dx++ {
		for dy := -15; dy <= 15; dy++ {
			n := 0
			for a := -45; a <= 45; a++ {
				if dark(m, x+dx+a, y+dy) {
					n++
				}
				if dark(m, x+dx, y+dy+a) {
					n++
				}
			}
			if n > best {
				best, at = n, image.Pt(x+dx, y+dy)
			}
		}
	}
	return at
}

// The pages, put together by their marks, show the drawing where the sheet shows it.
func TestPagesPutTogetherByTheirMarksGiveBackTheDrawing(t *testing.T) {
	d := one(plot.Cut, path.Circle(path.Point{X: 200, Y: 210}, 195), path.Open(path.Point{}, path.Point{X: 400, Y: 431}))
	var sheetFile, file bytes.Buffer
	require.NoError(t, Write(&sheetFile, d, Stretch{}))
	require.NoError(t, WriteTiles(&file, d, A4(), Stretch{}))
	sheet, tiles := pages(t, sheetFile)[0], pages(t, file)
	box, err := d.Extent()
	require.NoError(t, err)
	const columns, rows = 3, 2 // of 174 x 261 mm, over 404 x 435 mm
	require.Len(t, tiles, 1+columns*rows)

	width, height := 210-2*paperMargin-overlap, 297-2*paperMargin-overlap
	whole := image.NewGray(image.Rect(0, 0, 5500, 5500))
	corner := map[[2]int]image.Point{{0, 0}: image.Pt(0, 0)} // of the tiles, where they are laid
	for i, page := range tiles[1:] {
		row, column := i/columns, i%columns
		upperLeft := mark(page, int(paperMargin*10), int(paperMargin*10))
		at := corner[[2]int{row, column}]
		// The page is trimmed at its left and its upper side.
		for x := upperLeft.X; x < int((210-paperMargin)*10); x++ {
			for y := upperLeft.Y; y < int((297-paperMargin)*10); y++ {
				v := uint8(255)
				if dark(page, x, y) {
					v = 0
				}
				whole.SetGray(at.X+x-upperLeft.X, at.Y+y-upperLeft.Y, color.Gray{Y: v})
			}
		}
		right := mark(page, int((paperMargin+width)*10), int(paperMargin*10))
		below := mark(page, int(paperMargin*10), int((paperMargin+height)*10))
		corner[[2]int{row, column + 1}] = at.Add(right).Sub(upperLeft)
		if column == 0 {
			corner[[2]int{row + 1, 0}] = at.Add(below).Sub(upperLeft)
		}
	}
	// Where the sheet's corner lies on them.
	left := (box.Centre().X - columns*width/2) - (box.Min.X - sheetMargin)
	top := (box.Max.Y + sheetMargin) - (box.Centre().Y + rows*height/2)
	missed, seen := 0, 0
	for x := range sheet.Bounds().Dx() {
		for y := range sheet.Bounds().Dy() {
			if !dark(sheet, x, y) {
				continue
			}
			seen++
			found := false
			for dx := -2; dx <= 2 && !found; dx++ {
				for dy := -2; dy <= 2 && !found; dy++ {
					found = dark(whole, x-int(math.Round(left*10))+dx, y-int(math.Round(top*10))+dy)
				}
			}
			if !found {
				missed++
			}
		}
	}
	require.Greater(t, seen, 50_000)
	require.Zero(t, missed, "every line within 0.2 mm")
}

func TestTilesThatNothingIsDrawnOnHaveNoPage(t *testing.T) {
	// The diagonal of a square of 4 x 3 tiles passes through those beside it only.
	d := one(plot.Cut, path.Open(path.Point{}, path.Point{X: 690, Y: 690}))
	var b bytes.Buffer
	require.NoError(t, WriteTiles(&b, d, A4(), Stretch{}))
	n := strings.Count(b.String(), "/Type /Page\n")
	require.Equal(t, 1+6, n, "twelve tiles, of which a line from corner to corner passes 4 + 3 - 1")
}

func TestPaperLiesAcrossWhereThatTakesFewerPages(t *testing.T) {
	for _, c := range []struct {
		width, height float64
		want          string
	}{
		{160, 250, "/MediaBox [0 0 595.28 841.89]"},
		{250, 160, "/MediaBox [0 0 841.89 595.28]"},
	} {
		var b bytes.Buffer
		require.NoError(t, WriteTiles(&b, one(plot.Cut, path.Closed(path.Point{}, path.Point{X: c.width}, path.Point{X: c.width, Y: c.height}, path.Point{Y: c.height})), A4(), Stretch{}))
		require.Equal(t, 2, strings.Count(b.String(), "/Type /Page\n"))
		require.Contains(t, b.String(), c.want)
	}
}

// pdftotext, an independent program.
func TestTextIsText(t *testing.T) {
	program := plottest.Program(t, "pdftotext")
	d := one(plot.Cut, path.Circle(path.Point{}, 60))
	d.Groups[0].Texts = []plot.Text{{Height: 5, Align: plot.Middle, String: "Größe ½, à couper"}}
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, Stretch{}))
	out, err := exec.Command(program, saved(t, b), "-").Output()
	require.NoError(t, err)
	require.Contains(t, string(out), "Größe ½, à couper")

	b.Reset()
	require.NoError(t, WriteTiles(&b, d, Letter(), Stretch{}))
	out, err = exec.Command(program, saved(t, b), "-").Output()
	require.NoError(t, err)
	for _, words := range []string{"Print at 100 %", "50 mm x 50 mm", "2 in x 2 in", "page 2 of 2"} {
		require.Contains(t, string(out), words)
	}
}

func TestLettersThatTheFontLacksAreSpelledOrMarked(t *testing.T) {
	b, err := newBook(plot.Drawing{}, 100, 100, Stretch{})
	require.NoError(t, err)
	require.Equal(t, "Größe ½ ?? ok", b.spelled("Größe ½ 裾😀 ok"))
	d := one(plot.Cut, path.Circle(path.Point{}, 60))
	d.Title = "裾 \U0001f600 \x00\xff"
	d.Groups[0].Texts = []plot.Text{{Height: 5, String: d.Title}}
	var file bytes.Buffer
	require.NoError(t, Write(&file, d, Stretch{}))
	require.NoError(t, WriteTiles(&file, d, A4(), Stretch{}))
}

func TestLongTitlesStayOnThePage(t *testing.T) {
	b, err := newBook(plot.Drawing{}, 100, 100, Stretch{})
	require.NoError(t, err)
	long := strings.Repeat("W", 200)
	h := b.within(186, 5, long)
	b.SetFontUnitSize(h / capHeight)
	require.InDelta(t, 186, b.GetStringWidth(long), 0.5)
	require.Equal(t, 5.0, b.within(186, 5, "W"))
}

func TestOutlineDoesNotShowUnderTheDashesOfItsFold(t *testing.T) {
	fold := path.Open(path.Point{}, path.Point{Y: 200})
	d := one(plot.Cut, path.Closed(path.Point{}, path.Point{X: 100}, path.Point{X: 100, Y: 200}, path.Point{Y: 200}))
	d.Groups[0].Lines = append(d.Groups[0].Lines, plot.Line{Role: plot.Fold, Path: fold})
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, Stretch{}))
	page := pages(t, b)[0]
	gaps := func(x float64) (n int) {
		for y := 150; y < 2050; y++ {
			if !dark(page, int((x+sheetMargin)*10), y) {
				n++
			}
		}
		return n
	}
	require.Greater(t, gaps(0), 200)
	require.Zero(t, gaps(100))
}

// The squares of the first page are as large as they say.
func TestTestSquaresAreAsLargeAsTheySay(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteTiles(&b, one(plot.Cut, path.Circle(path.Point{}, 60)), A4(), Stretch{}))
	page := pages(t, b)[0]
	// A row of pixels through both squares, below their texts.
	y := 0
	for row := range page.Bounds().Dy() { // the first long line is their upper side
		n := 0
		for x := range 700 {
			if dark(page, x, row) {
				n++
			}
		}
		if n >= 490 {
			y = row + 400
			break
		}
	}
	require.NotZero(t, y)
	var sides []float64 // middles of dark runs, px
	for x := 0; x < page.Bounds().Dx(); x++ {
		if dark(page, x, y) {
			from := x
			for dark(page, x, y) {
				x++
			}
			sides = append(sides, float64(from+x)/2)
		}
	}
	require.Len(t, sides, 4, fmt.Sprint(sides))
	require.InDelta(t, 500, sides[1]-sides[0], 1.01)
	require.InDelta(t, 508, sides[3]-sides[2], 1.01)
}

func BenchmarkWriteTiles(b *testing.B) {
	d := plottest.Scalloped(60)
	var file bytes.Buffer
	for b.Loop() {
		file.Reset()
		if err := WriteTiles(&file, d, A4(), Stretch{}); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(file.Len()))
}

func TestPagesAreReadBackInTheirSizes(t *testing.T) {
	var b bytes.Buffer
	d := plottest.Scalloped(20)
	require.NoError(t, WriteTiles(&b, d, Letter(), Stretch{}))
	pages, err := Pages(b.Bytes())
	require.NoError(t, err)
	require.Greater(t, len(pages), 3)
	for i, p := range pages {
		w, h := min(p.Width, p.Height), max(p.Width, p.Height)
		require.InDelta(t, 215.9, w, 0.005, "page %d", i+1)
		require.InDelta(t, 279.4, h, 0.005, "page %d", i+1)
	}
	b.Reset()
	require.NoError(t, Write(&b, d, Stretch{}))
	pages, err = Pages(b.Bytes())
	require.NoError(t, err)
	want, err := Sheet(d, 0)
	require.NoError(t, err)
	require.Len(t, pages, 1)
	require.InDelta(t, want.Width, pages[0].Width, 0.005)
	require.InDelta(t, want.Height, pages[0].Height, 0.005)
	for file, message := range map[string]string{
		"":                               "pdf: the file does not begin as a PDF does",
		"%PDF-1.5 /Type /ObjStm":         "pdf: the file has no page that can be read; another program may have written it",
		"%PDF-1.3 /Type /Page >> endobj": "pdf: page 1 states no size",
		"%PDF-1.3 /Type /Page /MediaBox [0 0 1..2 3] >> endobj": `pdf: page 1 has the size "1..2", which is no number`,
	} {
		_, err := Pages([]byte(file))
		require.EqualError(t, err, message)
	}
}

// The square in mm of the first page is measured in the picture that poppler makes.
func TestStretchedPagesAreLargerByTheRatios(t *testing.T) {
	d := one(plot.Cut, path.Closed(path.Point{}, path.Point{X: 100}, path.Point{X: 100, Y: 60}, path.Point{Y: 60}))
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, Stretch{X: 1.05, Y: 0.95}))
	box := inked(t, b.Bytes(), 254)
	const line = 0.5
	require.InDelta(t, (100+line)*1.05, box.Width(), 0.2)
	require.InDelta(t, (60+line)*0.95, box.Height(), 0.2)
}

// inked returns the box in mm of what is not white on the first page.
func inked(t *testing.T, file []byte, dpi float64) path.Box {
	name := filepath.Join(t.TempDir(), "in.pdf")
	require.NoError(t, os.WriteFile(name, file, 0o644))
	out, err := exec.Command(plottest.Program(t, "pdftoppm"), "-r", strconv.FormatFloat(dpi, 'f', -1, 64), "-f", "1", "-l", "1", "-png", name).Output()
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	box := path.EmptyBox()
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
				box = box.Include(path.Point{X: float64(x), Y: float64(y)}).Include(path.Point{X: float64(x + 1), Y: float64(y + 1)})
			}
		}
	}
	return path.Box{Max: path.Point{X: box.Width() * 25.4 / dpi, Y: box.Height() * 25.4 / dpi}}
}

func FuzzPages(f *testing.F) {
	f.Add([]byte("%PDF-1.3 /Type /Page /MediaBox [0 0 612.00 792.00] >> endobj"))
	f.Add([]byte("%PDF-1.3 /Type /Pages /MediaBox [0 0 612.00 792.00] >> endobj /Type /Page >> endobj"))
	f.Fuzz(func(t *testing.T, file []byte) {
		pages, err := Pages(file)
		require.Equal(t, err != nil, len(pages) == 0)
	})
}
