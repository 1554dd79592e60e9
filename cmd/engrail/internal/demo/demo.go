// Package demo holds an invented style: a skirt of a line called Marrow Lane,
// as a pattern and a style file.
package demo

import _ "embed"

// Names of the files.
const (
	PatternName = "tansy-skirt.svg"
	StyleName   = "tansy-skirt.yaml"
)

//go:generate cp ../../../../testdata/pattern/tansy-skirt.svg .

//go:embed tansy-skirt.svg
var pattern string

//go:embed tansy-skirt.yaml
var style string

// Pattern returns the pattern: the pieces of a flared skirt as a drawing
// program saves them.
func Pattern() []byte { return []byte(pattern) }

// Style returns the style file: the skirt's hem scalloped and faced.
func Style() []byte { return []byte(style) }
