package notes_test

import (
	"encoding/xml"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"engrail/plot/plottest"

	"github.com/stretchr/testify/require"
)

// printed has a browser print the page, and returns the name of the PDF.
func printed(t *testing.T, page []byte) string {
	t.Helper()
	folder := t.TempDir()
	in, out := filepath.Join(folder, "notes.html"), filepath.Join(folder, "notes.pdf")
	require.NoError(t, os.WriteFile(in, page, 0o600))
	c := exec.Command(plottest.Program(t, "chromium"), "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(folder, "profile"),
		"--no-pdf-header-footer", "--print-to-pdf="+out, "file://"+in)
	said, err := c.CombinedOutput()
	require.NoError(t, err, "%s", said)
	return out
}

// printedPage is a page of a PDF and its words, in points from its upper left corner, as
// pdftotext finds them.
type printedPage struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []struct {
		Left   float64 `xml:"xMin,attr"`
		Right  float64 `xml:"xMax,attr"`
		Top    float64 `xml:"yMin,attr"`
		Bottom float64 `xml:"yMax,attr"`
		Text   string  `xml:",chardata"`
	} `xml:"word"`
}

// together is a text without its spaces: where lines and pages break is the browser's.
func together(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// A browser and poppler are independent of us: what the one prints, the other has to read,
// all of it, inside of the margins and no word on another.
func TestPrintedSheetLosesNoText(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser for each sheet")
	}
	reader := plottest.Program(t, "pdftotext")
	const (
		point   = 25.4 / 72 // mm
		overlap = 1.5       // points: boxes have room above capitals and below letters
	)
	for _, x := range []struct {
		design, paper string
		most          int // pages
	}{{"scallops", "A4", 9}, {"scallops", "letter", 9}, {"nine sizes", "A4", 11}, {"corners", "letter", 10}, {"turning", "A4", 9}, {"odd names", "A4", 9}} {
		t.Run(x.design+" on "+x.paper, func(t *testing.T) {
			d := document(planOf(t, designs(t)[x.design]))
			name := printed(t, []byte(strings.Replace(string(d.HTML()), "@page{", "@page{size:"+x.paper+";", 1)))

			text, err := exec.Command(reader, "-raw", name, "-").Output()
			require.NoError(t, err)
			all := together(string(text))
			for _, line := range strings.Split(d.Text(), "\n") {
				require.Contains(t, all, together(html.UnescapeString(line)))
			}

			boxes, err := exec.Command(reader, "-bbox", name, "-").Output()
			require.NoError(t, err)
			var found struct {
				Pages []printedPage `xml:"body>doc>page"`
			}
			require.NoError(t, xml.Unmarshal(boxes, &found))
			require.LessOrEqual(t, len(found.Pages), x.most)
			for i, p := range found.Pages {
				require.NotEmpty(t, p.Words, "page %d is empty", i+1)
				for k, w := range p.Words {
					for _, v := range p.Words[:k] {
						across, down := min(v.Right, w.Right)-max(v.Left, w.Left), min(v.Bottom, w.Bottom)-max(v.Top, w.Top)
						require.False(t, across > overlap && down > overlap, "%q and %q lie on one another on page %d", v.Text, w.Text, i+1)
					}
					const margin = 14 / point
					require.GreaterOrEqual(t, w.Left, margin-1, "%q on page %d", w.Text, i+1)
					require.LessOrEqual(t, w.Right, p.Width-margin+1, "%q on page %d", w.Text, i+1)
					require.GreaterOrEqual(t, w.Top, margin-4, "%q on page %d", w.Text, i+1)
					require.LessOrEqual(t, w.Bottom, p.Height-margin+1, "%q on page %d", w.Text, i+1)
				}
			}
			t.Logf("%d pages", len(found.Pages))
		})
	}
}
