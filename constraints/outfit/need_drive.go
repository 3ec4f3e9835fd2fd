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
	sourceChain  = "X = 2C/p + (z₁ + z₂)/2 + ((z₂ − z₁)/2π)² p/C: ISO 606"
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
	switch d := m.build.Drive; {
	case d.Gear != nil:
		return "gear_drive"
	case d.Chained():
		return "motor_sprocket"
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

// belts is the need of belts or chains where the build has chosen none; nil else.
func (m *maker) belts() *Need {
	d := m.build.Drive
	if d.Gear != nil || d.Belt != nil {
		return nil
	}
	a, b := d.MotorPulley, d.WheelPulley
	n := m.build.Motors()
	words := beltBuys
	if d.Chained() {
		words = chainBuys
	}
	need := &Need{For: words.what, Pieces: n, State: Missing}
	buy := func(code Code, more ...constraints.Quantity) Statement {
		return said(code, append([]constraints.Quantity{count(n), count(a.Teeth), count(b.Teeth)}, more...)...)
	}
	switch {
	case a.Profile.ID != b.Profile.ID:
		need.State = Misfit
		need.Buy = buy(words.two).about(a.Profile.ID, b.Profile.ID)
		return need
	case d.Mount == nil:
		need.State = Open
		need.Buy = buy(words.unknown)
		need.Demands = []Demand{{Code: words.demand, Key: words.key, PerSI: 1, Least: math.NaN(), Most: math.NaN(), Open: alone(NoMount), Source: words.source}}
		return need
	}
	least, most := beltTeeth(a.Profile.Profile, a.Teeth, b.Teeth, d.Mount.CentreMin, d.Mount.CentreMax)
	from, to := length(d.Mount.CentreMin), length(d.Mount.CentreMax)
	need.Demands = []Demand{{
		Code: words.demand, Key: words.key, PerSI: 1, Least: float64(least), Most: float64(most),
		How: alone(ShaftsApart, from, to), Source: words.source,
	}}
	if least > most {
		need.State = Misfit
		need.Buy = buy(words.none, from, to)
		return need
	}
	need.Buy = buy(words.some, count(least), count(most), soldAtMost(lower(a.Width, b.Width))).about(a.Profile.ID)
	return need
}

// beltsToBuy is how the need of belts is told, or that of chains.
type beltsToBuy struct {
	what, key                        string
	some, none, two, unknown, demand Code
	source                           string
}

var (
	beltBuys  = beltsToBuy{"belt", "teeth", BuyBelts, BuyBeltsNone, BuyBeltsOfTwo, BuyBeltsUnknown, DemandTeeth, sourceBelt}
	chainBuys = beltsToBuy{"chain", "links", BuyChains, BuyChainsNone, BuyChainsOfTwo, BuyChainsUnknown, DemandLinks, sourceChain}
)

// beltTeeth returns the fewest and the most teeth of a belt, or links of a chain, which
// are even, round two pulleys or sprockets whose shafts are from one distance to another
// apart, in m.
func beltTeeth(p drive.Profile, a, b int, from, to float64) (least, most int) {
	from = math.Max(from, math.Abs(p.PitchDiameter(a)-p.PitchDiameter(b))/2)
	step := 1.0
	if p.Chain != nil {
		step = 2
	}
	least = int(step * math.Ceil(p.Length(from, a, b)/step-1e-9))
	most = int(step * math.Floor(p.Length(to, a, b)/step+1e-9))
	return least, most
}

// masterLinks is the need of the links that close chains; nil without chains.
func (m *maker) masterLinks() *Need {
	d := m.build.Drive
	if !d.Chained() {
		return nil
	}
	n := m.build.Motors()
	need := &Need{For: "master link", Pieces: n, State: Missing, Buy: said(BuyMasterLinks, count(n)).about(d.MotorPulley.Profile.ID)}
	if d.Belt != nil {
		need.Notes = alone(ChainIsCut, count(d.Belt.Teeth), sold(d.Belt.Profile.Pitch*float64(d.Belt.Teeth)))
	}
	return need
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
