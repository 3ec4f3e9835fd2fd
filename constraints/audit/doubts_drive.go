package audit

import (
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// largest is the wheel of the largest rolling radius among those that fit, nil
// if there is none.
func (d *doubter) largest(fits func(*catalog.Wheel) bool) *catalog.Wheel {
	var best *catalog.Wheel
	for _, w := range d.Wheels {
		if fits(w) && (best == nil || w.RollingRadius() > best.RollingRadius()) {
			best = w
		}
	}
	return best
}

// room doubts a wheel pulley or gear drive that touches the ground on the largest
// wheel that it bolts to.
func (d *doubter) room() {
	byHubs := map[string]*catalog.Wheel{}
	onHubs := func(hubs []string) *catalog.Wheel {
		key := strings.Join(hubs, field.ListSeparator)
		w, known := byHubs[key]
		if !known {
			w = d.largest(func(w *catalog.Wheel) bool {
				return len(w.Hubs) > 0 && d.bench.pulleyOnWheel(&catalog.Pulley{Hubs: hubs}, w)
			})
			byHubs[key] = w
		}
		return w
	}
	for _, p := range d.AllPulleys() {
		if p.Side != catalog.WheelSide || len(p.Hubs) == 0 {
			continue
		}
		radius := constraints.BeltedRadius(p)
		if w := onHubs(p.Hubs); w != nil && radius >= w.RollingRadius() {
			d.add(PulleyAboveWheel, p.Kind(), &p.Part, "teeth", plain(float64(p.Teeth)), workedOut(2*radius, perMilli), named(w.ID), workedOut(2*w.RollingRadius(), perMilli))
		}
	}
	for _, g := range d.GearDrives {
		var w *catalog.Wheel
		switch {
		case g.FitsWheels != nil:
			w = d.largest(func(w *catalog.Wheel) bool { return d.bench.gearOnWheel(g, w) })
		case len(g.Hubs) > 0:
			w = onHubs(g.Hubs)
		}
		if w != nil && g.Outside/2 >= w.RollingRadius() {
			d.add(GearAboveWheel, "gear_drive", &g.Part, "outside_mm", given(g.Outside, perMilli), named(w.ID), workedOut(2*w.RollingRadius(), perMilli))
		}
	}
}

// wall doubts a pulley that its bore leaves nothing of.
func (d *doubter) wall() {
	const toothDepth = 0.4 // of the pitch
	for _, p := range d.AllPulleys() {
		root := p.Profile.OutsideDiameter(p.Teeth) - 2*toothDepth*p.Profile.Pitch
		if c := p.Profile.Chain; c != nil {
			root = p.Profile.PitchDiameter(p.Teeth) - c.Roller
		}
		if p.Bore >= root {
			d.add(BoreAboveRoot, p.Kind(), &p.Part, "bore_mm", given(p.Bore, perMilli), rough(root, perMilli))
		}
	}
}

// wheelMass doubts a wheel far lighter or heavier than wheels of its size.
func (d *doubter) wheelMass() {
	const light, heavy = 80, 1500 // kg/m³
	for _, w := range d.Wheels {
		x := density(&w.Part, w.Diameter, w.Width)
		if !outside(x, light, heavy) {
			continue
		}
		code := WheelMass
		if x/4 <= heavy && x > heavy {
			code = WheelsMass
		}
		d.add(code, "wheel", &w.Part, "mass_g", given(w.Mass, perMilli), given(w.Diameter, perMilli), given(w.Width, perMilli),
			rough(x, perDense), given(light, perDense), given(heavy, perDense))
	}
}

// rolling doubts a rolling resistance that no board has, or a tyre that grows under
// load.
func (d *doubter) rolling() {
	const easy, hard = 0.004, 0.15
	for _, w := range d.Wheels {
		if outside(w.RollingResistance, easy, hard) {
			d.add(RollingResistance, "wheel", &w.Part, "rolling_resistance", plain(w.RollingResistance), plain(easy), plain(hard))
		}
		if w.RollingRatio > 1 {
			d.add(RollingRatio, "wheel", &w.Part, "rolling_radius_ratio", plain(w.RollingRatio))
		}
	}
}
