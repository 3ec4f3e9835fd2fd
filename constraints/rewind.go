package constraints

// Tuned makes the build anew with a motor of another kv, another reduction and
// another wheel diameter (m), all else held.
//
// The motor is the same frame rewound: with the copper fill held, z times the
// turns divide kv by z and multiply the resistance by z², while the same loss
// and the same flux take 1/z of the current. So the resistance goes with
// 1/kv², and the no-load current and the current limits with kv; what the
// limits give in torque and in heat stays, and so does the power (any textbook
// of electrical machines).
func (b *Build) Tuned(kv, reduction, diameter float64) *Build {
	motor, d, wheel := *b.Motor, *b.Drive, *b.Wheel
	of := *motor.Motor
	motor.Motor = &of
	faster := kv / motor.KV
	of.KV = kv
	of.Resistance /= faster * faster
	of.NoLoadCurrent *= faster
	of.PeakCurrent *= faster
	of.ContinuousCurrent *= faster
	motor.Drive.KV = kv
	motor.Drive.Resistance /= faster * faster
	motor.Drive.NoLoadCurrent *= faster
	motor.Drive.PeakCurrent *= faster
	motor.Drive.ContinuousCurrent *= faster

	d.Reduction = reduction

	tyre := *wheel.Wheel
	wheel.Wheel = &tyre
	wheel.Radius *= diameter / tyre.Diameter
	tyre.Diameter = diameter

	out := &Build{Problem: b.Problem}
	out.Electrify(b.Battery, b.Controller, &motor, b.Count)
	out.Roll(&d, &wheel)
	return out
}
