package audit

import (
	"cmp"
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/drive/pack"
)

// leftovers finds cells and profiles that nothing is made of, and accessories
// that suit no pack.
func (s *idleSearch) leftovers() {
	packs := s.batteries.live()
	for _, c := range s.Cells {
		if !slices.ContainsFunc(s.Batteries, func(b *catalog.Battery) bool { return b.Cell == c }) {
			s.note(finding{code: CellUnused, kind: "cell", id: c.ID})
		} else if !slices.ContainsFunc(packs, func(b *catalog.Battery) bool { return b.Cell == c }) {
			s.note(finding{code: CellInIdle, kind: "cell", id: c.ID, follows: true})
		}
	}
	for _, p := range s.Profiles {
		if !slices.ContainsFunc(s.Pulleys, func(x *catalog.Pulley) bool { return x.Profile == p }) {
			s.note(finding{code: ProfileUnused, kind: "profile", id: p.ID})
		}
	}
	if len(packs) > 0 {
		s.accessories(packs)
	}
}

// demands are what packs demand of a value, each demand once.
type demands []outfit.Demand

func demandsOf(packs []*catalog.Battery, of func(*catalog.Battery) outfit.Demand) demands {
	var out demands
	type bounds struct{ least, most float64 }
	seen := map[bounds]bool{}
	for _, b := range packs {
		d := of(b)
		if at := (bounds{d.Least, d.Most}); !seen[at] {
			seen[at] = true
			out = append(out, d)
		}
	}
	return out
}

// suited reports whether a value may meet one of the demands.
func (d demands) suited(value float64) bool {
	return slices.ContainsFunc(d, func(d outfit.Demand) bool { return d.Verdict(value) != constraints.Fail })
}

// accessories finds those that suit none of the packs.
func (s *idleSearch) accessories(packs []*catalog.Battery) {
	series, ends := demandsOf(packs, outfit.SeriesDemand), demandsOf(packs, outfit.EndsDemand)
	lowest := slices.MinFunc(packs, func(a, b *catalog.Battery) int { return cmp.Compare(a.FullVolts(), b.FullVolts()) })
	bears := func(kind string, p *catalog.Part, key string, most float64) {
		if outfit.VoltsDemand(lowest, key).Verdict(most) == constraints.Fail {
			s.note(finding{code: BelowBatteries, kind: kind, id: p.ID, key: key, quantities: []Quantity{plain(most)}})
		}
	}
	for _, x := range s.BMSs {
		if !series.suited(x.Series) {
			s.note(finding{code: NoSuchSeries, kind: "bms", id: x.ID, key: "series", quantities: []Quantity{plain(x.Series)}})
		}
	}
	for _, x := range s.Switches {
		bears("switch", &x.Part, "max_volts", x.MaxVolts)
	}
	for _, x := range s.Fuses {
		bears("fuse", &x.Part, "max_volts_dc", x.MaxVoltsDC)
	}
	for _, x := range s.Connectors {
		bears("connector", &x.Part, "max_volts", x.MaxVolts)
	}
	for _, x := range s.Wires {
		bears("wire", &x.Part, "max_volts", x.MaxVolts)
	}
	for _, x := range s.Chargers {
		if !ends.suited(x.Full) {
			s.note(finding{code: NoSuchFull, kind: "charger", id: x.ID, key: "full_v", quantities: []Quantity{plain(x.Full)}})
		}
	}
	s.boxes(packs)
}

// boxes finds those that have less room than the cells of any pack take by
// themselves, however they are laid.
func (s *idleSearch) boxes(packs []*catalog.Battery) {
	least := math.Inf(1) // m³
	for _, b := range packs {
		if b.Cell == nil || math.IsNaN(b.Cell.Diameter) || math.IsNaN(b.Cell.Length) {
			return // nothing is known of a pack
		}
		least = math.Min(least, float64(b.Cells())*cylinder(b.Cell.Diameter, b.Cell.Length))
	}
	for _, x := range s.Boxes {
		if room := (pack.Box{Length: x.Length, Width: x.Width, Height: x.Height}).Volume(); least > room {
			s.note(finding{code: BoxTooSmall, kind: "box", id: x.ID, quantities: []Quantity{workedOut(room, perMilli)}})
		}
	}
}

// cylinder is the volume in m³ of one of a diameter and a length in m.
func cylinder(diameter, length float64) float64 { return math.Pi / 4 * diameter * diameter * length }
