package strip

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// exactTurn (angle) is how near to a quarter turn a turn counts as one.
	exactTurn = 1e-12
)
