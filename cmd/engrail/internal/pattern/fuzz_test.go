package pattern

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot/svg"
)

// Whatever a file holds, there is a sound panel or an error with a remedy.
func FuzzTake(f *testing.F) {
	files, err := filepath.Glob("../../../../testdata/pattern/*.svg")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(string(data), "front", "", "", 15.0, 0.0)
		f.Add(string(data), "back", "lowest", "right", 10.0, 300.0)
	}
	for _, body := range []string{
		`<path d="M0 0h300v500h-300z"/><path d="M0 100h6"/><path id="hem" d="M0 500h300"/><text x="9" y="99">cut 2 on fold</text>`,
		`<g id="front"><path d="M0 0h300"/><path d="M300 0v500"/><path d="M300 500h-300v-499.7"/></g>`,
		`<path id="front" d="M0 0h300a200 200 0 0 1 0 400h-300z"/><g id="grain"><path d="M9 9v200"/></g>`,
	} {
		f.Add(`<svg width="600mm" height="600mm" viewBox="0 0 600 600">`+body+`</svg>`, "", "hem", "", 15.0, 0.0)
		f.Add(`<svg width="600mm" height="600mm" viewBox="0 0 600 600">`+body+`</svg>`, "front", "#1", "left", 0.0, 500.0)
	}
	f.Fuzz(func(t *testing.T, file, name, hem, fold string, width, check float64) {
		d, err := svg.Read(strings.NewReader(file), svg.Options{})
		if err != nil {
			return
		}
		p, warnings, err := Take(d, Selection{Panel: "p", Name: name, Hem: hem, Fold: fold, Check: check,
			Includes: &Widths{Hem: width, Start: width, Finish: width / 2, Top: width}, Allowance: Widths{Hem: 6}})
		if err != nil {
			var e *Error
			require.True(t, errors.As(err, &e), "%v", err)
			require.NotEmpty(t, e.Problem)
			require.NotEmpty(t, e.Remedy())
			require.Empty(t, p)
			return
		}
		requirePanel(t, p)
		for _, w := range warnings {
			require.NotEmpty(t, w.Code)
			require.NotEmpty(t, w.Message)
		}
		require.False(t, math.IsNaN(p.Outline().Area()))
	})
}
