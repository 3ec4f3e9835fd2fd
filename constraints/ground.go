package constraints

import (
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// surface is what the wheels roll on.
type surface struct {
	grip                        float64 // μ, dry; an assumption
	urethane, rubber, airFilled float64 // rolling-resistance coefficients
}

// surfaces are the grounds a brief may name.
//
// Pneumatic tyres: small scooter tyres roll 3.5 to 6 times as hard as a
// bicycle's, about 0.014 to 0.030 (Stilwell et al., Proc. Design Society
// 2023); loose gravel 0.04 and medium-hard soil 0.08 (Carvill, Mechanical
// Engineer's Data Handbook). Urethane and rubber are assumptions: no paper was
// found. The grips are assumptions for dry ground.
var surfaces = map[string]surface{
	"asphalt": {grip: 0.8, urethane: 0.018, rubber: 0.022, airFilled: 0.025},
	"rough":   {grip: 0.6, urethane: 0.030, rubber: 0.030, airFilled: 0.028},
	"gravel":  {grip: 0.5, urethane: 0.080, rubber: 0.045, airFilled: 0.035},
	"grass":   {grip: 0.4, urethane: 0.120, rubber: 0.080, airFilled: 0.080},
}

// surfaceNames are the keys of surfaces, smoothest first.
var surfaceNames = []string{"asphalt", "rough", "gravel", "grass"}

// gripsInWords tells the grip of each surface.
func gripsInWords() string {
	var out []string
	for _, name := range surfaceNames {
		out = append(out, field.FormatNumber(surfaces[name].grip)+" "+name)
	}
	return strings.Join(out, ", ") + ", dry: assumptions"
}

// rolling is the rolling-resistance coefficient of a tyre on this surface.
func (s surface) rolling(tyre catalog.Tyre) float64 {
	switch tyre {
	case catalog.TyreRubber:
		return s.rubber
	case catalog.TyrePneumatic:
		return s.airFilled
	default:
		return s.urethane
	}
}

// drivenShare is the share of the weight on driven wheels by the number of
// motors: an assumption, for a rear drive that the rider leans into.
func drivenShare(motors int) float64 {
	switch motors {
	case 1:
		return 0.3
	case 2:
		return 0.6
	default:
		return 1
	}
}

// sharesInWords tells the driven share of each number of motors.
func sharesInWords() string {
	var shares, counts []string
	for _, n := range []int{1, 2, 4} {
		shares = append(shares, field.FormatNumber(drivenShare(n)))
		counts = append(counts, field.FormatNumber(float64(n)))
	}
	return strings.Join(shares, ", ") + " with " + strings.Join(counts, ", ") + " motors"
}
