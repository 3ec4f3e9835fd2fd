package outfit

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Demanded lists the keys of accessories on which needs make demands. A part without
// such a key is passed over, since a part is chosen only where it is known to meet
// every demand.
func Demanded() []constraints.Need {
	var out []constraints.Need
	demands := func(kind string, keys ...string) {
		for _, key := range keys {
			out = append(out, constraints.Need{Kind: kind, Key: key})
		}
	}
	demands("bms", "charge_a", "cell_full_v")
	demands("switch", "max_volts", "continuous_a", "precharge")
	demands("fuse", "max_volts_dc", "breaking_a")
	demands("connector", "poles", "continuous_a", "max_volts")
	// The wire that a plug takes is given in either of two units.
	out = append(out, constraints.Need{Kind: "connector", Key: "wire_max_mm2", Of: func(s *constraints.Stock, p *catalog.Part) bool {
		c, ok := catalog.ByID(s.Connectors, p.ID)
		return ok && math.IsNaN(c.WireMax)
	}})
	demands("wire", "insulation_c", "max_volts")
	demands("remote", "failsafe")
	return out
}

// demandedOf are those of one kind.
func demandedOf(kind string) []constraints.Need {
	return slices.DeleteFunc(Demanded(), func(n constraints.Need) bool { return n.Kind != kind })
}

// chargeNeeds is the charge limit of the pack, its own or its cells'.
func chargeNeeds() []constraints.Need {
	return packNeeds("charge_a", func(b *catalog.Battery) float64 { return b.Charge })
}

// dischargeNeeds is its discharge limit, likewise.
func dischargeNeeds() []constraints.Need {
	return packNeeds("discharge_a", func(b *catalog.Battery) float64 { return b.Discharge })
}

func packNeeds(key string, own func(*catalog.Battery) float64) []constraints.Need {
	return []constraints.Need{
		{Kind: "cell", Key: key, Of: constraints.GoesByCell(own)},
		{Kind: "battery", Key: key, Of: constraints.WithoutCell},
	}
}
