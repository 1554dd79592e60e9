package marker

import (
	"fmt"
	"strings"
)

// Error says what of a marker cannot be, and what would help.
type Error struct{ Problem, Hint string }

// Error returns the problem.
func (e *Error) Error() string { return e.Problem }

// Remedy returns what would help.
func (e *Error) Remedy() string { return e.Hint }

// mm writes a length.
func mm(x float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0") + " mm" }

// hyphened returns words with hyphens between them.
func hyphened(s string) string { return strings.ReplaceAll(s, " ", "-") }
