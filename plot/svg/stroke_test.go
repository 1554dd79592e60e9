package svg

import (
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot/plottest"
)

// CSS and SVG 1.1, chapter 11: strokes are inherited, a style attribute goes
// before a sheet and a sheet before an attribute.
func TestLinesKeepTheirColourAndDashes(t *testing.T) {
	for body, look := range map[string]string{
		`<path d="M0,0H9"/>`:                                                                             "",
		`<path d="M0,0H9" stroke="none"/>`:                                                               "",
		`<path d="M0,0H9" stroke="#ABC"/>`:                                                               "#aabbcc",
		`<path d="M0,0H9" stroke="#aabbcc"/>`:                                                            "#aabbcc",
		`<path d="M0,0H9" stroke="rgb(1, 2, 3)"/>`:                                                       "rgb(1,2,3)",
		`<path d="M0,0H9" style="stroke: Red"/>`:                                                         "red",
		`<path d="M0,0H9" stroke-dasharray="6 3"/>`:                                                      "",
		`<g stroke="red"><path d="M0,0H9"/></g>`:                                                         "red",
		`<g stroke="red"><path d="M0,0H9" stroke="none"/></g>`:                                           "",
		`<g stroke="red" stroke-dasharray="6"><path d="M0,0H9" stroke-dasharray="none"/></g>`:            "red",
		`<path d="M0,0H9" stroke="blue" style="stroke-dasharray:6, 3"/>`:                                 "blue/6,3",
		`<path d="M0,0H9" stroke="blue" stroke-dasharray="6,3"/>`:                                        "blue/6,3",
		`<style>.s38 {stroke: #f00; stroke-dasharray: 6 3}</style><path class="s38" d="M0,0H9"/>`:        "#ff0000/6,3",
		`<style>.s38 {stroke: #f00}</style><path class="s38" style="stroke:#00f" d="M0,0H9"/>`:           "#0000ff",
		`<style>.s38 {stroke: #f00}</style><path class="s38" stroke="#00f" d="M0,0H9"/>`:                 "#ff0000",
		`<style>.s38 {stroke: #f00}</style><g class="s38"><path stroke-dasharray="1,2" d="M0,0H9"/></g>`: "#ff0000/1,2",
	} {
		require.Equal(t, look, plottest.Lines(read(t, page100(body)))[0].Stroke, body)
	}
}
