package advice

import (
	"fmt"
	"math"
	"slices"

	"engrail/facing"
	"engrail/fit"
)

// Unit is what a figure counts.
type Unit string

// The units of figures.
const (
	MM      Unit = "mm"
	Degrees Unit = "degrees"
	Count   Unit = "count"
)

// Figure is a number that a finding goes by.
type Figure struct {
	Name  string
	Value float64
	Unit  Unit
}

// Finding is what one check says of one panel, piece or seam.
type Finding struct {
	// Name is the check's, short and stable: lower case with hyphens.
	Name  string
	Level fit.Level
	// Message is a plain sentence, and Remedy what would help, empty when the level
	// is [fit.LevelFine].
	Message, Remedy string
	// Where names the panel, piece or seam; it is empty for the whole garment.
	Where string
	// Figures are those of the message and the limits they are measured by.
	Figures []Figure
	// Accepted says that the user accepts the check.
	Accepted bool
}

// Options are what the checks go by besides the pieces.
type Options struct {
	// Facing are the options that the pieces were made with.
	Facing facing.Options
	// Fray is the narrowest allowance that holds in the cloth, and Stitch the length
	// of the stitches at the valleys, both in mm; 0 stands for the usual [Fray] and
	// [Stitch].
	Fray, Stitch float64
	// Accept are the names of checks whose findings are accepted.
	Accept []string
}

// subject is what the checks look at.
type subject struct {
	fit  *fit.Result
	made *facing.Made
	Options
}

// check is one check.
type check struct {
	name string
	look func(subject) []Finding
}

func checks() []check {
	return []check{
		{"facing-depth", facingDepth},
		{"fray-allowance", frayAllowance},
		{"valley-gap", valleyGap},
		{"sharp-point", sharpPoint},
		{"clip-count", clipCount},
		{"repeat-widths", repeatWidths},
		{"hem-turn", hemTurn},
		{"facing-on-valley", facingOnValley},
		{"no-favour", noFavour},
		{"notch-on-clip", notchOnClip},
		{"facing-grain", facingGrain},
	}
}

// Names returns the names of all checks, in the order in which they look.
func Names() []string {
	var names []string
	for _, c := range checks() {
		names = append(names, c.name)
	}
	return names
}

// Review runs every check on a fitted garment and the pieces made of it. Findings
// come check by check, those of a check in the order of the panels or seams. A
// check that has nothing to look at gives none: without facings, those of facings.
func Review(r *fit.Result, made *facing.Made, o Options) []Finding {
	if !(o.Fray > 0) {
		o.Fray = Fray
	}
	if !(o.Stitch > 0) {
		o.Stitch = Stitch
	}
	s := subject{r, made, o}
	var all []Finding
	for _, c := range checks() {
		for _, f := range c.look(s) {
			f.Name, f.Accepted = c.name, f.Level > fit.LevelFine && slices.Contains(o.Accept, c.name)
			all = append(all, f)
		}
	}
	return all
}

// say adds what is wrong to a finding.
func (f *Finding) say(l fit.Level, remedy, format string, args ...any) {
	f.Level, f.Remedy, f.Message = l, remedy, fmt.Sprintf(format, args...)
}

// degrees turns an angle into what figures state.
func degrees(a float64) float64 { return a * 180 / math.Pi }

// halfOf returns half of a length, rounded down to a tenth of a mm.
func halfOf(mm float64) float64 { return math.Floor((mm/2+slack)*10) / 10 }

// tenths rounds a length up to a tenth of a mm.
func tenths(mm float64) float64 { return math.Ceil((mm-slack)*10) / 10 }
