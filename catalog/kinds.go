package catalog

import (
	"iter"
	"math"
	"slices"
	"strconv"

	"gearsearch/catalog/field"
)

// kind is one kind of parts, seen without its type.
type kind interface {
	info() KindInfo
	// read adds the parts that a section stands for.
	read(r *reader, s field.Section)
	// header judges the header row of a CSV file of this kind.
	header(r *reader, sheet *field.Sheet)
	// sort puts the parts in the order of their ids.
	sort(c *Catalog)
	count(c *Catalog) int
	parts(c *Catalog) iter.Seq[*Part]
	// values yields the keys of part i with its values.
	values(c *Catalog, i int) iter.Seq2[*field.Info, any]
}

// KindInfo describes a kind of parts: its name as a key of catalog files, what
// it is, and its keys.
type KindInfo struct {
	Name    string
	Meaning string
	Fields  []field.Info
}

// kindOf is a kind whose sections decode into a Row, which holds a T.
type kindOf[Row, T any] struct {
	meaning string
	table   *field.Table[Row]
	take    func(*Row) *T
	wrap    func(*T) *Row
	part    func(*T) *Part
	list    func(*Catalog) *[]*T
	// suffix is what a member's id grows in a family, "" for a running number.
	suffix func(f *field.Family[Row], member *T) string
	// finish checks one part, sets what follows from its keys, and notes its
	// references.
	finish func(r *reader, g field.Given, row *Row)
	lot    int // sold_in unless given
}

// same makes the accessors of a kind that decodes into its part type itself.
func same[T any](t *T) *T { return t }

// registry is every kind, in the order of the catalog format.
var registry = []kind{
	&kindOf[Motor, Motor]{
		meaning: "one motor", lot: 1, take: same[Motor], wrap: same[Motor],
		part:   func(m *Motor) *Part { return &m.Part },
		table:  field.NewTable("motor", partFields(func(m *Motor) *Part { return &m.Part }, "1"), motorFields()),
		list:   func(c *Catalog) *[]*Motor { return &c.Motors },
		suffix: numbered("kv", func(m *Motor) float64 { return m.KV }),
	},
	&kindOf[Controller, Controller]{
		meaning: "one speed controller, of one channel or more", lot: 1, take: same[Controller], wrap: same[Controller],
		part:  func(c *Controller) *Part { return &c.Part },
		table: field.NewTable("controller", partFields(func(c *Controller) *Part { return &c.Part }, "1"), controllerFields()),
		list:  func(c *Catalog) *[]*Controller { return &c.Controllers },
	},
	&kindOf[Cell, Cell]{
		meaning: "one cell of a pack", lot: 1, take: same[Cell], wrap: same[Cell],
		part:   func(c *Cell) *Part { return &c.Part },
		table:  field.NewTable("cell", partFields(func(c *Cell) *Part { return &c.Part }, "1"), cellFields()),
		list:   func(c *Catalog) *[]*Cell { return &c.Cells },
		finish: finishCell,
	},
	&kindOf[Battery, Battery]{
		meaning: "one pack, of cells of the catalog or with voltages of its own", lot: 1, take: same[Battery], wrap: same[Battery],
		part:   func(b *Battery) *Part { return &b.Part },
		table:  field.NewTable("battery", partFields(func(b *Battery) *Part { return &b.Part }, "1"), batteryFields()),
		list:   func(c *Catalog) *[]*Battery { return &c.Batteries },
		suffix: packSuffix,
		finish: finishBattery,
	},
	&kindOf[Pulley, Pulley]{
		meaning: "one toothed pulley", lot: 1, take: same[Pulley], wrap: same[Pulley],
		part:   func(p *Pulley) *Part { return &p.Part },
		table:  field.NewTable("pulley", partFields(func(p *Pulley) *Part { return &p.Part }, "1"), pulleyFields()),
		list:   func(c *Catalog) *[]*Pulley { return &c.Pulleys },
		suffix: numbered("teeth", func(p *Pulley) float64 { return float64(p.Teeth) }),
		finish: func(r *reader, g field.Given, p *Pulley) { r.wantProfile(g.Place("profile"), &p.Profile) },
	},
	&kindOf[Belt, Belt]{
		meaning: "one synchronous belt", lot: 1, take: same[Belt], wrap: same[Belt],
		part:   func(b *Belt) *Part { return &b.Part },
		table:  field.NewTable("belt", partFields(func(b *Belt) *Part { return &b.Part }, "1"), beltFields()),
		list:   func(c *Catalog) *[]*Belt { return &c.Belts },
		suffix: numbered("teeth", func(b *Belt) float64 { return float64(b.Teeth) }),
		finish: func(r *reader, g field.Given, b *Belt) { r.wantProfile(g.Place("profile"), &b.Profile) },
	},
	&kindOf[Mount, Mount]{
		meaning: "one motor mount for a belt drive", lot: 1, take: same[Mount], wrap: same[Mount],
		part:   func(m *Mount) *Part { return &m.Part },
		table:  field.NewTable("mount", partFields(func(m *Mount) *Part { return &m.Part }, "1"), mountFields()),
		list:   func(c *Catalog) *[]*Mount { return &c.Mounts },
		finish: finishMount,
	},
	&kindOf[gearRow, GearDrive]{
		meaning: "one drive of fixed ratio: gears, a direct drive, a motor in the wheel", lot: 1,
		take:   func(g *gearRow) *GearDrive { return &g.GearDrive },
		wrap:   func(g *GearDrive) *gearRow { return &gearRow{*g, math.NaN(), math.NaN()} },
		part:   func(g *GearDrive) *Part { return &g.Part },
		table:  field.NewTable("gear_drive", partFields(func(g *gearRow) *Part { return &g.Part }, "1"), gearFields()),
		list:   func(c *Catalog) *[]*GearDrive { return &c.GearDrives },
		finish: finishGear,
	},
	&kindOf[Wheel, Wheel]{
		meaning: "one wheel; a board has four", lot: 4, take: same[Wheel], wrap: same[Wheel],
		part:   func(w *Wheel) *Part { return &w.Part },
		table:  field.NewTable("wheel", partFields(func(w *Wheel) *Part { return &w.Part }, "4"), wheelFields()),
		list:   func(c *Catalog) *[]*Wheel { return &c.Wheels },
		suffix: numbered("diameter_mm", func(w *Wheel) float64 { return w.Diameter * perMilli }),
	},
	&kindOf[Profile, Profile]{
		meaning: "one tooth profile that is not built in", lot: 1, take: same[Profile], wrap: same[Profile],
		part:   func(p *Profile) *Part { return &p.Part },
		table:  field.NewTable("profile", partFields(func(p *Profile) *Part { return &p.Part }, "1"), profileFields()),
		list:   func(c *Catalog) *[]*Profile { return &c.Profiles },
		finish: finishProfile,
	},
}

// numbered is the suffix of a kind whose members are told apart by a number:
// the number, where its key is a list.
func numbered[T any](key string, value func(*T) float64) func(*field.Family[T], *T) string {
	return func(f *field.Family[T], member *T) string {
		if !f.Listed(key) {
			return ""
		}
		return field.FormatNumber(value(member))
	}
}

// packSuffix is the suffix of packs, such as 12s4p, where either is a list.
func packSuffix(f *field.Family[Battery], b *Battery) string {
	if !f.Listed("series") && !f.Listed("parallel") {
		return ""
	}
	return field.FormatNumber(b.Series) + "s" + field.FormatNumber(b.strings()) + "p"
}

func (k *kindOf[Row, T]) info() KindInfo {
	return KindInfo{k.table.Name, k.meaning, k.table.Infos()}
}

func (k *kindOf[Row, T]) header(r *reader, sheet *field.Sheet) {
	k.table.DecodeHeader(sheet, &r.report)
}

func (k *kindOf[Row, T]) count(c *Catalog) int { return len(*k.list(c)) }

func (k *kindOf[Row, T]) sort(c *Catalog) {
	slices.SortStableFunc(*k.list(c), func(a, b *T) int { return compareIDs(k.part(a).ID, k.part(b).ID) })
}

func (k *kindOf[Row, T]) parts(c *Catalog) iter.Seq[*Part] {
	return func(yield func(*Part) bool) {
		for _, t := range *k.list(c) {
			if !yield(k.part(t)) {
				return
			}
		}
	}
}

func (k *kindOf[Row, T]) values(c *Catalog, i int) iter.Seq2[*field.Info, any] {
	return k.table.Values(k.wrap((*k.list(c))[i]))
}

func (k *kindOf[Row, T]) read(r *reader, s field.Section) {
	before := r.report.Len()
	f := k.table.DecodeFamily(s, k.table.Blank(), &r.report)
	r.unsure = r.unsure || s.Damaged()
	if !r.room(s, len(f.Members)) {
		return
	}
	ids := r.newIDs(&f.Given, f.Listed("id"), r.report.Len() == before)
	finish := k.finish != nil && !s.Damaged()
	list := k.list(r.catalog)
	for i := range f.Members {
		t := k.take(&f.Members[i])
		part := k.part(t)
		if part.SoldIn == 0 {
			part.SoldIn = k.lot
		}
		k.name(&f, t, i)
		ids.add(part, i)
		if finish {
			before := r.report.Len()
			k.finish(r, f.Given, &f.Members[i])
			finish = r.report.Len() == before // what is wrong with one member is mostly wrong with all
		}
		*list = append(*list, t)
	}
}

// name gives member i of a family its id, unless the ids are a list.
func (k *kindOf[Row, T]) name(f *field.Family[Row], t *T, i int) {
	part := k.part(t)
	if !f.Lists() || f.Listed("id") || part.ID == "" {
		return
	}
	suffix := ""
	if k.suffix != nil {
		suffix = k.suffix(f, t)
	}
	if suffix == "" || suffix == "NaN" {
		suffix = strconv.Itoa(i + 1)
	}
	part.ID += "-" + suffix
}
