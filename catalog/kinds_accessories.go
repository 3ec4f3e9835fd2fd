package catalog

import "gearsearch/catalog/field"

// accessories is the kinds of parts that a board needs around its drivetrain.
func accessories() []kind {
	return []kind{
		&kindOf[BMS]{
			meaning: "one battery protection board", accessory: true, lot: 1,
			part:   func(b *BMS) *Part { return &b.Part },
			table:  field.NewTable("bms", partFields(func(b *BMS) *Part { return &b.Part }, "1"), bmsFields()),
			list:   func(c *Catalog) *[]*BMS { return &c.BMSs },
			suffix: numbered("series", "s", func(b *BMS) float64 { return b.Series }),
			finish: finishBMS,
			needs:  []Needed{{"peak_discharge_a", "discharge_a"}},
		},
		&kindOf[Switch]{
			meaning: "one main switch for the pack", accessory: true, lot: 1,
			part:  func(s *Switch) *Part { return &s.Part },
			table: field.NewTable("switch", partFields(func(s *Switch) *Part { return &s.Part }, "1"), switchFields()),
			list:  func(c *Catalog) *[]*Switch { return &c.Switches },
		},
		&kindOf[Fuse]{
			meaning: "one fuse for the pack's main lead", accessory: true, lot: 1,
			part:   func(f *Fuse) *Part { return &f.Part },
			table:  field.NewTable("fuse", partFields(func(f *Fuse) *Part { return &f.Part }, "1"), fuseFields()),
			list:   func(c *Catalog) *[]*Fuse { return &c.Fuses },
			suffix: numbered("rated_a", "a", func(f *Fuse) float64 { return f.Rated }),
			finish: finishFuse,
		},
		&kindOf[Connector]{
			meaning: "one pair of mating plugs", accessory: true, lot: 1,
			part:    func(c *Connector) *Part { return &c.Part },
			table:   field.NewTable("connector", partFields(func(c *Connector) *Part { return &c.Part }, "1"), connectorFields()),
			list:    func(c *Catalog) *[]*Connector { return &c.Connectors },
			written: writtenConnector,
			finish:  finishConnector,
			choice:  []Group{{}, {Keys: []string{"wire_max_awg"}}, {Keys: []string{"wire_max_mm2"}}},
		},
		&kindOf[Wire]{
			meaning: "one metre of one copper conductor", accessory: true, lot: 1,
			part:    func(w *Wire) *Part { return &w.Part },
			table:   field.NewTable("wire", partFields(func(w *Wire) *Part { return &w.Part }, "1"), wireFields()),
			list:    func(c *Catalog) *[]*Wire { return &c.Wires },
			written: writtenWire,
			suffix:  wireSuffix(),
			finish:  finishWire,
			choice:  []Group{{Keys: []string{"awg"}}, {Keys: []string{"area_mm2"}}},
		},
		&kindOf[Charger]{
			meaning: "one charger", accessory: true, lot: 1,
			part:   func(c *Charger) *Part { return &c.Part },
			table:  field.NewTable("charger", partFields(func(c *Charger) *Part { return &c.Part }, "1"), chargerFields()),
			list:   func(c *Catalog) *[]*Charger { return &c.Chargers },
			suffix: numbered("full_v", "v", func(c *Charger) float64 { return c.Full }),
		},
		&kindOf[Remote]{
			meaning: "one hand-held remote with its receiver", accessory: true, lot: 1,
			part:  func(r *Remote) *Part { return &r.Part },
			table: field.NewTable("remote", partFields(func(r *Remote) *Part { return &r.Part }, "1"), remoteFields()),
			list:  func(c *Catalog) *[]*Remote { return &c.Remotes },
		},
		&kindOf[Box]{
			meaning: "one box for the pack, by the room inside", accessory: true, lot: 1,
			part:  func(b *Box) *Part { return &b.Part },
			table: field.NewTable("box", partFields(func(b *Box) *Part { return &b.Part }, "1"), boxFields()),
			list:  func(c *Catalog) *[]*Box { return &c.Boxes },
		},
	}
}

// wireSuffix is the suffix of wires, such as 10awg or 4mm2.
func wireSuffix() suffix[Wire] {
	gauge := numbered("awg", "awg", func(w *Wire) float64 { return w.AWG })
	area := numbered("area_mm2", "mm2", func(w *Wire) float64 { return w.Area * perSquareMilli })
	return suffix[Wire]{gauge.shown + " or " + area.shown, func(f *field.Family[Wire], w *Wire) string {
		if s := gauge.of(f, w); s != "" {
			return s
		}
		return area.of(f, w)
	}}
}
