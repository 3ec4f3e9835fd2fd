package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Where the demands on what holds the drive together come from.
const (
	sourceKey    = "DIN 6885-1; ISO 773"
	sourceRemote = "common practice, no published source: a board whose signal is lost must roll out, not drive on"
	sourceBelt   = "belt geometry: Roloff/Matek; ISO 5296"
)

// keys are the parallel keys for shafts up to a diameter, from 6 mm on, all in mm:
// the key's side and the depth t₁ of the keyway in the shaft (DIN 6885-1, ISO 773).
var keys = [...]struct{ upTo, side, depth float64 }{
	{8, 2, 1.2}, {10, 3, 1.8}, {12, 4, 2.5}, {17, 5, 3}, {22, 6, 3.5},
}

// KeySize returns the width and the height in m of the parallel key for a shaft
// of a diameter in m, and how much of that height stands above the shaft's keyway,
// h − t₁. ok is false below 6 and above 22 mm.
func KeySize(shaft float64) (width, height, above float64, ok bool) {
	for _, k := range keys {
		if drive.AtMost(shaft*mm, k.upTo) {
			return k.side / mm, k.side / mm, (k.side - k.depth) / mm, drive.AtLeast(shaft*mm, 6)
		}
	}
	return 0, 0, 0, false
}

// shaftKey is what the motor pulley or gear drive needs on the shaft.
func (m *maker) shaftKey() catalog.ShaftKey {
	if g := m.build.Drive.Gear; g != nil {
		return g.ShaftKey
	}
	return m.build.Drive.MotorPulley.ShaftKey
}

// turner is the kind of what turns on the motor shaft.
func (m *maker) turner() string {
	if m.build.Drive.Gear != nil {
		return "gear_drive"
	}
	return "motor_pulley"
}

// fasteners are the needs of what holds the drive on its shafts.
func (m *maker) fasteners() []*Need {
	if g := m.build.Drive.Gear; g != nil && g.InWheel {
		return nil // the motor and its drive come together
	}
	var out []*Need
	n := m.build.Motors()
	key := m.shaftKey()
	if key == catalog.KeyKeyway {
		out = append(out, m.key(n))
	}
	screws := BuyScrews
	switch key {
	case catalog.KeyFlat:
		screws = BuyScrewsOnFlat
	case catalog.KeyKeyway:
		screws = BuyScrewsOnKey
	}
	return append(out, &Need{
		For: "set screws", Pieces: n, State: Missing,
		Buy: said(screws, count(n)).about(m.turner()), Notes: alone(ScrewsWorkLoose),
	})
}

// key is the need of parallel keys.
func (m *maker) key(n int) *Need {
	shaft := m.build.Motor.Shaft
	need := &Need{For: "key", Pieces: n, State: Missing}
	width, height, _, ok := KeySize(shaft)
	switch {
	case math.IsNaN(shaft):
		need.State = Open
		need.Buy = said(BuyKeysUnknown, count(n))
		need.Demands = []Demand{{Code: DemandKey, Key: "shaft_mm", PerSI: mm, Unit: "mm", Least: math.NaN(), Most: math.NaN(), Open: alone(NoShaft), Source: sourceKey}}
	case !ok:
		need.Buy = said(BuyKeysOfMaker, count(n), sold(shaft))
	default:
		need.Buy = said(BuyKeys, count(n), sold(width), sold(height), sold(shaft))
		need.Demands = []Demand{{
			Code: DemandKeyWidth, Key: "shaft_mm", Unit: "mm", PerSI: mm, Least: width, Most: width,
			How: alone(ForShaft, sold(shaft)), Source: sourceKey,
		}}
	}
	need.Notes = alone(KeyComesAlong)
	return need
}

// belts is the need of belts where the build has chosen none; nil else.
func (m *maker) belts() *Need {
	d := m.build.Drive
	if d.Gear != nil || d.Belt != nil {
		return nil
	}
	a, b := d.MotorPulley, d.WheelPulley
	n := m.build.Motors()
	need := &Need{For: "belt", Pieces: n, State: Missing}
	buy := func(code Code, more ...constraints.Quantity) Statement {
		return said(code, append([]constraints.Quantity{count(n), count(a.Teeth), count(b.Teeth)}, more...)...)
	}
	switch {
	case a.Profile.ID != b.Profile.ID:
		need.State = Misfit
		need.Buy = buy(BuyBeltsOfTwo).about(a.Profile.ID, b.Profile.ID)
		return need
	case d.Mount == nil:
		need.State = Open
		need.Buy = buy(BuyBeltsUnknown)
		need.Demands = []Demand{{Code: DemandTeeth, Key: "teeth", PerSI: 1, Least: math.NaN(), Most: math.NaN(), Open: alone(NoMount), Source: sourceBelt}}
		return need
	}
	least, most := beltTeeth(a.Profile.Profile, a.Teeth, b.Teeth, d.Mount.CentreMin, d.Mount.CentreMax)
	from, to := length(d.Mount.CentreMin), length(d.Mount.CentreMax)
	need.Demands = []Demand{{
		Code: DemandTeeth, Key: "teeth", PerSI: 1, Least: float64(least), Most: float64(most),
		How: alone(ShaftsApart, from, to), Source: sourceBelt,
	}}
	if least > most {
		need.State = Misfit
		need.Buy = buy(BuyBeltsNone, from, to)
		return need
	}
	need.Buy = buy(BuyBelts, count(least), count(most), soldAtMost(lower(a.Width, b.Width))).about(a.Profile.ID)
	return need
}

// beltTeeth returns the fewest and the most teeth of a belt round two pulleys
// whose shafts are from one distance to another apart, in m.
func beltTeeth(p drive.Profile, a, b int, from, to float64) (least, most int) {
	da, db := p.PitchDiameter(a), p.PitchDiameter(b)
	from = math.Max(from, math.Abs(da-db)/2)
	least = int(math.Ceil(drive.BeltLength(from, da, db)/p.Pitch - 1e-9))
	most = int(math.Floor(drive.BeltLength(to, da, db)/p.Pitch + 1e-9))
	return least, most
}

// remote is the need of a remote.
func (m *maker) remote() *Need {
	n := &Need{Kind: "remote", Pieces: 1, Buy: said(BuyRemote)}
	choose(n, m.catalog.Remotes, []ask[*catalog.Remote]{
		{
			yes(DemandFailsafe, "failsafe", sourceRemote),
			func(r *catalog.Remote) float64 { return isSo(r.Failsafe) },
		},
	})
	if n.Part == nil {
		return n
	}
	switch r, _ := catalog.ByID(m.catalog.Remotes, n.Part.ID); isSo(r.Telemetry) {
	case 1:
		n.Notes = alone(ShowsTheCharge)
	case 0:
		n.Notes = alone(ShowsNothing)
	}
	return n
}
