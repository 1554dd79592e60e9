// The tests of the whole job, from a style file and a pattern to the bytes of
// every file. What is promised of a garment, and the tests that hold it:
//
//  1. Every panel, unfolded, carries a whole number of repeats; a fold may cut
//     one repeat through its middle.
//     fit: TestEveryUnfoldedPanelCarriesWholeRepeats, TestOddCountOnTheFoldPutsAPeakThere
//  2. Repeats of one run are equal within 1e-6 mm: chords of rigid motifs, arc
//     lengths of bent ones.
//     fit: TestRepeatsOfAHemAreEqual, TestFullCircleHemStepsInChords
//  3. A motif ends on the stitching line of its seam within 0.001 mm, and the
//     edge runs on within 0.01 mm when the panels are laid seam to seam.
//     fit: TestMotifEndsOnTheStitchingLineOfItsSeam, TestJoinedEdgesMeetAcrossTheSeam
//     build: TestEdgesRunOnAcrossTheSeam, TestDemoHemIsSmoothAcrossItsSeams
//  4. A facing's hem is the garment's, moved in by the favour; without favour
//     it is the same chain.
//     facing: TestFacingHemIsTheGarmentsMovedInByTheFavour
//     build: TestFacingHemLiesInsideTheGarmentsByTheFavour
//  5. A cut line lies at its edge's allowance from the net line within 0.01 mm,
//     away from ends and trimmed valleys, and nowhere nearer.
//     facing: TestCutLineLiesAtItsAllowanceAndNowhereNearer
//  6. A facing's inner edge lies at the facing depth from the valley line within
//     0.05 mm, inside the panel.
//     facing: TestInnerEdgeLiesAtTheFacingDepthInsideThePanel
//     build: TestInnerEdgeIsAtTheFacingDepthFromSideToSide
//  7. Every valley has a clip from the cut edge to the gap short of the
//     stitching; notch pairs lie at equal distances along the lines that are
//     sewn together.
//     facing: TestEveryValleyHasAClipThatStopsShortOfTheStitching, TestMatchMarksOfGarmentAndFacingStandAtEqualDistances
//     build: TestNotchesOnJoinedSidesMeet
//  8. Joined seam lines agree within 0.1 mm, and their cut edges are mirror
//     images across the seam.
//     facing: TestJoinedFacingsHaveEqualSeams, TestAllowancesOfASeamLieEdgeOnEdgeWhenSewn
//     build: TestCutEdgesOfASeamLieEdgeOnEdgeWhenSewn, TestDemoAllowancesPressOpenEdgeOnEdge
//  9. A fold is straight and has no allowance.
//     facing: TestFoldIsStraightAndHasNoAllowance
//     plot: TestFoldLineIsOneWholeEdgeOfTheCutLine
//  10. What is read back from a file is within 0.025 mm of the design, at true
//     size.
//     build: TestEveryFileReadsBackWithinAPlotterUnit, TestSoftwarePlotterDrawsTheDesign, TestIndependentReaderMeasuresPlainDXF, TestIndependentReaderMeasuresPatternData
//     hpgl: TestWhatIsReadIsWithinAPlotterUnitOfTheDesign
//     dxf: TestPlainLinesComeBackWithinTheRounding, TestExchangeLinesComeBackWithinAPlotterUnit
//  11. The same input gives the same bytes.
//     build: TestSameStyleGivesTheSameBytes
package build_test

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The comment above names tests that there are, for each of the promises.
func TestEveryPromiseHasItsTests(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "doc_test.go", nil, parser.ParseComments|parser.PackageClauseOnly)
	require.NoError(t, err)
	folders := map[string]string{"build": ".", "fit": "fit", "facing": "facing", "plot": "plot", "hpgl": "plot/hpgl", "dxf": "plot/dxf"}
	sources := map[string]string{}
	for name, folder := range folders {
		if name != "build" {
			folder = filepath.Join("../../../..", folder)
		}
		tests, err := filepath.Glob(filepath.Join(folder, "*_test.go"))
		require.NoError(t, err)
		for _, f := range tests {
			content, err := os.ReadFile(f)
			require.NoError(t, err)
			sources[name] += string(content)
		}
	}
	item, row := regexp.MustCompile(`^\s*(\d+)\. `), regexp.MustCompile(`^\s*(\w+): (Test.*)$`)
	promises := 0
	held := map[int]int{}
	for line := range strings.Lines(file.Doc.Text()) {
		if item.MatchString(line) {
			promises++
		}
		if m := row.FindStringSubmatch(strings.TrimRight(line, "\n")); m != nil {
			for test := range strings.SplitSeq(m[2], ", ") {
				require.Contains(t, sources[m[1]], "func "+test+"(", "%s has no %s", m[1], test)
				held[promises]++
			}
		}
	}
	require.Equal(t, 11, promises)
	require.Len(t, held, 11)
}
