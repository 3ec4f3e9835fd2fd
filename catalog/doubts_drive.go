package catalog

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// beltBack is what belt and flange add to the outside radius of a wheel pulley,
// m: an allowance, common practice, no published source.
const beltBack = 0.002

// largest is the wheel of the largest rolling radius among those that fit, nil
// if there is none.
func (d *doubter) largest(fits func(*Wheel) bool) *Wheel {
	var best *Wheel
	for _, w := range d.Wheels {
		if fits(w) && (best == nil || w.RollingRadius() > best.RollingRadius()) {
			best = w
		}
	}
	return best
}

func (d *doubter) room() {
	byHubs := map[string]*Wheel{}
	onHubs := func(hubs []string) *Wheel {
		key := strings.Join(hubs, field.ListSeparator)
		w, known := byHubs[key]
		if !known {
			w = d.largest(func(w *Wheel) bool { return len(w.Hubs) > 0 && hubsMeet(hubs, w.Hubs) })
			byHubs[key] = w
		}
		return w
	}
	for _, p := range d.Pulleys {
		if p.Side != WheelSide || len(p.Hubs) == 0 {
			continue
		}
		radius := p.Profile.OutsideDiameter(p.Teeth)/2 + beltBack
		if w := onHubs(p.Hubs); w != nil && radius >= w.RollingRadius() {
			d.add("pulley", &p.Part, "teeth", "are teeth, profile and hub right, and is the wheel's diameter in mm?", "teeth is %d, %s mm across with its belt; %s, the largest wheel of its hub, rolls on %s mm",
				p.Teeth, decimals(2*radius*perMilli), w.ID, decimals(2*w.RollingRadius()*perMilli))
		}
	}
	for _, g := range d.GearDrives {
		var w *Wheel
		switch {
		case g.FitsWheels != nil:
			w = d.largest(func(w *Wheel) bool { return slices.Contains(g.FitsWheels, w.ID) })
		case len(g.Hubs) > 0:
			w = onHubs(g.Hubs)
		}
		if w != nil && g.Outside/2 >= w.RollingRadius() {
			d.add("gear_drive", &g.Part, "outside_mm", "a diameter, in mm", "outside_mm is %s; %s, the largest wheel that it bolts to, rolls on %s mm",
				num(g.Outside*perMilli), w.ID, decimals(2*w.RollingRadius()*perMilli))
		}
	}
}

func (d *doubter) wall() {
	const toothDepth = 0.4 // of the pitch
	for _, p := range d.Pulleys {
		root := p.Profile.OutsideDiameter(p.Teeth) - 2*toothDepth*p.Profile.Pitch
		if p.Bore >= root {
			d.add("pulley", &p.Part, "bore_mm", "", "bore_mm is %s; between the teeth it is %s mm across", num(p.Bore*perMilli), about(root*perMilli))
		}
	}
}

func (d *doubter) wheelMass() {
	const light, heavy = 80, 1500 // kg/m³
	for _, w := range d.Wheels {
		x := density(&w.Part, w.Diameter, w.Width)
		if !outside(x, light, heavy) {
			continue
		}
		hint := "of one wheel, without axle and truck"
		if x/4 <= heavy && x > heavy {
			hint = "the mass of one wheel, not of four"
		}
		d.add("wheel", &w.Part, "mass_g", hint, "mass_g is %s for a wheel of %s × %s mm, %s g/cm³; wheels have %s to %s",
			num(w.Mass*perMilli), num(w.Diameter*perMilli), num(w.Width*perMilli), about(x*perDense), num(light*perDense), num(heavy*perDense))
	}
}

func (d *doubter) rolling() {
	const easy, hard = 0.004, 0.15
	for _, w := range d.Wheels {
		if outside(w.RollingResistance, easy, hard) {
			d.add("wheel", &w.Part, "rolling_resistance", "a share of the weight: 0.02 for 2 %", "rolling_resistance is %s; boards have %s to %s", num(w.RollingResistance), num(easy), num(hard))
		}
		if w.RollingRatio > 1 {
			d.add("wheel", &w.Part, "rolling_radius_ratio", "under load a tyre rolls on less than half its diameter", "rolling_radius_ratio is %s, above 1", num(w.RollingRatio))
		}
	}
}
