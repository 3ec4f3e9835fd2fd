package outfit

import "math"

// Caution is what a builder should know of an outfit beyond the checks.
type Caution struct {
	Statement
	Slopes []Slope // that it is about: of SteepestSlope
}

// Cautions are what the builder should know beyond the checks, in a fixed
// order.
func (o *Outfit) Cautions() []Caution {
	out := []Caution{{said(SteepestSlope, speed(o.Downhill.Speed)), o.Downhill.Slopes}}
	add := func(s Statement) { out = append(out, Caution{Statement: s}) }
	for _, s := range o.Downhill.cautions() {
		add(s)
	}
	for _, r := range o.Results() {
		if r.Caution && r.Fails() {
			add(r.Says)
		}
	}
	if s := o.warmFuse(); s.Told() {
		add(s)
	}
	if built(o.Build) {
		add(said(CellsNeverWithoutVolts))
	}
	add(said(FuseAtPole))
	add(said(WatchTheCharge))
	return out
}

// cautions are those about braking, beyond the slopes.
func (d *Downhill) cautions() []Statement {
	out := []Statement{said(FullPackCannotBrake)}
	if v := math.Min(orElse(d.CeilingSpeed, math.Inf(1)), d.BackEMFSpeed); v == d.CeilingSpeed {
		out = append(out, said(CeilingLetsGo, speed(v)))
	} else {
		out = append(out, said(BackEMFCharges, speed(v)))
	}
	return append(out, said(OpenTakesBrake), said(BoardSeesNoBraking), said(TwoBrakes))
}
