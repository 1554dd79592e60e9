package style

import _ "embed"

//go:embed starter.yaml
var starter string

// Starter returns a style file to begin with: it builds as it is, and comments
// explain every key.
func Starter() []byte { return []byte(starter) }
