package dxf

import (
	"fmt"
	"math"
	"strings"

	"engrail/motif/path"
)

// Units are what pattern data are measured in.
type Units uint8

// The units of ASTM D6673-10, 4.3.1.1: METRIC is mm with two decimals, ENGLISH
// inches with four.
const (
	Metric Units = iota
	English
)

// The words for them in a file.
const metricWord, englishWord = "METRIC", "ENGLISH"

func (u Units) word() string {
	if u == English {
		return englishWord
	}
	return metricWord
}

// mm returns the length of the unit.
func (u Units) mm() float64 {
	if u == English {
		return inch
	}
	return 1
}

// decimals returns how many digits are written behind the point.
func (u Units) decimals() int {
	if u == English {
		return englishDecimals
	}
	return metricDecimals
}

// step returns the length in mm of the last of the decimals.
func (u Units) step() float64 {
	if u == English {
		return inch / englishSteps
	}
	return 1.0 / metricSteps
}

// round returns the point, in mm, with the decimals that are written.
func (u Units) round(p path.Point) path.Point {
	if u == English {
		return path.Point{
			X: math.RoundToEven(p.X/inch*englishSteps) / englishSteps * inch,
			Y: math.RoundToEven(p.Y/inch*englishSteps) / englishSteps * inch,
		}
	}
	return path.Point{X: math.RoundToEven(p.X*metricSteps) / metricSteps, Y: math.RoundToEven(p.Y*metricSteps) / metricSteps}
}

// atLeast returns the length in mm as it is written, rounded up.
func (u Units) atLeast(mm float64) string {
	steps := math.Ceil(mm/u.step() - lastBit)
	return string(appendFixed(nil, steps*u.step()/u.mm(), u.decimals()))
}

// unit returns the length in mm of the file's unit and what says so.
func (b *builder) unit(o ReadOptions) (float64, string, error) {
	if math.IsNaN(o.UnitMM) || o.UnitMM < 0 || o.UnitMM > maxUnit {
		return 0, "", fmt.Errorf("dxf: a file cannot be read with %g mm to the unit: give a length above 0", o.UnitMM)
	}
	if o.UnitMM > 0 {
		return o.UnitMM, UnitGiven, nil
	}
	said, mm, err := b.unitText()
	if err != nil {
		return 0, "", err
	}
	switch {
	case said && b.pattern:
		return mm, UnitText, nil
	case b.units != 0:
		mm, ok := millimetres(b.units)
		if !ok {
			return 0, "", fmt.Errorf("dxf: unit %d in $INSUNITS is not read: save the drawing in mm, cm or inches", b.units)
		}
		return mm, UnitHeader, nil
	case b.measured && b.measurement == 0:
		return inch, UnitHeader, nil
	case b.measured:
		return 1, UnitHeader, nil
	case said:
		return mm, UnitText, nil
	}
	return 1, UnitNone, nil
}

// unitText returns the unit that a text says, and whether there is one.
func (b *builder) unitText() (said bool, mm float64, err error) {
	mm = 1
	for i := range b.entities {
		e := &b.entities[i]
		if e.kind != kindText || e.paper || b.pattern && e.layer.name != layerCut {
			continue
		}
		key, value, ok := splitFact(plainText(e.text))
		switch {
		case !ok || key != keyUnits:
		case strings.EqualFold(value, metricWord):
			said, mm = true, 1
		case strings.EqualFold(value, englishWord):
			said, mm = true, inch
		case b.pattern:
			return false, 0, e.fail("units %.40q are neither METRIC nor ENGLISH", value)
		}
	}
	return said, mm, nil
}

const inch = 25.4 // mm

// millimetres returns the length of a unit of $INSUNITS, as the DXF reference
// numbers them.
func millimetres(unit int) (float64, bool) {
	const foot, surveyFoot = 12 * inch, 1200e3 / 3937
	mm := [...]float64{
		1: inch, 2: foot, 3: 5280 * foot, 4: 1, 5: 10, 6: 1e3, 7: 1e6, 8: inch / 1e6, 9: inch / 1e3, 10: 3 * foot,
		13: 1e-3, 14: 100, 15: 1e4, 16: 1e5, 21: surveyFoot, 22: surveyFoot / 12, 23: 3 * surveyFoot,
	}
	if unit < 0 || unit >= len(mm) || mm[unit] == 0 {
		return 0, false
	}
	return mm[unit], true
}
