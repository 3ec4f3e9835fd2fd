package catalog

import (
	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

func motorFields() []field.Field[Motor] {
	return []field.Field[Motor]{
		{Key: "kv", Also: []string{"kv_rating", "speed_constant", "rpm_per_volt"}, Required: true, Unit: "rpm/V", Min: 5, Max: 10_000, Meaning: "speed constant, from the line-to-line peak EMF", Number: func(m *Motor) *float64 { return &m.KV }},
		also(as(&unit.PolePairs, whole("pole_pairs", 1, 60, field.FormatNumber(AssumedPolePairs)+" assumed", "pairs of magnet poles", func(m *Motor) *float64 { return &m.PolePairs })), "poles", "magnets", "magnet_pairs", "pole_count", "pairs"),
		also(milliohms("resistance_mohm", 0.1, 5000, "phase to phase, at 20 °C", func(m *Motor) *float64 { return &m.Resistance }), "phase_resistance", "winding_resistance", "internal_resistance", "ri", "rm", "r"),
		{Key: "no_load_current_a", Also: []string{"idle_current", "i0", "io"}, Unit: "A", Min: 0, Max: 100, Meaning: "at no load, DC", Number: func(m *Motor) *float64 { return &m.NoLoadCurrent }},
		also(current("peak_current_a", 2000, "for seconds, as the controller sets it", func(m *Motor) *float64 { return &m.PeakCurrent }), "current", "amps", "max_current", "burst_current", "peak_amps", "max_amps"),
		also(current("continuous_current_a", 2000, "borne for long, as the controller sets it", func(m *Motor) *float64 { return &m.ContinuousCurrent }), "continuous", "continuous_amps", "rated_current"),
		{Key: "max_power_w", Also: []string{"power", "watts", "peak_power", "rated_power"}, Unit: "W", Min: 10, Max: 200_000, Meaning: "electrical", Number: func(m *Motor) *float64 { return &m.MaxPower }},
		also(volts("max_volts", 2, 1000, "of the full pack", func(m *Motor) *float64 { return &m.MaxVolts }), "voltage", "volts", "max_voltage", "rated_voltage"),
		also(length("shaft_mm", 1, 60, "shaft diameter", func(m *Motor) *float64 { return &m.Shaft }), "shaft", "shaft_diameter"),
		shaftKey("what the shaft carries", func(m *Motor) *ShaftKey { return &m.ShaftKey }),
		also(length("can_diameter_mm", 5, 500, "outside diameter of the can", func(m *Motor) *float64 { return &m.CanDiameter }), "can", "diameter", "can_size", "outside_diameter"),
		also(length("can_length_mm", 5, 500, "length of the can, for the room on the hanger", func(m *Motor) *float64 { return &m.CanLength }), "length"),
		{Key: "sensored", Also: []string{"sensors", "hall_sensors", "halls", "sensor"}, Meaning: "true: it has rotor position sensors", Flag: func(m *Motor) **bool { return &m.Sensored }},
	}
}

func controllerFields() []field.Field[Controller] {
	return []field.Field[Controller]{
		{Key: "erpm_ceiling", Also: []string{"erpm", "max_erpm", "erpm_limit", "erpm_max"}, Unit: "rpm", Min: 1000, Max: 2_000_000, Meaning: "highest electrical rpm", Number: func(c *Controller) *float64 { return &c.ERPMCeiling }},
		also(volts("max_volts", 2, 1000, "of the full pack", func(c *Controller) *float64 { return &c.MaxVolts }), "voltage", "volts", "max_voltage"),
		also(current("motor_current_a", 2000, "motor side, per channel", func(c *Controller) *float64 { return &c.MotorCurrent }), "current", "amps", "max_current", "phase_current", "motor_amps", "peak_current"),
		also(current("battery_current_a", 2000, "pack side, per channel", func(c *Controller) *float64 { return &c.BatteryCurrent }), "battery_amps", "input_current"),
		also(current("continuous_current_a", 2000, "motor current borne for long, per channel", func(c *Controller) *float64 { return &c.ContinuousCurrent }), "continuous", "continuous_amps"),
		also(whole("channels", 1, 4, "1", "motors that one controller drives", func(c *Controller) *float64 { return &c.Channels }), "motors"),
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
		required(also(volts("nominal_v", lowCell, highCell, "nominal voltage", func(c *Cell) *float64 { return &c.Nominal }), "voltage", "volts", "nominal_voltage")),
		required(also(volts("full_v", lowCell, highCell, "voltage when full", func(c *Cell) *float64 { return &c.Full }), "max_v", "full_voltage", "max_voltage", "charge_voltage")),
		required(also(volts("cutoff_v", lowCell, highCell, "voltage when empty", func(c *Cell) *float64 { return &c.Cutoff }), "min_v", "cutoff_voltage", "cutoff", "empty_v", "min_voltage")),
		required(capacity(func(c *Cell) *float64 { return &c.Capacity })),
		also(milliohms("resistance_mohm", 0, 1000, "internal resistance, DC", func(c *Cell) *float64 { return &c.Resistance }), "internal_resistance", "dcir", "ri", "ir", "r"),
		also(current("discharge_a", 2000, "highest discharge current", func(c *Cell) *float64 { return &c.Discharge }), "current", "amps", "max_current", "continuous_current", "discharge_current"),
		charging(func(c *Cell) *float64 { return &c.Charge }),
		chemistry(func(c *Cell) *Chemistry { return &c.Chemistry }, "what it is made of"),
		also(length("diameter_mm", 2, 200, "diameter", func(c *Cell) *float64 { return &c.Diameter }), "width"),
		length("length_mm", 2, 500, "length", func(c *Cell) *float64 { return &c.Length }),
	}
}

// otherChemistries are what people and data sheets write, with the word for it.
func otherChemistries() map[string]string {
	return map[string]string{
		"nmc": "li-ion", "nca": "li-ion", "nmca": "li-ion", "lithium-ion": "li-ion", "lithium ion": "li-ion",
		"lipo": "li-po", "lihv": "li-po", "polymer": "li-po", "lithium polymer": "li-po", "lithium-polymer": "li-po",
		"lifepo4": "lfp", "life": "lfp", "lifepo": "lfp", "iron phosphate": "lfp", "lithium iron phosphate": "lfp",
	}
}

// chemistry is the key of that name; case does not matter.
func chemistry[T any](at func(*T) *Chemistry, meaning string) field.Field[T] {
	return field.Field[T]{
		Key: "chemistry", Words: chemistries()[1:], Fold: true, AlsoWords: otherChemistries(), Default: AssumedChemistry.String() + " assumed", Meaning: meaning,
		Set: func(t *T, word string) { *at(t) = wordIndex[Chemistry](chemistries(), word) },
		Get: func(t *T) string { return at(t).String() },
	}
}

// charging is the current that a cell or pack may be charged with; 0: none.
func charging[T any](at number[T]) field.Field[T] {
	return field.Field[T]{Key: "charge_a", Also: []string{"charge_current", "max_charge"}, Unit: "A", Min: 0, Max: 1000, Meaning: "highest charge current; 0: it takes none", Number: at}
}

func capacity[T any](at number[T]) field.Field[T] {
	return field.Field[T]{Key: "capacity_ah", Also: []string{"capacity", "ah", "amp_hours"}, Unit: "Ah", Min: 0.05, Max: 500, Meaning: "charge when full", Number: at}
}

func batteryFields() []field.Field[Battery] {
	return []field.Field[Battery]{
		required(also(as(&unit.Series, whole("series", 1, 60, "", "cells in series", func(b *Battery) *float64 { return &b.Series })), "s", "cells")),
		also(as(&unit.Parallel, whole("parallel", 1, 200, "1", "cells side by side", func(b *Battery) *float64 { return &b.Parallel })), "p"),
		{
			Key: "cell", ID: true, Default: "none: then nominal_v and full_v are given", Meaning: "id of the cell it is made of",
			// A placeholder stands for the cell until references are resolved.
			Set: func(b *Battery, id string) {
				if b.Cell = nil; id != "" {
					b.Cell = &Cell{Part: Part{ID: id}}
				}
			},
			Get: func(b *Battery) string {
				if b.Cell == nil {
					return ""
				}
				return b.Cell.ID
			},
		},
		or(also(volts("nominal_v", 1, 300, "nominal voltage of a pack without a cell", func(b *Battery) *float64 { return &b.Nominal }), "voltage", "volts", "nominal_voltage"), "the cells'"),
		or(also(volts("full_v", 1, 300, "voltage of such a pack when full", func(b *Battery) *float64 { return &b.Full }), "max_v", "full_voltage", "max_voltage", "charge_voltage"), "the cells'"),
		or(also(volts("cutoff_v", 0.5, 300, "voltage of such a pack when empty", func(b *Battery) *float64 { return &b.Cutoff }), "min_v", "cutoff_voltage", "cutoff", "empty_v", "min_voltage"), "the cells'"),
		or(capacity(func(b *Battery) *float64 { return &b.Capacity }), "the cells'"),
		or(also(milliohms("resistance_mohm", 0, 5000, "of the pack without wiring", func(b *Battery) *float64 { return &b.Resistance }), "internal_resistance", "pack_resistance", "ri", "ir", "r"), "the cells'"),
		or(also(current("discharge_a", 5000, "highest discharge current", func(b *Battery) *float64 { return &b.Discharge }), "current", "amps", "max_current", "continuous_current", "discharge_current"), "the cells'"),
		or(charging(func(b *Battery) *float64 { return &b.Charge }), "the cells'"),
		or(milliohms("wiring_mohm", 0, 1000, "of wires and plugs, added", func(b *Battery) *float64 { return &b.Wiring }), "0"),
		{Key: "overhead_pct", Unit: "%", Per: perPercent, Min: 0, Max: 100, Default: field.FormatNumber(AssumedOverhead * perPercent), Meaning: "what the pack weighs beyond its cells", Number: func(b *Battery) *float64 { return &b.Overhead }},
		or(chemistry(func(b *Battery) *Chemistry { return &b.Chemistry }, "of a pack without a cell"), ""),
	}
}
