package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

// Variant is what differs from a build. The zero value is the build as it is, and a
// value that the build has already changes nothing. Where it has parts and numbers,
// the numbers are those of the new parts: the motor that is named is rewound.
type Variant struct {
	IDs      map[Slot]string // other parts of the catalog
	KV       float64         // rpm/V, the motor rewound; 0: as it is
	Series   int             // cells in series; 0: as it is
	Small    int             // teeth of the motor's side, with Large; 0: as they are
	Large    int             // of the wheel's
	Ratio    float64         // motor turns per wheel turn; 0: as it is, and so with teeth
	Diameter float64         // m, of the wheels; 0: as it is
	Motors   int             // 1, 2 or 4; 0: as many as there are
	Brief    *Brief          // as in Build.Under; nil: the problem's
}

// Vary makes the build of a file with a variant of it. What is priced and weighed
// against, and what is in play, stays that of the problem.
//
// With other parts the build is what Find makes of a file that names them. A
// pulley or a mount changes together with its belt, unless that is named too; a
// gear drive in place of a belt drive takes all of it out, and the other way
// round. The error is as from Find.
func (p *Problem) Vary(f *BuildFile, v Variant) (*Build, error) {
	file, q := *f, p
	if v.Brief != nil {
		q = q.With(Briefed(v.Brief))
	}
	if v.Motors > 0 {
		file.Motors = v.Motors
		q = q.With(counting(v.Motors))
	}
	file.put(v.IDs)
	if f.IDs[SlotBelt] != file.IDs[SlotBelt] {
		q = q.With(wearable(p.Catalog, f.IDs[SlotBelt]))
	}
	b, err := q.Find(&file)
	if err != nil {
		return nil, err
	}
	if v.same(b); !v.numbers() {
		return b, nil
	}
	return b.numbered(v), nil
}

// numbers reports whether a variant has more than other parts.
func (v *Variant) numbers() bool {
	return v.KV > 0 || v.Series > 0 || v.Small > 0 || v.Ratio > 0 || v.Diameter > 0
}

// same takes out the numbers that a build of the variant's parts has already. A
// ratio stays another kind of drive than two pulleys, and teeth another than a
// gear drive that gives its ratio alone.
func (v *Variant) same(b *Build) {
	if equal(v.KV, b.Motor.KV) {
		v.KV = 0
	}
	if float64(v.Series) == b.Battery.Series {
		v.Series = 0
	}
	if equal(v.Diameter, b.Wheel.Diameter) {
		v.Diameter = 0
	}
	var small, large float64
	if gear := b.Drive.Gear; gear != nil {
		small, large = gear.Driver, gear.Driven
		if equal(v.Ratio, gear.Ratio) {
			v.Ratio = 0
		}
	} else {
		small, large = float64(b.Drive.MotorPulley.Teeth), float64(b.Drive.WheelPulley.Teeth)
	}
	if float64(v.Small) == small && float64(v.Large) == large {
		v.Small, v.Large = 0, 0
	}
}

// put names other parts in a build file, and takes out what does not go with
// them.
func (f *BuildFile) put(ids map[Slot]string) {
	other := func(s Slot) bool { return ids[s] != "" && ids[s] != f.IDs[s] }
	switch {
	case other(SlotGearDrive):
		for _, s := range beltSlots() {
			f.IDs[s] = ""
		}
	case slices.ContainsFunc(beltSlots(), other):
		f.IDs[SlotGearDrive] = ""
		f.IDs[SlotBelt] = "" // ids may name it
	}
	for slot, id := range ids {
		f.IDs[slot] = id
	}
}

// WholeDrive reports whether a build file has a whole drive once other parts are
// put in.
func (f *BuildFile) WholeDrive(ids map[Slot]string) bool {
	file := *f
	file.put(ids)
	return file.IDs[SlotGearDrive] != "" || file.IDs[SlotMotorPulley] != "" && file.IDs[SlotWheelPulley] != ""
}

// counting looks at another number of motors than the brief tries. The parts in
// play stay counted for the numbers before.
func counting(motors int) Edit {
	return Edit{set: func(q *Problem) { q.Counts = []int{motors} }}
}

// wearable puts a belt of the catalog in play, to be chosen with the others.
func wearable(c *catalog.Catalog, id string) Edit {
	return Edit{set: func(q *Problem) {
		belt, ok := catalog.ByID(c.AllBelts(), id)
		if ok && !slices.Contains(q.Belts, belt) {
			q.Belts = append(slices.Clone(q.Belts), belt)
		}
	}}
}

// numbered makes the build anew with the numbers of a variant.
func (b *Build) numbered(v Variant) *Build {
	p := b.Problem
	motor, battery, wheel, d := b.Motor.Motor, b.Battery.Battery, b.Wheel.Wheel, b.Drive
	if v.KV > 0 {
		motor = Rewound(motor, v.KV)
	}
	if v.Series > 0 {
		battery = Strung(battery, v.Series)
	}
	if v.Diameter > 0 {
		sized := *wheel
		sized.Diameter = v.Diameter
		wheel = &sized
	}
	switch {
	case v.Small > 0:
		d = p.toothed(d, v)
	case v.Ratio > 0:
		d = p.turned(d, v.Ratio)
	}
	out := &Build{Problem: p.including(b.Controller, d)}
	out.Electrify(p.battery(battery), b.Controller, p.motor(motor), b.Count)
	out.Roll(d, p.wheel(wheel))
	return out
}

// Strung is a pack of the same cells, as many side by side, and another number of
// them in series. Of its own numbers the volts, the resistance, the price and the
// mass go with the number of cells. Whoever owns a pack does not own another.
func Strung(b *catalog.Battery, series int) *catalog.Battery {
	out := *b
	longer := float64(series) / b.Series
	out.Series = float64(series)
	for _, x := range []*float64{&out.Nominal, &out.Full, &out.Cutoff, &out.Resistance, &out.Price, &out.Mass} {
		*x *= longer
	}
	out.Owned = false
	return &out
}

// toothed is a drive with other teeth. Pulleys of other teeth are otherwise the
// same, and their belt is chosen anew unless the variant names one; so are the
// gears of a drive that gives its teeth. In place of any other gear drive stands a
// bare ratio.
func (p *Problem) toothed(d *Drive, v Variant) *Drive {
	if d.Gear != nil {
		if math.IsNaN(d.Gear.Driver) {
			return d.bare(float64(v.Large) / float64(v.Small))
		}
		gear := *d.Gear
		gear.Driver, gear.Driven = float64(v.Small), float64(v.Large)
		gear.Ratio = gear.Driven / gear.Driver
		return p.gearDrive(&gear)
	}
	small, large := *d.MotorPulley, *d.WheelPulley
	small.Teeth, large.Teeth = v.Small, v.Large
	if v.IDs[SlotBelt] != "" {
		return p.namedBelt(&small, &large, d.Mount, d.Belt)
	}
	belts := p.Belts
	if d.Belt != nil {
		belts = p.With(wearable(p.Catalog, d.Belt.ID)).Belts
	}
	return p.beltDrive(&small, &large, d.Mount, centres(&small, &large, belts))
}

// turned is a drive with another ratio: of a gear drive the same with other gears,
// of two pulleys a bare ratio.
func (p *Problem) turned(d *Drive, ratio float64) *Drive {
	if d.Gear == nil || d.Bare {
		return d.bare(ratio)
	}
	gear := *d.Gear
	gear.Ratio, gear.Driver, gear.Driven = ratio, math.NaN(), math.NaN()
	return p.gearDrive(&gear)
}

// bare is a ratio in place of a drive, with its efficiency, its price and its
// mass. Nothing else is known of it: whether a belt fits, how many teeth mesh,
// what it is bolted to and how far off the ground it stays.
func (d *Drive) bare(ratio float64) *Drive {
	nan := math.NaN()
	out := &Drive{
		Gear: &catalog.GearDrive{
			Part:  catalog.Part{Price: nan, Mass: nan, SoldIn: 1},
			Ratio: ratio, Driver: nan, Driven: nan, Efficiency: d.Efficiency,
			Bore: nan, MaxTorque: nan, Outside: nan, Centre: nan, Angle: nan,
		},
		Bare:       true,
		Reduction:  ratio,
		Efficiency: d.Efficiency,
		Centre:     nan,
		Mesh:       -1,
		Outside:    nan,
		belt:       Undecided,
		Price:      d.Price,
		Mass:       d.Mass,
	}
	out.shaftStands(nan, nan)
	return out
}

// Stranger reports whether a slot has no part of that id, with a hint where there
// is one.
func (s Slot) Stranger(c *catalog.Catalog, id string) (hint string, unknown bool) {
	if holds(c, s, id) {
		return "", false
	}
	return strangerHint(c, s, id, slotIDs(c, s)), true
}
