package dxf

import (
	"fmt"
	"math"
	"strings"
)

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
		case strings.EqualFold(value, "METRIC"):
			said, mm = true, 1
		case strings.EqualFold(value, "ENGLISH"):
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
