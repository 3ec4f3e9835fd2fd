package constraints

import (
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// surface is what the wheels roll on.
type surface struct {
	grip                        float64 // μ, dry; an assumption
	urethane, rubber, airFilled float64 // rolling-resistance coefficients
}

// surfaces are the grounds a brief may name.
//
// Pneumatic tyres: 0.015 fits the 14 Wh/km that a mountain board took on warm
// tyres of 200 mm (a builder's log); small scooter tyres roll 3.5 to 6 times as
// hard as a bicycle's, about 0.014 to 0.030 (Stilwell et al., Proc. Design Society
// 2023); loose gravel 0.04 and medium-hard soil 0.08 (Carvill, Mechanical
// Engineer's Data Handbook). Urethane and rubber are assumptions: no paper was
// found. The grips are assumptions for dry ground; wet asphalt has about half
// (Jones & Childers).
var surfaces = map[string]surface{
	"asphalt": {grip: 0.8, urethane: 0.018, rubber: 0.022, airFilled: 0.020},
	"rough":   {grip: 0.6, urethane: 0.030, rubber: 0.030, airFilled: 0.026},
	"gravel":  {grip: 0.5, urethane: 0.080, rubber: 0.045, airFilled: 0.035},
	"grass":   {grip: 0.4, urethane: 0.120, rubber: 0.080, airFilled: 0.080},
}

// surfaceNames are the keys of surfaces, smoothest first.
var surfaceNames = []string{"asphalt", "rough", "gravel", "grass"}

// Surfaces lists the words for what the wheels roll on, smoothest first.
func Surfaces() []string { return slices.Clone(surfaceNames) }

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

// wetGrip is the share of a surface's grip that is left when it is wet: wet
// asphalt has about 0.4 (Jones & Childers).
const wetGrip = 0.5

// friction is the friction coefficient of tyre on ground.
func (g *Ground) friction() float64 {
	dry := surfaces[g.Surface].grip
	if isSet(g.Wet) {
		dry *= wetGrip
	}
	return orElse(g.Grip, dry)
}

// moisture is the word for how wet the ground is.
func (g *Ground) moisture() string {
	if isSet(g.Wet) {
		return "wet"
	}
	return "dry"
}

// Fitted reports whether the rolling resistance and the drag area are the rider's own,
// from a fit, and no flag has put another value in their place since.
func (b *Brief) Fitted() (rolling, drag bool) {
	own := func(flag *bool, of, value string) bool {
		_, byFlag := b.places.origins[value]
		_, both := b.places.origins[of]
		return isSet(flag) && (!byFlag || both)
	}
	return own(b.Ground.Fitted, "ground.rolling_fitted", "ground.rolling_resistance"), own(b.Rider.Fitted, "rider.drag_fitted", "rider.drag_area_m2")
}

// isSet reports whether a flag is given and true.
func isSet(flag *bool) bool { return flag != nil && *flag }

// posture is how a rider meets the air.
type posture struct {
	name     string
	dragArea float64 // m²
}

// postures are the postures that a brief may name, the usual one first. Snowboarders
// who stand sideways have 0.35 to 0.55 in a wind tunnel; upright and facing forward
// it is 0.65 ± 0.05 (Spring et al. 1988, coasting on roller skis).
var postures = []posture{{"sideways", 0.50}, {"forward", 0.65}, {"tuck", 0.35}}

func postureNames() []string {
	var names []string
	for _, p := range postures {
		names = append(names, p.name)
	}
	return names
}

// posturesInWords tells the drag area of each posture.
func posturesInWords() string {
	var out []string
	for _, p := range postures {
		out = append(out, field.FormatNumber(p.dragArea)+" "+p.name)
	}
	return strings.Join(out, ", ")
}

// dragArea is the rider's drag coefficient times frontal area, m².
func (r *Rider) dragArea() float64 {
	i := slices.IndexFunc(postures, func(p posture) bool { return p.name == r.Posture })
	return orElse(r.DragArea, postures[i].dragArea)
}

// stance is how the rider stands.
func (b *Board) stance() drive.Stance {
	return drive.Stance{RearShare: b.RearShare, Lean: b.Lean, AxleMin: b.AxleMin, Height: b.Centre / b.Wheelbase}
}
