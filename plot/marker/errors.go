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

// tooNarrow is the error for a piece that is wider than the cloth.
type tooNarrow struct {
	err   *Error
	piece Piece
}

// Error returns the problem.
func (e *tooNarrow) Error() string { return e.err.Problem }

// Unwrap returns it as any other error of the package.
func (e *tooNarrow) Unwrap() error { return e.err }

// mm writes a length.
func mm(x float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0") + " mm" }

// hyphened returns words with hyphens between them.
func hyphened(s string) string { return strings.ReplaceAll(s, " ", "-") }
