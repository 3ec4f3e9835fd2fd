package catalog

import "gearsearch/catalog/field"

// drivetrain is the kinds of parts that builds are made of.
func drivetrain() []kind {
	return []kind{
		&kindOf[Motor]{
			meaning: "one motor", lot: 1,
			part:   func(m *Motor) *Part { return &m.Part },
			table:  field.NewTable("motor", partFields(func(m *Motor) *Part { return &m.Part }, "1"), motorFields()),
			list:   func(c *Catalog) *[]*Motor { return &c.Motors },
			suffix: numbered("kv", "", func(m *Motor) float64 { return m.KV }),
		},
		&kindOf[Controller]{
			meaning: "one speed controller, of one channel or more", lot: 1,
			part:  func(c *Controller) *Part { return &c.Part },
			table: field.NewTable("controller", partFields(func(c *Controller) *Part { return &c.Part }, "1"), controllerFields()),
			list:  func(c *Catalog) *[]*Controller { return &c.Controllers },
		},
		&kindOf[Cell]{
			meaning: "one cell of a pack", lot: 1,
			part:   func(c *Cell) *Part { return &c.Part },
			table:  field.NewTable("cell", partFields(func(c *Cell) *Part { return &c.Part }, "1"), cellFields()),
			list:   func(c *Catalog) *[]*Cell { return &c.Cells },
			finish: finishCell,
		},
		&kindOf[Battery]{
			meaning: "one pack, of cells of the catalog or with voltages of its own", lot: 1,
			part:   func(b *Battery) *Part { return &b.Part },
			table:  field.NewTable("battery", partFields(func(b *Battery) *Part { return &b.Part }, "1"), batteryFields()),
			list:   func(c *Catalog) *[]*Battery { return &c.Batteries },
			suffix: packSuffix(),
			finish: finishBattery,
			choice: []Group{{Keys: []string{"cell"}}, {Keys: []string{"nominal_v", "full_v"}, May: []string{"cutoff_v"}}},
		},
		&kindOf[Pulley]{
			meaning: "one toothed pulley", lot: 1,
			part:   func(p *Pulley) *Part { return &p.Part },
			table:  field.NewTable(pulleyKind, partFields(func(p *Pulley) *Part { return &p.Part }, "1"), pulleyFields()),
			list:   func(c *Catalog) *[]*Pulley { return &c.Pulleys },
			suffix: numbered("teeth", "", func(p *Pulley) float64 { return float64(p.Teeth) }),
			finish: finishPulley,
		},
		&kindOf[Belt]{
			meaning: "one synchronous belt", lot: 1,
			part:   func(b *Belt) *Part { return &b.Part },
			table:  field.NewTable(beltKind, partFields(func(b *Belt) *Part { return &b.Part }, "1"), beltFields()),
			list:   func(c *Catalog) *[]*Belt { return &c.Belts },
			suffix: numbered("teeth", "", func(b *Belt) float64 { return float64(b.Teeth) }),
			finish: finishBelt,
		},
		&kindOf[Pulley]{
			meaning: "one sprocket of a chain", lot: 1, alternative: true,
			part:   func(p *Pulley) *Part { return &p.Part },
			table:  field.NewTable(sprocketKind, partFields(func(p *Pulley) *Part { return &p.Part }, "1"), sprocketFields()),
			list:   func(c *Catalog) *[]*Pulley { return &c.Sprockets },
			suffix: numbered("teeth", "", func(p *Pulley) float64 { return float64(p.Teeth) }),
			finish: finishSprocket,
		},
		&kindOf[Belt]{
			meaning: "one roller or bush chain, single, of a number of links", lot: 1, alternative: true,
			part:   func(b *Belt) *Part { return &b.Part },
			table:  field.NewTable(chainKind, partFields(func(b *Belt) *Part { return &b.Part }, "1"), chainFields()),
			list:   func(c *Catalog) *[]*Belt { return &c.Chains },
			suffix: numbered("links", "", func(b *Belt) float64 { return float64(b.Teeth) }),
			finish: finishChain,
		},
		&kindOf[Mount]{
			meaning: "one motor mount for a belt or chain drive", lot: 1,
			part:   func(m *Mount) *Part { return &m.Part },
			table:  field.NewTable("mount", partFields(func(m *Mount) *Part { return &m.Part }, "1"), mountFields()),
			list:   func(c *Catalog) *[]*Mount { return &c.Mounts },
			finish: finishMount,
		},
		&kindOf[GearDrive]{
			meaning: "one drive of fixed ratio: gears, a direct drive, a motor in the wheel", lot: 1,
			written: writtenGear,
			part:    func(g *GearDrive) *Part { return &g.Part },
			table:   field.NewTable("gear_drive", partFields(func(g *GearDrive) *Part { return &g.Part }, "1"), gearFields()),
			list:    func(c *Catalog) *[]*GearDrive { return &c.GearDrives },
			finish:  finishGear,
			choice:  []Group{{Keys: []string{"ratio"}}, {Keys: []string{"driver_teeth", "driven_teeth"}}},
		},
		&kindOf[Wheel]{
			meaning: "one wheel; a board has four", lot: 4,
			part:   func(w *Wheel) *Part { return &w.Part },
			table:  field.NewTable("wheel", partFields(func(w *Wheel) *Part { return &w.Part }, "4"), wheelFields()),
			list:   func(c *Catalog) *[]*Wheel { return &c.Wheels },
			suffix: numbered("diameter_mm", "", func(w *Wheel) float64 { return w.Diameter * perMilli }),
		},
		&kindOf[Profile]{
			meaning: "one tooth profile that is not built in", lot: 1,
			part:   func(p *Profile) *Part { return &p.Part },
			table:  field.NewTable("profile", partFields(func(p *Profile) *Part { return &p.Part }, "1"), profileFields()),
			list:   func(c *Catalog) *[]*Profile { return &c.Profiles },
			finish: finishProfile,
		},
	}
}
