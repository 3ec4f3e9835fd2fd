package search

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// The parts that Wants looks at.
const (
	leastSeries, mostSeries         = 6, 20
	leastMotorTeeth, mostMotorTeeth = 10, 24
	leastWheelTeeth, mostWheelTeeth = 30, 80
	kvStep                          = 5 // rpm/V
	// Ratios are tenths; lengths are in mm.
	leastRatio, mostRatio                   = 15, 100
	leastCentre, mostCentre, centreStep     = 40, 240, 2
	leastDiameter, mostDiameter, wheelSteps = 70, 260, 5
)

const mm = 1e-3 // m

// fact is what each fact that is no number adds to a difference.
const changedFact = 0.1

// changed is the difference of so many facts that are no numbers.
func changed(differ ...bool) float64 {
	sum := 0.0
	for _, d := range differ {
		if d {
			sum += changedFact
		}
	}
	return sum
}

// alike reports whether two numbers are the same, or both not known.
func alike(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// asBought is the id, price and mass that a missing part takes over from a real
// part. It is not owned.
func asBought(like *catalog.Part) catalog.Part {
	return catalog.Part{ID: like.ID, Price: like.Price, SoldIn: like.SoldIn, Mass: like.Mass}
}

// distinct leaves out all but the first of equal items.
func distinct[T any](list []T, equal func(a, b T) bool) []T {
	var out []T
	for _, x := range list {
		if !slices.ContainsFunc(out, func(y T) bool { return equal(x, y) }) {
			out = append(out, x)
		}
	}
	return out
}

// packStrings is how many cells a pack has side by side.
func packStrings(b *catalog.Battery) float64 {
	if math.IsNaN(b.Parallel) {
		return 1
	}
	return b.Parallel
}

func wishedBatteries(p *constraints.Problem) []wish[catalog.Battery] {
	var real []*catalog.Battery
	var parallels []float64
	for _, b := range p.Batteries {
		real = append(real, b.Battery)
		parallels = append(parallels, packStrings(b.Battery))
	}
	slices.Sort(parallels)
	nan := math.NaN()
	var out []wish[catalog.Battery]
	for _, cell := range p.Catalog.Cells {
		for series := leastSeries; series <= mostSeries; series++ {
			for _, parallel := range slices.Compact(slices.Clone(parallels)) {
				pack := &catalog.Battery{
					Series: float64(series), Parallel: parallel, Cell: cell,
					Nominal: nan, Full: nan, Cutoff: nan, Capacity: nan, Resistance: nan, Discharge: nan, Charge: nan,
				}
				w := nearest(pack, real, func(a, b *catalog.Battery) float64 {
					return distance(a.Series, b.Series) + distance(packStrings(a), packStrings(b)) + changed(a.Cell != b.Cell)
				})
				more := pack.Series * pack.Parallel / (w.like.Series * packStrings(w.like))
				pack.Part = asBought(&w.like.Part)
				pack.Price, pack.Mass = pack.Price*more, pack.Mass*more
				pack.Wiring, pack.Overhead = w.like.Wiring, w.like.Overhead
				out = append(out, w)
			}
		}
	}
	return out
}

// The limits of a controller that bears everything: the greatest that a catalog
// may say.
const (
	unlimitedVolts = 1000      // V
	unlimitedERPM  = 2_000_000 // electrical rpm
)

func wishedControllers(p *constraints.Problem) []wish[catalog.Controller] {
	var out []wish[catalog.Controller]
	for _, real := range p.Controllers {
		for _, scale := range []float64{1, 1.25, 1.5, 2, 3} {
			for lifted := range 4 {
				c := *real.Controller
				c.Part = asBought(&real.Part)
				c.MotorCurrent *= scale
				c.BatteryCurrent *= scale
				c.ContinuousCurrent *= scale
				volts, rpm := lifted&1 != 0 && c.MaxVolts < unlimitedVolts, lifted&2 != 0 && c.ERPMCeiling < unlimitedERPM
				if volts {
					c.MaxVolts = unlimitedVolts
				}
				if rpm {
					c.ERPMCeiling = unlimitedERPM
				}
				if (lifted&1 != 0) != volts || (lifted&2 != 0) != rpm {
					continue // no such limit to lift
				}
				out = append(out, wish[catalog.Controller]{&c, real.Controller, math.Log(scale) + changed(volts, rpm)})
			}
		}
	}
	return out
}

func wishedMotors(p *constraints.Problem) []wish[catalog.Motor] {
	frame := func(a, b *catalog.Motor) bool {
		return alike(a.CanDiameter, b.CanDiameter) && alike(a.CanLength, b.CanLength) && alike(a.Shaft, b.Shaft) &&
			a.ShaftKey == b.ShaftKey && alike(a.PolePairs, b.PolePairs)
	}
	var all []*catalog.Motor
	for _, m := range p.Motors {
		all = append(all, m.Motor)
	}
	var out []wish[catalog.Motor]
	for _, first := range distinct(all, frame) {
		var windings []*catalog.Motor
		least, most := math.Inf(1), 0.0
		for _, m := range all {
			if frame(m, first) {
				windings = append(windings, m)
				least, most = math.Min(least, m.KV), math.Max(most, m.KV)
			}
		}
		for kv := math.Ceil(least/2/kvStep) * kvStep; kv <= 2*most; kv += kvStep {
			w := nearest(&catalog.Motor{KV: kv}, windings, func(a, b *catalog.Motor) float64 { return distance(a.KV, b.KV) })
			w.part = constraints.Rewound(w.like, kv)
			w.part.Part = asBought(&w.like.Part)
			out = append(out, w)
		}
	}
	return out
}

// bored is a bore with the key that goes with it.
type bored struct {
	bore float64 // m
	key  catalog.ShaftKey
}

func (a bored) is(b bored) bool {
	plain := func(k catalog.ShaftKey) bool { return k == catalog.KeyUnknown || k == catalog.KeyPlain }
	return alike(a.bore, b.bore) && (a.key == b.key || plain(a.key) && plain(b.key))
}

// shafts are the bores that fit the motors in play: clamped, and with the
// motor's key. Where no motor's shaft is known, the only bore is unknown too.
func shafts(p *constraints.Problem) []bored {
	var out []bored
	for _, m := range p.Motors {
		if math.IsNaN(m.Shaft) {
			continue
		}
		out = append(out, bored{m.Shaft, catalog.KeyPlain})
		if m.ShaftKey == catalog.KeyFlat || m.ShaftKey == catalog.KeyKeyway {
			out = append(out, bored{m.Shaft, m.ShaftKey})
		}
	}
	if len(out) == 0 {
		return []bored{{math.NaN(), catalog.KeyUnknown}}
	}
	return distinct(out, bored.is)
}

// hubs are the hubs of the wheels in play, each alone, as a part lists them.
// Where no wheel's hub is known, the only list is unknown too.
func hubs(p *constraints.Problem) [][]string {
	var out [][]string
	for _, w := range p.Wheels {
		for _, hub := range w.Hubs {
			out = append(out, []string{hub})
		}
	}
	if len(out) == 0 {
		return [][]string{nil}
	}
	return distinct(out, slices.Equal)
}

// takes reports whether the hubs that a real part lists include the hub of a
// missing part; nil is not known.
func takes(real, wanted []string) bool {
	if len(wanted) == 0 {
		return len(real) == 0
	}
	return slices.Contains(real, wanted[0])
}

// refit is another bore or hub for a gear drive; nil is its own.
type refit struct {
	bore *bored
	hub  []string
}

// refits are the refits that the shafts and wheels in play give reason to try.
func refits(p *constraints.Problem) []refit {
	bores := slices.DeleteFunc(shafts(p), func(b bored) bool { return b.key != catalog.KeyPlain })
	rims := slices.DeleteFunc(hubs(p), func(h []string) bool { return h == nil })
	out := make([]refit, 0, (len(bores)+1)*(len(rims)+1))
	for i := range len(bores) + 1 {
		for j := range len(rims) + 1 {
			var r refit
			if i > 0 {
				r.bore = &bores[i-1]
			}
			if j > 0 {
				r.hub = rims[j-1]
			}
			out = append(out, r)
		}
	}
	return out
}

// idle reports whether a gear drive already has the bore and hub of the refit.
func (r refit) idle(real *catalog.GearDrive) bool {
	own := bored{real.Bore, real.ShaftKey}
	return r.bore != nil && real.FitsMotors == nil && own.is(*r.bore) || r.hub != nil && real.FitsWheels == nil && takes(real.Hubs, r.hub)
}

// wish is the wish for a gear drive like a real one, but with another bore, hub
// and ratio.
func (r refit) wish(real *catalog.GearDrive, ratio float64) wish[catalog.GearDrive] {
	g := *real
	g.Part = asBought(&real.Part)
	if r.bore != nil {
		g.Bore, g.ShaftKey, g.FitsMotors = r.bore.bore, catalog.KeyPlain, nil
	}
	if r.hub != nil {
		g.Hubs, g.FitsWheels = r.hub, nil
	}
	if g.Ratio = ratio; ratio != real.Ratio {
		g.Driver, g.Driven = math.NaN(), math.NaN()
	}
	return wish[catalog.GearDrive]{&g, real, distance(ratio, real.Ratio) + changed(r.bore != nil, r.hub != nil)}
}

func wishedGears(p *constraints.Problem) []wish[catalog.GearDrive] {
	var out []wish[catalog.GearDrive]
	for _, real := range p.GearDrives {
		ratios := []float64{real.Ratio}
		for tenths := leastRatio; tenths <= mostRatio && real.Ratio != 1; tenths++ {
			ratios = append(ratios, float64(tenths)/10)
		}
		fitting := slices.DeleteFunc(refits(p), func(r refit) bool { return r.idle(real) })
		for _, ratio := range ratios {
			for _, r := range fitting {
				out = append(out, r.wish(real, ratio))
			}
		}
	}
	return out
}

// sameBelt reports whether two pulleys take the same belts.
func sameBelt(a, b *catalog.Pulley) bool {
	return a.Profile.ID == b.Profile.ID && alike(a.Width, b.Width)
}

func wishedMotorPulleys(p *constraints.Problem) []wish[catalog.Pulley] {
	var out []wish[catalog.Pulley]
	for _, model := range distinct(p.MotorPulleys, sameBelt) {
		for _, shaft := range shafts(p) {
			for teeth := leastMotorTeeth; teeth <= mostMotorTeeth; teeth++ {
				part := &catalog.Pulley{
					Side: catalog.MotorSide, Profile: model.Profile, Width: model.Width, Teeth: teeth, Bore: shaft.bore, ShaftKey: shaft.key,
				}
				w := nearest(part, p.MotorPulleys, func(a, b *catalog.Pulley) float64 {
					return distance(float64(a.Teeth), float64(b.Teeth)) + changed(
						a.Profile.ID != b.Profile.ID, !alike(a.Width, b.Width), !alike(a.Bore, b.Bore), !(bored{b.Bore, a.ShaftKey}).is(bored{b.Bore, b.ShaftKey}))
				})
				part.Part = asBought(&w.like.Part)
				out = append(out, w)
			}
		}
	}
	return out
}

func wishedWheelPulleys(p *constraints.Problem) []wish[catalog.Pulley] {
	var out []wish[catalog.Pulley]
	for _, model := range distinct(p.WheelPulleys, sameBelt) {
		for _, hub := range hubs(p) {
			for teeth := leastWheelTeeth; teeth <= mostWheelTeeth; teeth++ {
				part := &catalog.Pulley{
					Side: catalog.WheelSide, Profile: model.Profile, Width: model.Width, Teeth: teeth, Bore: math.NaN(), Hubs: hub,
				}
				w := nearest(part, p.WheelPulleys, func(a, b *catalog.Pulley) float64 {
					return distance(float64(a.Teeth), float64(b.Teeth)) + changed(a.Profile.ID != b.Profile.ID, !alike(a.Width, b.Width), !takes(b.Hubs, a.Hubs))
				})
				part.Part = asBought(&w.like.Part)
				out = append(out, w)
			}
		}
	}
	return out
}

func wishedMounts(p *constraints.Problem) []wish[catalog.Mount] {
	const micron = 1e-6
	room := func(m *catalog.Mount) float64 { return math.Round((m.CentreMax - m.CentreMin) / micron) }
	middle := func(m *catalog.Mount) float64 { return (m.CentreMin + m.CentreMax) / 2 }
	same := func(a, b *catalog.Mount) bool { return room(a) == room(b) && a.Idler == b.Idler }
	var out []wish[catalog.Mount]
	for _, model := range distinct(p.Mounts, same) {
		for least := leastCentre; least <= mostCentre; least += centreStep {
			part := &catalog.Mount{CentreMin: float64(least) * mm, Idler: model.Idler}
			part.CentreMax = part.CentreMin + room(model)*micron
			w := nearest(part, p.Mounts, func(a, b *catalog.Mount) float64 {
				return distance(middle(a), middle(b)) + changed(room(a) != room(b), a.Idler != b.Idler)
			})
			part.Part = asBought(&w.like.Part)
			out = append(out, w)
		}
	}
	return out
}

func wishedBelts(p *constraints.Problem) []wish[catalog.Belt] {
	same := func(a, b *catalog.Belt) bool {
		return a.Profile.ID == b.Profile.ID && alike(a.Width, b.Width) && alike(a.Breaking, b.Breaking)
	}
	var out []wish[catalog.Belt]
	for _, model := range distinct(p.Belts, same) {
		least, most := math.MaxInt, 0
		for _, b := range p.Belts {
			if b.Profile.ID == model.Profile.ID {
				least, most = min(least, b.Teeth), max(most, b.Teeth)
			}
		}
		for teeth := (least + 1) / 2; teeth <= 2*most; teeth++ {
			part := &catalog.Belt{Profile: model.Profile, Width: model.Width, Breaking: model.Breaking, Teeth: teeth}
			if !part.Closes() {
				continue
			}
			w := nearest(part, p.Belts, func(a, b *catalog.Belt) float64 {
				return distance(float64(a.Teeth), float64(b.Teeth)) + changed(a.Profile.ID != b.Profile.ID, !alike(a.Width, b.Width), !alike(a.Breaking, b.Breaking))
			})
			part.Part = asBought(&w.like.Part)
			out = append(out, w)
		}
	}
	return out
}

func wishedWheels(p *constraints.Problem) []wish[catalog.Wheel] {
	series := func(a, b *catalog.Wheel) bool {
		return slices.Equal(a.Hubs, b.Hubs) && a.Tyre == b.Tyre && alike(a.Width, b.Width) &&
			alike(a.RollingResistance, b.RollingResistance) && alike(a.RollingRatio, b.RollingRatio)
	}
	var all []*catalog.Wheel
	for _, w := range p.Wheels {
		all = append(all, w.Wheel)
	}
	var out []wish[catalog.Wheel]
	for _, first := range distinct(all, series) {
		sizes := slices.DeleteFunc(slices.Clone(all), func(w *catalog.Wheel) bool { return !series(w, first) })
		for d := leastDiameter; d <= mostDiameter; d += wheelSteps {
			w := nearest(&catalog.Wheel{Diameter: float64(d) * mm}, sizes, func(a, b *catalog.Wheel) float64 { return distance(a.Diameter, b.Diameter) })
			part := *w.like
			part.Part = asBought(&w.like.Part)
			part.Diameter = float64(d) * mm
			w.part = &part
			out = append(out, w)
		}
	}
	return out
}
