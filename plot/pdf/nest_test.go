package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image"
	"io"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
)

// nested is a nest of as many squares, each 20 mm larger than the one before, with a
// text that all share.
func nested(sizes int) plot.Drawing {
	d := plot.Drawing{Title: "Nest"}
	for k := range sizes {
		s := float64(100 + 20*k)
		d.Groups = append(d.Groups, plot.Group{Size: fmt.Sprint(34 + 2*k), Groups: []plot.Group{{
			Lines: []plot.Line{
				{Role: plot.Cut, Path: path.Closed(path.Point{}, path.Point{X: s}, path.Point{X: s, Y: s}, path.Point{Y: s})},
				{Role: plot.Stitch, Path: path.Open(path.Point{X: s - 10}, path.Point{X: s - 10, Y: s})},
			},
		}}})
	}
	d.Groups = append(d.Groups, plot.Group{ID: "all", Texts: []plot.Text{{At: path.Point{X: 10, Y: 50}, Height: 5, String: "sizes all"}}})
	return d
}

// layerNames returns the names of the optional content groups (ISO 32000-1, 8.11.2) in
// the order in which a viewer lists them, and their objects' numbers.
func layerNames(t *testing.T, file []byte) (names, objects []string) {
	t.Helper()
	order := regexp.MustCompile(`/OCProperties <</OCGs \[([0-9 R]*)\] /D <</OFF \[\] /Order \[([0-9 R]*)\]>>>>`).FindSubmatch(file)
	require.NotNil(t, order)
	require.Equal(t, order[1], order[2])
	for _, n := range regexp.MustCompile(`(\d+) 0 R`).FindAllSubmatch(order[2], -1) {
		begin := fmt.Sprintf("\n%s 0 obj\n<</Type /OCG /Name (\xfe\xff", n[1])
		_, name, found := bytes.Cut(file, []byte(begin))
		require.True(t, found)
		name, _, _ = bytes.Cut(name, []byte(")>>"))
		var units []uint16
		for i := 0; i+1 < len(name); i += 2 {
			units = append(units, uint16(name[i])<<8|uint16(name[i+1]))
		}
		names, objects = append(names, string(utf16.Decode(units))), append(objects, string(n[1]))
	}
	return names, objects
}

// contents returns what is drawn on each page of a nest.
func contents(t *testing.T, file []byte) (pages []string) {
	t.Helper()
	for {
		_, after, found := bytes.Cut(file, []byte("\nstream\n"))
		if !found {
			return pages
		}
		data, rest, _ := bytes.Cut(after, []byte("\nendstream"))
		file = rest
		z, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			continue
		}
		page, err := io.ReadAll(z)
		require.NoError(t, err)
		if bytes.Contains(page, []byte("/OC /OC0 BDC")) {
			pages = append(pages, string(page))
		}
	}
}

func TestSizesOfANestAreLayersOfTheirNames(t *testing.T) {
	want := []string{"size 34", "size 36", "size 38"}
	for name, write := range map[string]func(*bytes.Buffer, plot.Drawing) error{
		"sheet": func(b *bytes.Buffer, d plot.Drawing) error { return Write(b, d, Stretch{}) },
		"roll":  func(b *bytes.Buffer, d plot.Drawing) error { return WriteRoll(b, d, 610, Stretch{}) },
		"tiles": func(b *bytes.Buffer, d plot.Drawing) error { return WriteTiles(b, d, A4(), Stretch{}) },
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.NoError(t, write(&b, nested(3)))
			names, _ := layerNames(t, b.Bytes())
			require.Equal(t, want, names)
			require.Contains(t, b.String(), "/PageMode /UseOC")
			pages := contents(t, b.Bytes())
			require.NotEmpty(t, pages)
			for _, page := range pages {
				for k := range want {
					require.Equal(t, 1, strings.Count(page, fmt.Sprintf("/OC /OC%d BDC", k)), "a layer goes on from page to page")
				}
				require.Equal(t, 3, strings.Count(page, "EMC"))
				for _, layer := range strings.Split(page, "BDC")[1:] {
					in, _, _ := strings.Cut(layer, "EMC")
					require.NotContains(t, in, "BT", "what all share is outside of the layers")
				}
			}
			b.Reset()
			require.NoError(t, write(&b, one(plot.Cut, path.Circle(path.Point{}, 60))))
			require.NotContains(t, b.String(), "/OCG")
		})
	}
}

// pdftoppm, an independent program, leaves out a layer that the file says is off.
func TestSizeThatIsHiddenIsNotDrawn(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, nested(3), Stretch{}))
	_, objects := layerNames(t, b.Bytes())
	side := func(page *image.Gray, size int) bool {
		n := 0
		for y := 300; y < 900; y++ { // the middle of a right side
			if dark(page, (100+20*size+int(sheetMargin))*10, y+400) {
				n++
			}
		}
		return n > 150 // of 600, in any look's dashes
	}
	for _, hidden := range []int{0, 2} {
		file := bytes.NewBuffer(bytes.Replace(b.Bytes(), []byte("/OFF []"), fmt.Appendf(nil, "/OFF [%s 0 R]", objects[hidden]), 1))
		page := pages(t, *file)[0]
		for size := range 3 {
			require.Equal(t, size != hidden, side(page, size), "size %d with %d hidden", size, hidden)
		}
	}
}

func TestCutLinesOfSizesDifferInTheirDashes(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, nested(plot.LooksOfSizes), Stretch{}))
	page := contents(t, b.Bytes())[0]
	seen := map[string]bool{}
	for k := range plot.LooksOfSizes {
		_, after, _ := strings.Cut(page, fmt.Sprintf("/OC /OC%d BDC", k))
		in, _, _ := strings.Cut(after, "EMC")
		dash := regexp.MustCompile(`\[([0-9. ]*)\] [0-9.]+ d`).FindAllStringSubmatch(in, -1)
		require.Len(t, dash, 2, "a cut line and a stitching line")
		require.False(t, seen[dash[0][1]], "size %d", k)
		seen[dash[0][1]] = true
		require.Equal(t, "1.42 2.83", dash[1][1], "stitching is dotted alike in all sizes, 0.5 and 1 mm")
	}
}

// pdftotext, an independent program.
func TestLegendIsOnTheFirstPage(t *testing.T) {
	program := plottest.Program(t, "pdftotext")
	for _, sizes := range []int{2, 9, 100} {
		for name, write := range map[string]func(*bytes.Buffer, plot.Drawing) error{
			"sheet": func(b *bytes.Buffer, d plot.Drawing) error { return Write(b, d, Stretch{}) },
			"roll":  func(b *bytes.Buffer, d plot.Drawing) error { return WriteRoll(b, d, 5080, Stretch{}) },
			"tiles": func(b *bytes.Buffer, d plot.Drawing) error { return WriteTiles(b, d, Letter(), Stretch{}) },
		} {
			var b bytes.Buffer
			require.NoError(t, write(&b, nested(sizes)))
			out, err := exec.Command(program, "-l", "1", saved(t, b), "-").Output()
			require.NoError(t, err)
			for k := range sizes {
				require.Regexp(t, fmt.Sprintf(`(?m)size %d$`, 34+2*k), string(out), name)
			}
		}
	}
}

func TestDrawingsThatDoNotFitTheRollAreRefused(t *testing.T) {
	var b bytes.Buffer
	square := one(plot.Cut, path.Closed(path.Point{}, path.Point{X: 600}, path.Point{X: 600, Y: 400}, path.Point{Y: 400}))
	err := WriteRoll(&b, square, 610, Stretch{})
	require.ErrorIs(t, err, ErrTooLarge)
	require.ErrorContains(t, err, "600.0 mm wide, and a roll of 610 mm takes 590 mm")
	require.NoError(t, WriteRoll(&b, square, 620, Stretch{}))
	require.ErrorContains(t, WriteRoll(&b, square, 20, Stretch{}), "cannot be written")
	require.ErrorContains(t, WriteRoll(&b, square, 5081, Stretch{}), "cannot be written")
	long := one(plot.Cut, path.Open(path.Point{}, path.Point{Y: 5061}))
	require.ErrorIs(t, WriteRoll(&b, long, 610, Stretch{}), ErrTooLarge)
	for _, d := range []plot.Drawing{one(plot.Cut, path.Closed(path.Point{}, path.Point{X: 1})), nested(40)} {
		wide, tall := RollSpace(d, 914)
		require.Equal(t, 894.0, wide)
		line := plot.Group{Lines: []plot.Line{{Role: plot.Cut, Path: path.Open(path.Point{}, path.Point{Y: tall})}}}
		d.Groups = append(d.Groups[:len(d.Groups)-1:len(d.Groups)-1], line)
		require.NoError(t, WriteRoll(&b, d, 914, Stretch{}), "what there is space for is written")
	}
}
