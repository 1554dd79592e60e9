package fit

// Warning is something that a careful maker would look at; the work goes on.
type Warning struct {
	// Code is a short stable name in lower case with hyphens.
	Code  string
	Level Level
	// Message is a plain sentence with figures and a remedy.
	Message string
	// Where names the panel, seam or piece.
	Where string
}

// Level is how much weighs what is said of a garment: what a fit, its pieces or a pattern
// warn of, and what a review of them finds. A larger one weighs more. The zero value is a
// warning.
type Level int8

// The levels.
const (
	// LevelFine says that all is as it should be.
	LevelFine Level = iota - 2
	// LevelNote is worth knowing, and can stay as it is.
	LevelNote
	// LevelWarning is likely to show or to make trouble.
	LevelWarning
	// LevelError cannot be sewn as it is, or a panel cannot be made of it.
	LevelError
)

// String returns the level's name in lower case.
func (l Level) String() string {
	switch l {
	case LevelFine:
		return "fine"
	case LevelNote:
		return "note"
	case LevelError:
		return "error"
	}
	return "warning"
}
