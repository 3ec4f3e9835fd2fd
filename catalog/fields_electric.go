package catalog

import "gearsearch/catalog/field"

func motorFields() []field.Field[Motor] {
	return []field.Field[Motor]{
		{Key: "kv", Required: true, Unit: "rpm/V", Min: 5, Max: 10_000, Meaning: "speed constant, from the line-to-line peak EMF", Number: func(m *Motor) *float64 { return &m.KV }},
		whole("pole_pairs", 1, 60, field.FormatNumber(AssumedPolePairs)+" assumed", "pairs of magnet poles", func(m *Motor) *float64 { return &m.PolePairs }),
		milliohms("resistance_mohm", 0.1, 5000, "phase to phase, at 20 °C", func(m *Motor) *float64 { return &m.Resistance }),
		{Key: "no_load_current_a", Unit: "A", Min: 0, Max: 100, Meaning: "at no load, DC", Number: func(m *Motor) *float64 { return &m.NoLoadCurrent }},
		current("peak_current_a", 2000, "for seconds, as the controller sets it", func(m *Motor) *float64 { return &m.PeakCurrent }),
		current("continuous_current_a", 2000, "borne for long, as the controller sets it", func(m *Motor) *float64 { return &m.ContinuousCurrent }),
		{Key: "max_power_w", Unit: "W", Min: 10, Max: 200_000, Meaning: "electrical", Number: func(m *Motor) *float64 { return &m.MaxPower }},
		volts("max_volts", 2, 1000, "of the full pack", func(m *Motor) *float64 { return &m.MaxVolts }),
		length("shaft_mm", 1, 60, "shaft diameter", func(m *Motor) *float64 { return &m.Shaft }),
		shaftKey("what the shaft carries", func(m *Motor) *ShaftKey { return &m.ShaftKey }),
		length("can_diameter_mm", 5, 500, "outside diameter of the can", func(m *Motor) *float64 { return &m.CanDiameter }),
		length("can_length_mm", 5, 500, "length of the can, for the room on the hanger", func(m *Motor) *float64 { return &m.CanLength }),
		{Key: "sensored", Meaning: "true: it has rotor position sensors", Flag: func(m *Motor) **bool { return &m.Sensored }},
	}
}

func controllerFields() []field.Field[Controller] {
	return []field.Field[Controller]{
		{Key: "erpm_ceiling", Unit: "rpm", Min: 1000, Max: 2_000_000, Meaning: "highest electrical rpm", Number: func(c *Controller) *float64 { return &c.ERPMCeiling }},
		volts("max_volts", 2, 1000, "of the full pack", func(c *Controller) *float64 { return &c.MaxVolts }),
		current("motor_current_a", 2000, "motor side, per channel", func(c *Controller) *float64 { return &c.MotorCurrent }),
		current("battery_current_a", 2000, "pack side, per channel", func(c *Controller) *float64 { return &c.BatteryCurrent }),
		current("continuous_current_a", 2000, "motor current borne for long, per channel", func(c *Controller) *float64 { return &c.ContinuousCurrent }),
		whole("channels", 1, 4, "1", "motors that one controller drives", func(c *Controller) *float64 { return &c.Channels }),
		share("max_duty", field.FormatNumber(AssumedMaxDuty), "highest duty cycle", func(c *Controller) *float64 { return &c.MaxDuty }),
		share("efficiency", field.FormatNumber(AssumedControllerEfficiency), "motor power over pack power", func(c *Controller) *float64 { return &c.Efficiency }),
		{
			Key: "commutation", Words: []string{"foc", "six-step"}, Default: "foc",
			Meaning: "foc: motor currents are phase amplitudes; six-step: DC-equivalent",
			Text:    func(c *Controller) *string { return &c.Commutation },
		},
	}
}

// The voltage of one cell of any chemistry, V.
const lowCell, highCell = 0.5, 5

func cellFields() []field.Field[Cell] {
	return []field.Field[Cell]{
		required(volts("nominal_v", lowCell, highCell, "nominal voltage", func(c *Cell) *float64 { return &c.Nominal })),
		required(volts("full_v", lowCell, highCell, "voltage when full", func(c *Cell) *float64 { return &c.Full })),
		required(volts("cutoff_v", lowCell, highCell, "voltage when empty", func(c *Cell) *float64 { return &c.Cutoff })),
		required(capacity(func(c *Cell) *float64 { return &c.Capacity })),
		milliohms("resistance_mohm", 0, 1000, "internal resistance, DC", func(c *Cell) *float64 { return &c.Resistance }),
		current("discharge_a", 2000, "highest discharge current", func(c *Cell) *float64 { return &c.Discharge }),
		current("charge_a", 1000, "highest charge current", func(c *Cell) *float64 { return &c.Charge }),
		chemistry(func(c *Cell) *Chemistry { return &c.Chemistry }, "what it is made of"),
		length("diameter_mm", 2, 200, "diameter", func(c *Cell) *float64 { return &c.Diameter }),
		length("length_mm", 2, 500, "length", func(c *Cell) *float64 { return &c.Length }),
	}
}

// chemistry is the key of that name; case does not matter.
func chemistry[T any](at func(*T) *Chemistry, meaning string) field.Field[T] {
	return field.Field[T]{
		Key: "chemistry", Words: chemistries()[1:], Fold: true, Default: AssumedChemistry.String() + " assumed", Meaning: meaning,
		Set: func(t *T, word string) { *at(t) = wordIndex[Chemistry](chemistries(), word) },
		Get: func(t *T) string { return at(t).String() },
	}
}

func capacity[T any](at number[T]) field.Field[T] {
	return field.Field[T]{Key: "capacity_ah", Unit: "Ah", Min: 0.05, Max: 500, Meaning: "charge when full", Number: at}
}

func batteryFields() []field.Field[Battery] {
	return []field.Field[Battery]{
		required(whole("series", 1, 60, "", "cells in series", func(b *Battery) *float64 { return &b.Series })),
		whole("parallel", 1, 200, "1", "cells side by side", func(b *Battery) *float64 { return &b.Parallel }),
		{
			Key: "cell", ID: true, Default: "none: then nominal_v and full_v are given", Meaning: "id of the cell it is made of",
			// A placeholder stands for the cell until references are resolved.
			Set: func(b *Battery, id string) { b.Cell = &Cell{Part: Part{ID: id}} },
			Get: func(b *Battery) string {
				if b.Cell == nil {
					return ""
				}
				return b.Cell.ID
			},
		},
		or(volts("nominal_v", 1, 300, "nominal voltage of a pack without a cell", func(b *Battery) *float64 { return &b.Nominal }), "the cells'"),
		or(volts("full_v", 1, 300, "voltage of such a pack when full", func(b *Battery) *float64 { return &b.Full }), "the cells'"),
		or(volts("cutoff_v", 0.5, 300, "voltage of such a pack when empty", func(b *Battery) *float64 { return &b.Cutoff }), "the cells'"),
		or(capacity(func(b *Battery) *float64 { return &b.Capacity }), "the cells'"),
		or(milliohms("resistance_mohm", 0, 5000, "of the pack without wiring", func(b *Battery) *float64 { return &b.Resistance }), "the cells'"),
		or(current("discharge_a", 5000, "highest discharge current", func(b *Battery) *float64 { return &b.Discharge }), "the cells'"),
		or(current("charge_a", 1000, "highest charge current", func(b *Battery) *float64 { return &b.Charge }), "the cells'"),
		or(milliohms("wiring_mohm", 0, 1000, "of wires and plugs, added", func(b *Battery) *float64 { return &b.Wiring }), "0"),
		{Key: "overhead_pct", Unit: "%", Per: perPercent, Min: 0, Max: 100, Default: field.FormatNumber(AssumedOverhead * perPercent), Meaning: "what the pack weighs beyond its cells", Number: func(b *Battery) *float64 { return &b.Overhead }},
		or(chemistry(func(b *Battery) *Chemistry { return &b.Chemistry }, "of a pack without a cell"), ""),
	}
}
