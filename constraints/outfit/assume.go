package outfit

import "gearsearch/constraints"

// Assumptions are the values that the outfit rests on and no catalog or brief
// holds, those of the wishes included.
func (o *Outfit) Assumptions() []Statement {
	w := o.Wishes
	out := []Statement{
		said(WiresRun, given(w.BatteryWire, "m"), given(w.PhaseWire, "m")),
		said(WiresLie, given(w.Ambient, "°C"), given(w.WireRise, "K"), given(w.WireHottest, "°C"), given(w.PeakSeconds, "s")),
		said(VoltsOnLines),
		said(BrakesAsItDrives),
	}
	if o.Build.Battery.Cell != nil {
		out = append(out, said(RoomRoundCells, length(w.Sleeve), length(w.Gap), length(w.End), length(w.Wall)))
	}
	if key.Applies(o) {
		out = append(out, said(KeyBears, shown(keyPressure, 1/mm2, "N/mm²", constraints.ThreeDigits), number(keyLength)))
	}
	return out
}
