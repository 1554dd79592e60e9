package svg_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot/svg"
)

// ISO 216: A4 is 210 x 297 mm; Letter is 8.5 x 11 in (ANSI/ASME Y14.1).
func TestPageOfAnotherPixelIsRecognisedByItsSheetOfPaper(t *testing.T) {
	for head, want := range map[string]svg.Report{
		`width="595.28" height="841.89"`:                           {Sheet: "A4", PerInch: 72},
		`width="595px" height="842px"`:                             {Sheet: "A4", PerInch: 72},
		`viewBox="0 0 595.276 841.89"`:                             {Sheet: "A4", PerInch: 72},
		`viewBox="0 0 595.276 841.89" width="100%" height="100%"`:  {Sheet: "A4", PerInch: 72},
		`viewBox="0 0 1052.36 744.09"`:                             {Sheet: "A4", PerInch: 90},
		`width="612" height="792"`:                                 {Sheet: "Letter", PerInch: 72},
		`width="2383.94" height="3370.39"`:                         {Sheet: "A0", PerInch: 72},
		`width="794" height="1123"`:                                {},
		`width="816" height="1056"`:                                {},
		`width="500" height="842"`:                                 {},
		`width="210mm" height="297mm" viewBox="0 0 595.28 841.89"`: {},
		`width="210mm" viewBox="0 0 595.28 841.89"`:                {},
		`width="595.28pt" height="841.89pt"`:                       {},
	} {
		file := `<svg xmlns="http://www.w3.org/2000/svg" ` + head + `><path d="M0 0H9"/></svg>`
		_, report, err := svg.ReadWithReport(strings.NewReader(file), svg.Options{})
		require.NoError(t, err)
		require.Equal(t, want, report, head)
		_, report, err = svg.ReadWithReport(strings.NewReader(file), svg.Options{UnitMM: 1})
		require.NoError(t, err)
		require.Zero(t, report, head)
	}
}
