package dxf

import (
	"strings"

	"engrail/fit"
	"engrail/plot"
)

// textLayer is the plain flavour's layer of lettering.
const textLayer = "TEXT"

// plainLayer returns the name of the role's layer in the plain flavour.
func plainLayer(r plot.Role) string { return strings.ToUpper(r.String()) }

// plainStyle returns the colour number and line type of the role's layer. The
// colours show on light and dark grounds, and nothing is told by colour alone.
func plainStyle(r plot.Role) (colour int, lineType string) {
	of := [...]struct {
		colour   int
		lineType string
	}{
		plot.Drawn:    {7, solidLine},
		plot.Cut:      {7, solidLine},
		plot.Stitch:   {150, "DASHED"},
		plot.Fold:     {6, "DASHDOT"},
		plot.Grain:    {3, solidLine},
		plot.Notch:    {1, solidLine},
		plot.Clip:     {30, solidLine},
		plot.Mark:     {4, solidLine},
		plot.Inner:    {150, "DASHDOT"},
		plot.Internal: {8, solidLine},
	}[r]
	return of.colour, of.lineType
}

// lineType is a line type of the plain flavour: lengths in mm drawn, and left
// out when negative.
type lineType struct {
	name, picture string
	dashes        []float64
}

func lineTypes() []lineType {
	return []lineType{
		{solidLine, "Solid line", nil},
		{"DASHED", "_ _ _ _ _ _", []float64{5, -2.5}},
		{"DASHDOT", "__ . __ . __", []float64{10, -2.5, 0, -2.5}},
	}
}

// The layers of the exchange flavour.
const (
	layerCut       = "1"
	layerTurn      = "2"
	layerCurve     = "3"
	layerNotch     = "4"
	layerReference = "5"
	layerMirror    = "6"
	layerGrain     = "7"
	layerInternal  = "8"
	layerStripe    = "9"
	layerPlaid     = "10"
	layerCutout    = "11"
	layerDrill     = "13"
	layerStitch    = "14"
	layerLettering = "15"
	// Notches of other shapes than those on layer 4.
	layerT      = "80"
	layerCastle = "81"
	layerCheck  = "82"
	layerU      = "83"
)

// checkLayer returns the layer of the check curves of a layer of lines.
func checkLayer(layer string) string {
	switch layer {
	case layerCut:
		return "84"
	case layerInternal:
		return "85"
	case layerCutout:
		return "86"
	}
	return "87"
}

// exchangeLayer returns the layer of the role's lines in the exchange flavour.
func exchangeLayer(r plot.Role) string {
	switch r {
	case plot.Cut:
		return layerCutout
	case plot.Stitch:
		return layerStitch
	case plot.Fold:
		return layerMirror
	case plot.Grain:
		return layerGrain
	case plot.Notch:
		return layerNotch
	}
	return layerInternal
}

// isReference reports whether the class is a layer of lines to lay the piece
// by, which have no role in a drawing.
func isReference(class string) bool {
	return class == layerReference || class == layerStripe || class == layerPlaid
}

// notchLayer returns the layer of the kind of notch.
func notchLayer(k fit.NotchKind) string {
	switch k {
	case fit.TNotch:
		return layerT
	case fit.CastleNotch:
		return layerCastle
	case fit.CheckNotch:
		return layerCheck
	case fit.UNotch:
		return layerU
	}
	return layerNotch
}

// notchKind returns the kind of a notch by its layer and width: on layer 4
// those that have one are V notches, and the others slits.
func notchKind(layer string, width float64) fit.NotchKind {
	for k := fit.TNotch; k <= fit.UNotch; k++ {
		if layer == notchLayer(k) {
			return k
		}
	}
	if width > 0 {
		return fit.VNotch
	}
	return fit.SlitNotch
}

// exchangeRole returns the first of the roles of an exchange layer, and
// whether the layer has lines at all.
func exchangeRole(layer string) (plot.Role, bool) {
	switch layer {
	case layerCut, layerCutout:
		return plot.Cut, true
	case layerNotch, layerT, layerCastle, layerCheck, layerU:
		return plot.Notch, true
	case layerMirror:
		return plot.Fold, true
	case layerGrain:
		return plot.Grain, true
	case layerInternal:
		return plot.Internal, true
	case layerDrill:
		return plot.Mark, true
	case layerStitch:
		return plot.Stitch, true
	case layerTurn, layerCurve, "84", "85", "86", "87": // again what 1, 8, 11 and 14 hold
		return 0, false
	}
	return plot.Drawn, true
}

// roleColour returns the colour number by which the exchange flavour tells the
// role from the first one of its layer: a hue for each role.
func roleColour(r plot.Role) int { return 10 + 20*int(r) }

// colourRole returns the role that the colour says on a layer whose first role
// is given. Other colours say nothing, and neither does one of a role that is
// not written to the layer.
func colourRole(colour int, layer string, first plot.Role) plot.Role {
	r := plot.Role((colour - 10) / 20)
	if colour < 10 || r > plot.Internal || roleColour(r) != colour {
		return first
	}
	switch {
	case layer == layerNotch && r == plot.Clip, layer == layerDrill,
		layer == layerInternal && exchangeLayer(r) == layerInternal:
		return r
	}
	return first
}
