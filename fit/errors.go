package fit

import "fmt"

// Error says why a motif cannot be laid on a panel and what would work.
type Error struct {
	// Panel is the name of the panel, and of its size when it has one.
	Panel   string
	Problem string
	Hint    string
	// Cause is the error underneath, when there is one.
	Cause error
}

// Error returns the panel and the problem.
func (e *Error) Error() string {
	if e.Cause != nil {
		return fmt.Sprintf("panel %s: %v", e.Panel, e.Cause)
	}
	return fmt.Sprintf("panel %s: %s", e.Panel, e.Problem)
}

// Remedy returns what would work, empty when nothing is known to.
func (e *Error) Remedy() string {
	if r, ok := e.Cause.(interface{ Remedy() string }); ok && e.Hint == "" {
		return r.Remedy()
	}
	return e.Hint
}

// Unwrap returns the error underneath.
func (e *Error) Unwrap() error { return e.Cause }

func (p Panel) errorf(hint, format string, args ...any) error {
	return &Error{Panel: p.title(), Problem: fmt.Sprintf(format, args...), Hint: hint}
}

func (p Panel) because(err error) error { return &Error{Panel: p.title(), Cause: err} }

func (p Panel) title() string {
	if p.Size == "" {
		return p.Name
	}
	return p.Name + " size " + p.Size
}
