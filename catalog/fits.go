package catalog

import (
	"math"
	"slices"

	"gearsearch/drive"
)

// What goes with what, as far as the parts say it: NaN and empty lists are not
// known, and what is not known may fit. These are the rules of the checks bore,
// hub, profile and voltage, which a test holds them to.

// equal reports whether two quantities are equal within the tolerance.
func equal(a, b float64) bool { return drive.AtMost(a, b) && drive.AtLeast(a, b) }

// boreFits reports whether a bore may go on a shaft.
func boreFits(bore, shaft float64) bool {
	return math.IsNaN(bore) || math.IsNaN(shaft) || equal(shaft, bore)
}

// keyFits reports whether a shaft may have what goes on it with a key.
func keyFits(needed, has ShaftKey) bool {
	return needed != KeyFlat && needed != KeyKeyway || has == needed || has == KeyUnknown
}

// pulleyOnMotor reports whether a motor pulley may go on a motor.
func pulleyOnMotor(p *Pulley, m *Motor) bool {
	return boreFits(p.Bore, m.Shaft) && keyFits(p.ShaftKey, m.ShaftKey)
}

// gearOnMotor reports whether a gear drive may go on a motor.
func gearOnMotor(g *GearDrive, m *Motor) bool {
	if g.FitsMotors != nil {
		return slices.Contains(g.FitsMotors, m.ID)
	}
	return boreFits(g.Bore, m.Shaft) && keyFits(g.ShaftKey, m.ShaftKey)
}

// hubsMeet reports whether two lists of hubs may have one in common.
func hubsMeet(a, b []string) bool {
	return len(a) == 0 || len(b) == 0 || slices.ContainsFunc(a, func(hub string) bool { return slices.Contains(b, hub) })
}

// gearOnWheel reports whether a gear drive may bolt to a wheel.
func gearOnWheel(g *GearDrive, w *Wheel) bool {
	if g.FitsWheels != nil {
		return slices.Contains(g.FitsWheels, w.ID)
	}
	return hubsMeet(g.Hubs, w.Hubs)
}

// voltsFit reports whether something may bear a full pack.
func voltsFit(full, most float64) bool { return math.IsNaN(most) || drive.AtMost(full, most) }
