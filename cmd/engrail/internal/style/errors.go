package style

import (
	"fmt"
	"strings"
)

// Error is one mistake in a style file.
type Error struct {
	// File is its name, Line and Column count from 1.
	File         string
	Line, Column int
	// Message says what is wrong, Hint what would be right; Hint may be empty.
	Message, Hint string
}

// Error returns the place and the message, as file:line:column: message.
func (e *Error) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Message)
}

// Remedy returns the hint.
func (e *Error) Remedy() string { return e.Hint }

// mostErrors is how many mistakes a message tells at once.
const mostErrors = 5

// Errors are the mistakes in a style file in the order of its lines, at least
// one.
type Errors []*Error

// Error returns the first few mistakes, one a line.
func (e Errors) Error() string {
	var b strings.Builder
	for i, one := range e {
		if i == mostErrors {
			fmt.Fprintf(&b, "\nand %d more", len(e)-mostErrors)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(one.Error())
	}
	return b.String()
}

// Remedy returns the hint of the first mistake that has one.
func (e Errors) Remedy() string {
	for _, one := range e {
		if one.Hint != "" {
			return one.Hint
		}
	}
	return ""
}

// Unwrap returns every mistake.
func (e Errors) Unwrap() []error {
	all := make([]error, len(e))
	for i, one := range e {
		all[i] = one
	}
	return all
}
