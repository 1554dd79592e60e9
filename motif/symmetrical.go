package motif

// Symmetrical stub until merged.
func (s Shape) Symmetrical() bool { return true }
