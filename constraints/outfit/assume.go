package outfit

import "fmt"

// Assumptions are the values that the outfit rests on and no catalog or brief
// holds, those of the wishes included.
func (o *Outfit) Assumptions() []string {
	w := o.Wishes
	out := []string{
		fmt.Sprintf("wires run %s m from the pack to the controllers and %s m from a controller to its motor", num(w.BatteryWire), num(w.PhaseWire)),
		fmt.Sprintf("wires lie alone in still air of %s °C, twice as thick as their copper; the copper may warm by %s K for long and reach %s °C as long as the fuse holds",
			num(w.Ambient), num(w.WireRise), num(w.WireHottest)),
		"a pack's open-circuit volts lie on straight lines through empty, nominal at half charge and full",
		"the motors brake with no more current than they drive with",
	}
	if o.Build.Battery.Cell != nil {
		out = append(out, fmt.Sprintf("cells have a sleeve of %s mm, %s mm between them, %s mm at each end and %s mm to the walls of the box",
			num(w.Sleeve*mm), num(w.Gap*mm), num(w.End*mm), num(w.Wall*mm)))
	}
	if key.Applies(o) {
		out = append(out, fmt.Sprintf("a key bears %s N/mm² over at most %s shaft diameters, in a hub as long as the belt is wide that its pulley takes", num(keyPressure/mm2), num(keyLength)))
	}
	return out
}
