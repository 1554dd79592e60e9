package build_test

import (
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/demo"
	"engrail/plot"

	"github.com/stretchr/testify/require"
)

func TestCardsHaveFilesOfTheirOwnInTheStylesFormats(t *testing.T) {
	text := append(slices.Clone(demo.Style()), "\noutput: {template: true, formats: [png, hpgl, dxf, svg, pdf, astm], picture: 640}\n"...)
	p := planOf(t, "style.yaml", text)
	files, r := written(t, p)
	for _, name := range []string{"tansy-skirt-template.png", "tansy-skirt-template.hpgl", "tansy-skirt-template.dxf", "tansy-skirt-template.svg", "tansy-skirt-template-a4.pdf"} {
		require.Contains(t, files, name)
		require.True(t, slices.ContainsFunc(r.Sizes[0].Files, func(f build.File) bool { return f.Path == name }), name)
	}
	for name := range files {
		require.False(t, strings.Contains(name, "template") && strings.Contains(name, "astm"), name)
	}
	require.Empty(t, r.Warnings, "every file is proved")

	drawings, err := p.Drawings()
	require.NoError(t, err)
	groups := drawings["tansy-skirt-template.dxf"].Groups
	require.Len(t, groups, 2)
	for i, g := range groups {
		require.Equal(t, "template", g.Piece.Kind)
		require.Equal(t, plot.Cut, g.Lines[0].Role)
		f := p.Sizes[0].Fit.Panels[i]
		require.InDelta(t, f.Width, g.Bounds().Width(), 1e-6)
	}

	// The files of the pieces are the same with cards as without.
	plain, _ := written(t, planOf(t, "style.yaml", append(slices.Clone(demo.Style()), "\noutput: {formats: [png, hpgl, dxf, svg, pdf, astm], picture: 640}\n"...)))
	for name, content := range plain {
		if name != build.ReportName && name != "tansy-skirt-plots.txt" {
			require.Equal(t, content, files[name], name)
		}
	}
}

func TestHemWithoutMotifsHasNoCards(t *testing.T) {
	text := with(flounce("output: {template: true, formats: [dxf]}"), "depth: 80}}", "depth: 80}, runs: [{bare: true}]}")
	files, _ := written(t, planOf(t, "flounce.yaml", text))
	require.Len(t, files, 2)
}
