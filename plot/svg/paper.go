package svg

import (
	"math"
	"strings"
)

// Report is what of a file the drawing does not tell.
type Report struct {
	// Sheet is the name of the sheet of paper that the page is if PerInch of its
	// units, px that were taken for 1/96 in, are an inch. It is empty for other pages.
	Sheet   string
	PerInch int
}

// paper is a sheet in mm.
type paper struct {
	name          string
	width, height float64
}

// papers are the A series of ISO 216, and the sizes A, B and C of ANSI/ASME Y14.1
// and Legal (from memory).
func papers() []paper {
	const in = mmPerPx * pxPerInch
	return []paper{
		{"A5", 148, 210}, {"A4", 210, 297}, {"A3", 297, 420}, {"A2", 420, 594}, {"A1", 594, 841}, {"A0", 841, 1189},
		{"Letter", 8.5 * in, 11 * in}, {"Legal", 8.5 * in, 14 * in}, {"Tabloid", 11 * in, 17 * in}, {"ANSI C", 17 * in, 22 * in},
	}
}

// paperSlack (length, px) is how far a page may differ from a sheet of paper:
// programs write whole px.
const paperSlack = 1.01

// otherPixels reports a page that is a sheet of paper if 72 or 90 of its px are an
// inch, and none at 96: print and old drawing programs have those (common practice,
// no source). w and h are its sides in px.
func otherPixels(root *element, w, h float64) Report {
	for _, name := range []string{"width", "height"} {
		text := strings.ToLower(strings.TrimSpace(root.attr(name)))
		if strings.Trim(strings.TrimSuffix(text, "px"), "0123456789. ") != "" && !strings.HasSuffix(text, "%") && text != "auto" {
			return Report{} // in a unit that has a length
		}
	}
	for _, perInch := range []int{pxPerInch, 72, 90} {
		for _, p := range papers() {
			a, b := p.width/mmPerPx/pxPerInch*float64(perInch), p.height/mmPerPx/pxPerInch*float64(perInch)
			if math.Abs(min(w, h)-a) >= paperSlack || math.Abs(max(w, h)-b) >= paperSlack {
				continue
			}
			if perInch == pxPerInch {
				return Report{}
			}
			return Report{p.name, perInch}
		}
	}
	return Report{}
}
