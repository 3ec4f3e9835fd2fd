package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Making is a part that is made and not bought, with the figures to make it by.
type Making struct {
	Slot     string
	Called   string // what people call the slot: in a chain drive by other names
	Part     *catalog.Part
	Pieces   int
	How      string // a word of the key made
	Figures  []Dimension
	Cautions []Statement
}

// Dimension is one figure to make a part by.
type Dimension struct {
	Name  string // as of a key, with its unit at the end
	Unit  string
	Value float64 // in Unit; NaN: not known, where there is no Text either
	Text  string  // what is no number
}

// Makings lists the parts of a build that are made, in the order of its slots. What
// is there already is not made.
func Makings(b *constraints.Build) []Making {
	var out []Making
	for _, l := range b.Lines() {
		if m, ok := makingOf(b.Problem.Catalog, l.Slot.String(), l.Part, l.Pieces, madeOf(b, l)); ok {
			m.Called = l.Slot.Called(b.Drive.Chained())
			out = append(out, m)
		}
	}
	for i := range out {
		switch m := &out[i]; {
		case m.Part == &b.Battery.Battery.Part:
			m.Figures = packFigures(b)
			m.Cautions = []Statement{said(CellsNeverWithoutVolts), strips(b).Use, said(FuseAtPole)}
		case m.Part == turned(b, constraints.SlotMotorPulley), m.Part == turned(b, constraints.SlotWheelPulley):
			m.Figures = pulleyFigures(m.Part, b)
		}
	}
	return out
}

// Makings lists the parts of the build and around it that are made.
func (o *Outfit) Makings() []Making {
	out := Makings(o.Build)
	for _, n := range o.Needs {
		if n.Part == nil {
			continue
		}
		if m, ok := makingOf(o.Build.Problem.Catalog, n.Line().Slot, n.Part, n.Pieces, n.Part.Made); ok {
			out = append(out, m)
		}
	}
	return out
}

// madeOf is how a part of the build is made, "" where it is bought. A pack of cells
// without a price of its own costs its cells: it is built of them.
func madeOf(b *constraints.Build, l constraints.Line) string {
	if l.Slot == constraints.SlotBattery {
		return b.Battery.Battery.HowMade()
	}
	return l.Part.Made
}

// makingOf is how a part is made by the keys that it gives; ok is false where it is
// not.
func makingOf(c *catalog.Catalog, slot string, p *catalog.Part, pieces int, how string) (m Making, ok bool) {
	if how == "" || p.Owned {
		return m, false
	}
	m = Making{Slot: slot, Called: slot, Part: p, Pieces: pieces, How: how}
	kind, _, _ := c.Find(p.ID)
	for in, v := range c.Values(kind, p.ID) {
		if catalog.Shared(in.Key) {
			continue
		}
		d := Dimension{Name: in.Key, Unit: in.Unit, Value: math.NaN()}
		switch v := v.(type) {
		case float64:
			d.Value = v
		case int:
			d.Value = float64(v)
		case nil:
			if !demandedToMake(kind, in.Key) {
				continue
			}
		default:
			d.Text = catalog.CellText(v)
		}
		m.Figures = append(m.Figures, d)
	}
	if how == catalog.MadePrinted {
		m.Cautions = append(m.Cautions, said(PrintedGives))
	}
	return m, true
}

// demandedToMake reports whether a part of the kind cannot be made without the key.
func demandedToMake(kind, key string) bool {
	switch key {
	case "width_mm":
		return kind == "wheel"
	case "bore_mm", "hub":
		return kind == "gear_drive"
	}
	return false
}

// turned is the part of a slot, nil where the build has none.
func turned(b *constraints.Build, slot constraints.Slot) *catalog.Part {
	if b.Drive.Gear != nil {
		return nil
	}
	return b.Part(slot)
}

// pulleyFigures are those of a pulley or a sprocket of the build.
func pulleyFigures(part *catalog.Part, b *constraints.Build) []Dimension {
	p, pulley := catalog.ByID(b.Problem.Catalog.Pulleys, part.ID)
	if !pulley {
		p, _ = catalog.ByID(b.Problem.Catalog.Sprockets, part.ID)
	}
	profile := p.Profile.Profile
	out := []Dimension{
		{"profile", "", math.NaN(), p.Profile.ID},
		{"teeth", "", float64(p.Teeth), ""},
		millimetres("pitch_mm", profile.Pitch),
		millimetres("pitch_diameter_mm", profile.PitchDiameter(p.Teeth)),
		millimetres("outside_mm", profile.OutsideDiameter(p.Teeth)),
	}
	if pulley {
		out = append(out, millimetres("width_mm", p.Width))
	} else {
		out = append(out, millimetres("roller_mm", profile.Chain.Roller))
	}
	if p.Side == catalog.MotorSide || !math.IsNaN(p.Bore) {
		out = append(out, millimetres("bore_mm", p.Bore))
	}
	if key := p.ShaftKey.String(); key != "" {
		out = append(out, Dimension{"shaft_key", "", math.NaN(), key})
	}
	if p.Side == catalog.WheelSide || len(p.Hubs) > 0 {
		out = append(out, Dimension{"hub", "", math.NaN(), catalog.CellText(p.Hubs)})
	}
	return out
}

func millimetres(name string, metres float64) Dimension {
	return Dimension{name, "mm", metres * mm, ""}
}

// packFigures are those of the build's pack.
func packFigures(b *constraints.Build) []Dimension {
	pack := b.Battery.Battery
	out := []Dimension{
		{"series", "", pack.Series, ""},
		{"parallel", "", pack.Strings(), ""},
		{"cells", "", float64(pack.Cells()), ""},
	}
	if pack.Cell != nil {
		out = append(out, Dimension{"cell", "", math.NaN(), pack.Cell.ID})
	}
	return append(out,
		Dimension{"nominal_v", "V", pack.NominalVolts(), ""},
		Dimension{"full_v", "V", pack.FullVolts(), ""},
		Dimension{"cutoff_v", "V", pack.CutoffVolts(), ""},
		Dimension{"capacity_ah", "Ah", pack.CapacityAh(), ""},
		Dimension{"energy_wh", "Wh", float64(pack.CapacityAh() * pack.NominalVolts()), ""},
		Dimension{"discharge_a", "A", pack.DischargeLimit(), ""},
		Dimension{"charge_a", "A", pack.ChargeLimit(), ""},
	)
}

// built reports whether the build's pack is built of its cells.
func built(b *constraints.Build) bool {
	pack := b.Battery
	return pack.Cell != nil && !pack.Owned && pack.Battery.HowMade() != ""
}

// strips are what joins the cells of the build's pack.
func strips(b *constraints.Build) Tool {
	steady := currents(b).PackSteady
	t := Tool{Name: "strips", For: []string{b.Battery.ID}, Use: said(ToolStripsUnknown), Notes: steady.How, Source: sourceStrips}
	if amps := steady.Amps; steady.known() {
		nickel := amps / nickelDensity
		t.Notes = nil
		t.Use = said(ToolStrips, boundLeast(amps, "A"), shown(nickel, mm2, "mm²", constraints.ThreeUp), shown(nickel/copperOverNickel, mm2, "mm²", constraints.ThreeUp))
	}
	return t
}
