package outfit

import "fmt"

// Assumptions are the values that the outfit rests on and no catalog or brief
// holds, those of the wishes included.
func (o *Outfit) Assumptions() []string {
	w := o.Wishes
	u := w.Units
	out := []string{
		fmt.Sprintf("wires run %s from the pack to the controllers and %s from a controller to its motor", u.in("m", w.BatteryWire, num), u.in("m", w.PhaseWire, num)),
		fmt.Sprintf("wires lie alone in still air of %s °C, twice as thick as their copper; the copper may warm by %s K for long and reach %s °C as long as the fuse holds",
			num(w.Ambient), num(w.WireRise), num(w.WireHottest)),
		"a pack's open-circuit volts lie on straight lines through empty, nominal at half charge and full",
		"the motors brake with no more current than they drive with",
	}
	if o.Build.Battery.Cell != nil {
		out = append(out, fmt.Sprintf("cells have a sleeve of %s, %s between them, %s at each end and %s to the walls of the box",
			u.length(w.Sleeve), u.length(w.Gap), u.length(w.End), u.length(w.Wall)))
	}
	if key.Applies(o) {
		out = append(out, fmt.Sprintf("a key bears %s N/mm² over at most %s shaft diameters, in a hub as long as the belt is wide that its pulley takes", num(keyPressure/mm2), num(keyLength)))
	}
	return out
}
