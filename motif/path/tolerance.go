package path

// Tolerances in this package, each with its kind and reason.
const (
	// FitTolerance (distance, mm) is the default largest distance between a
	// smooth curve and the arcs that stand for it: a tenth of a plotter unit.
	FitTolerance = 0.002
	// Coincident (distance, mm) is how near two points may lie to count as
	// one: far below what any machine resolves, far above the rounding error
	// of coordinates up to 100 m.
	Coincident = 1e-7
	// straightBulge (ratio) is the bulge below which a segment counts as
	// straight: the sagitta of a 1 m chord is then 5e-8 mm.
	straightBulge = 1e-10
)
