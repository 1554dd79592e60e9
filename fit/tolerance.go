package fit

// Tolerances in this package, each with its kind and reason.
const (
	// JoinGap (gap, mm) is how far apart the ends of neighbouring edges of a
	// panel may lie and still be one corner.
	JoinGap = 0.01
)
