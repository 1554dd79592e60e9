package svg

import (
	"errors"
	"fmt"
)

// Error is a mistake in a file and its place.
type Error struct {
	// Line and Column count from 1, the column in bytes. They point at the
	// element's start.
	Line, Column int
	// Element is the element's tag with its id, empty outside of elements.
	Element string
	// Err says what is wrong.
	Err error
}

// Error returns the place and the mistake.
func (e *Error) Error() string {
	if e.Element == "" {
		return fmt.Sprintf("line %d, column %d: %v", e.Line, e.Column, e.Err)
	}
	return fmt.Sprintf("line %d, column %d, %s: %v", e.Line, e.Column, e.Element, e.Err)
}

// Unwrap returns the mistake without its place.
func (e *Error) Unwrap() error { return e.Err }

// fail returns err with the element's place, unless it has one.
func (e *element) fail(err error) error {
	var placed *Error
	if err == nil || errors.As(err, &placed) {
		return err
	}
	tag := "<" + e.name
	if id := e.attr("id"); id != "" {
		tag += fmt.Sprintf(" id=%q", clip(id))
	}
	return &Error{Line: e.line, Column: e.column, Element: tag + ">", Err: err}
}

func (e *element) failf(format string, args ...any) error {
	return e.fail(fmt.Errorf(format, args...))
}

// clip shortens text for a message.
func clip(s string) string {
	const most = 24
	runes := []rune(s)
	if len(runes) <= most {
		return s
	}
	return string(runes[:most]) + "..."
}
