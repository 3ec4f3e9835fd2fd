package catalog

import (
	"math"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// perSquareMilli is mm² in a m².
const perSquareMilli = 1e6

// area is the cross-section of a conductor: from 40 AWG, thinner than any
// signal wire, to welding cable.
func area[T any](key, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Unit: "mm²", Per: perSquareMilli, Min: 0.004, Max: 200, Meaning: meaning, Number: at}
}

// gauge is an American wire gauge, from 4/0 on.
func gauge[T any](key, meaning string, at number[T]) field.Field[T] {
	return whole(key, -3, 40, "", meaning, at)
}

func yesOrNo[T any](key, meaning string, at func(*T) **bool) field.Field[T] {
	return field.Field[T]{Key: key, Meaning: meaning, Flag: at}
}

func bmsFields() []field.Field[BMS] {
	return []field.Field[BMS]{
		required(also(as(&unit.Series, whole("series", 1, 60, "", "cells in series of the pack it is for", func(b *BMS) *float64 { return &b.Series })), "s", "cells")),
		current("charge_a", 1000, "highest charge current", func(b *BMS) *float64 { return &b.Charge }),
		or(current("discharge_a", 5000, "discharge current borne for long", func(b *BMS) *float64 { return &b.Discharge }), "it does not carry the discharge"),
		current("peak_discharge_a", 10_000, "discharge current borne for seconds", func(b *BMS) *float64 { return &b.PeakDischarge }),
		volts("cell_full_v", lowCell, highCell, "cell voltage at which it stops the charge", func(b *BMS) *float64 { return &b.CellFull }),
		volts("cell_cutoff_v", lowCell, highCell, "cell voltage at which it stops the discharge", func(b *BMS) *float64 { return &b.CellCutoff }),
		{Key: "balance", Words: []string{"passive", "active", "none"}, Meaning: "how it evens the cells out", Text: func(b *BMS) *string { return &b.Balance }},
		{Key: "balance_ma", Unit: "mA", Per: perMilli, Min: 0, Above: true, Max: 20_000, Meaning: "current it does that with", Number: func(b *BMS) *float64 { return &b.BalanceCurrent }},
	}
}

func switchFields() []field.Field[Switch] {
	return []field.Field[Switch]{
		volts("max_volts", 2, 1000, "of the full pack, DC", func(s *Switch) *float64 { return &s.MaxVolts }),
		current("continuous_a", 5000, "current borne for long", func(s *Switch) *float64 { return &s.Continuous }),
		current("peak_a", 10_000, "current borne for seconds", func(s *Switch) *float64 { return &s.Peak }),
		yesOrNo("precharge", "true: it fills the controllers' capacitors through a resistor before it closes", func(s *Switch) **bool { return &s.Precharge }),
	}
}

func fuseFields() []field.Field[Fuse] {
	return []field.Field[Fuse]{
		required(current("rated_a", 5000, "current it is rated for", func(f *Fuse) *float64 { return &f.Rated })),
		volts("max_volts_dc", 2, 2000, "direct voltage at which it still breaks; less than the alternating one", func(f *Fuse) *float64 { return &f.MaxVoltsDC }),
		current("breaking_a", 500_000, "highest current it breaks at that voltage", func(f *Fuse) *float64 { return &f.Breaking }),
	}
}

func connectorFields() []field.Field[Connector] {
	return []field.Field[Connector]{
		whole("poles", 1, 12, "", "contacts of one plug: 2 for a pack, 1 or 3 for a motor's phases", func(c *Connector) *float64 { return &c.Poles }),
		current("continuous_a", 5000, "current borne for long", func(c *Connector) *float64 { return &c.Continuous }),
		current("peak_a", 10_000, "current borne for seconds", func(c *Connector) *float64 { return &c.Peak }),
		volts("max_volts", 2, 1000, "of the full pack, DC", func(c *Connector) *float64 { return &c.MaxVolts }),
		gauge("wire_max_awg", "largest wire it takes, American wire gauge", func(c *Connector) *float64 { return &c.WireMaxAWG }),
		area("wire_max_mm2", "the same as the area of the copper, in place of wire_max_awg", func(c *Connector) *float64 { return &c.WireMax }),
	}
}

// writtenConnector is the connector as it was written: without the area that
// followed from a gauge.
func writtenConnector(c *Connector) *Connector {
	w := *c
	if !math.IsNaN(w.WireMaxAWG) {
		w.WireMax = math.NaN()
	}
	return &w
}

func wireFields() []field.Field[Wire] {
	return []field.Field[Wire]{
		gauge("awg", "American wire gauge; 0 is 1/0, -1 is 2/0", func(w *Wire) *float64 { return &w.AWG }),
		area("area_mm2", "area of the copper, in place of awg", func(w *Wire) *float64 { return &w.Area }),
		{Key: "insulation_c", Unit: "°C", Min: 40, Max: 400, Meaning: "temperature that the insulation bears", Number: func(w *Wire) *float64 { return &w.Insulation }},
		volts("max_volts", 2, 20_000, "that the insulation bears", func(w *Wire) *float64 { return &w.MaxVolts }),
	}
}

// writtenWire is the wire as it was written: without the area that followed
// from the gauge.
func writtenWire(w *Wire) *Wire {
	c := *w
	if !math.IsNaN(c.AWG) {
		c.Area = math.NaN()
	}
	return &c
}

func chargerFields() []field.Field[Charger] {
	return []field.Field[Charger]{
		required(volts("full_v", 1, 300, "voltage at the end of the charge, that of the full pack", func(c *Charger) *float64 { return &c.Full })),
		required(current("current_a", 500, "charge current", func(c *Charger) *float64 { return &c.Current })),
	}
}

func remoteFields() []field.Field[Remote] {
	return []field.Field[Remote]{
		yesOrNo("telemetry", "true: it shows what the controllers report, such as the charge left", func(r *Remote) **bool { return &r.Telemetry }),
		yesOrNo("failsafe", "true: the motors let go when its signal is lost", func(r *Remote) **bool { return &r.Failsafe }),
	}
}

func boxFields() []field.Field[Box] {
	return []field.Field[Box]{
		required(length("length_mm", 10, 2000, "inside length", func(b *Box) *float64 { return &b.Length })),
		required(length("width_mm", 10, 1000, "inside width", func(b *Box) *float64 { return &b.Width })),
		required(length("height_mm", 5, 500, "inside height", func(b *Box) *float64 { return &b.Height })),
	}
}
