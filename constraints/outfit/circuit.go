package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// circuit is a stretch of wires with the plugs at its ends and, of the pack's leads,
// the fuse before them.
type circuit struct {
	wire, plugs *Need
	fuse        *Need // nil where there is none

	unmet int     // needs without a part
	price float64 // of the parts chosen
}

// unpriced stands for a price that is not known: such parts come last.
const unpriced = 1e9

// circuit chooses wire, plugs and fuse together, since each bounds the other: a plug
// must take the wire, and the wire bear what the fuse lets through. Of all wires that
// will do it takes the one with which most plugs and fuses are found, then the
// cheapest set, then the lower id.
func (m *maker) circuit(use wiring) circuit {
	var best circuit
	found := false
	asks := m.wireAsks(use, m.leastFuse(), math.NaN())
	for _, w := range m.catalog.Wires {
		if _, ok := judge(w, asks); !ok {
			continue
		}
		c := m.ends(use, w.Area, m.hot(w))
		c.price += orElse(w.Cost(use.metres()), unpriced)
		if !found || c.unmet < best.unmet || c.unmet == best.unmet && c.price < best.price {
			best, found = c, true
		}
	}
	if !found {
		best = m.withoutWire(use)
	}
	cup := math.NaN()
	if best.plugs.Part != nil {
		p, _ := catalog.ByID(m.catalog.Connectors, best.plugs.Part.ID)
		cup = p.WireMax
	}
	best.wire = m.wire(use, m.holds(best.fuse), cup)
	return best
}

// holds is the rating in A of the fuse, which the leads must bear: that of the chosen
// fuse, else the smallest that may be bought.
func (m *maker) holds(fuse *Need) float64 {
	if fuse == nil || fuse.Part == nil {
		return m.leastFuse()
	}
	f, _ := catalog.ByID(m.catalog.Fuses, fuse.Part.ID)
	return f.Rated
}

// ends are the plugs and the fuse for a wire of so much copper that bears a current.
func (m *maker) ends(use wiring, area float64, leads Current) circuit {
	c := circuit{plugs: m.plugs(use, area)}
	needs := []*Need{c.plugs}
	if use.fused {
		c.fuse = m.fuse(leads)
		needs = append(needs, c.fuse)
	}
	for _, n := range needs {
		if n.Part == nil {
			c.unmet++
		} else {
			c.price += orElse(n.Price(), unpriced)
		}
	}
	return c
}

// withoutWire are those where none of the catalog's wires will do: the fuse for the
// pack, and the plugs for the wire to buy, which bears that fuse.
func (m *maker) withoutWire(use wiring) circuit {
	free := Current{Amps: math.NaN()}
	fuse := m.fuse(free)
	gauge, ok := m.gauge(use, m.holds(fuse))
	if !ok {
		return m.ends(use, math.NaN(), free)
	}
	w := drive.GaugeWire(gauge)
	return m.ends(use, w.Area, m.borne(w, m.wishes.WireHottest))
}
