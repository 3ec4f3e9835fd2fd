package constraints

import "gearsearch/catalog"

// Rewound is a motor of the same frame with another winding: with the copper
// fill held, z times the turns divide kv by z and multiply the resistance by
// z², while the same loss and the same flux take 1/z of the current. So the
// resistance goes with 1/kv², and the no-load current and the current limits
// with kv; what the limits give in torque and in heat stays, and so does the
// power (any textbook of electrical machines).
func Rewound(m *catalog.Motor, kv float64) *catalog.Motor {
	out := *m
	faster := kv / m.KV
	out.KV = kv
	out.Resistance /= faster * faster
	out.NoLoadCurrent *= faster
	out.PeakCurrent *= faster
	out.ContinuousCurrent *= faster
	return &out
}

// Tuned makes the build anew with its motor rewound to another kv, another
// reduction and another wheel diameter (m), all else held.
func (b *Build) Tuned(kv, reduction, diameter float64) *Build {
	motor, d, wheel := *b.Motor, *b.Drive, *b.Wheel
	motor.Motor = Rewound(motor.Motor, kv)
	motor.electric()

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
