package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/page"
)

func (p *program) catalogCheckCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		ArgsUsage: "[PATH…]",
		Usage:     "read a catalog: what is wrong with it, how many parts it has, what they leave open",
		UsageText: `gearsearch catalog check parts.toml
gearsearch catalog check parts.toml more-wheels.toml
gearsearch catalog check folder-of-csv-files`,
		Description: `Several files are read as one catalog, and every problem is reported in one go. Without a path the embedded demo catalog is read.

Exit code: 0 nothing is wrong, 2 wrong usage, 3 something is wrong, 4 a file could not be read or written.`,
		Flags:  append([]cli.Flag{catalogFlag()}, outputFlags()...),
		Action: p.catalogCheck,
	}
}

// catalogCheck answers with what a catalog holds and leaves open.
func (p *program) catalogCheck(c *cli.Context) error {
	a, err := p.answer(c)
	if err != nil {
		return err
	}
	paths := append(c.StringSlice("catalog"), c.Args().Slice()...)
	if len(paths) == 0 {
		p.note("demo parts, all invented: name your own, as in gearsearch catalog check parts.toml")
	}
	read, err := p.catalog(paths)
	if err != nil {
		return err
	}
	gaps := catalogGaps(read)
	switch a.format {
	case formatJSON:
		return a.write(func(w io.Writer) error { return dataout.WriteObject(w, checkObject(read, gaps)) })
	case formatJSONL:
		return a.write(func(w io.Writer) error {
			_, err := w.Write(append(checkObject(read, gaps).Append(nil), '\n'))
			return err
		})
	case formatCSV:
		return a.write(func(w io.Writer) error {
			var rows [][]any
			for _, g := range gaps {
				rows = append(rows, []any{g.kind, g.key, len(g.ids), strings.Join(g.ids, " "), g.leaves})
			}
			return dataout.WriteTable(w, []string{"kind", "key", "missing", "ids", "leaves_open"}, rows)
		})
	default:
		return a.page(checkPage(read, gaps))
	}
}

// gap is a key that some parts of a kind do not have, and what that leaves
// open.
type gap struct {
	kind, key string
	leaves    string
	ids       []string // of the parts without it
}

// What missing keys leave open, in the words of the checks.
const (
	leavesThrust = "climb, hill-torque, launch; the top speed is an estimate"
	leavesLoss   = leavesThrust + "; range"
)

// catalogGaps lists the keys that checks need and parts do not have.
func catalogGaps(c *catalog.Catalog) []gap {
	all := []gap{
		lacking("motor", "resistance_mohm", leavesLoss, c.Motors, func(m *catalog.Motor) float64 { return m.Resistance }),
		lacking("motor", "continuous_current_a", "heat", c.Motors, func(m *catalog.Motor) float64 { return m.ContinuousCurrent }),
		lacking("motor", "shaft_mm", "bore", c.Motors, func(m *catalog.Motor) float64 { return m.Shaft }),
		lacking("motor", "shaft_key", "bore, with drives that need a key", c.Motors, func(m *catalog.Motor) float64 { return word(m.ShaftKey != catalog.KeyUnknown) }),
		lacking("motor", "can_length_mm", "hanger", c.Motors, func(m *catalog.Motor) float64 { return m.CanLength }),
		lacking("motor", "max_volts", "voltage, unless the controller's is known", c.Motors, func(m *catalog.Motor) float64 { return m.MaxVolts }),
		lacking("controller", "erpm_ceiling", "erpm, unless the brief has one", c.Controllers, func(x *catalog.Controller) float64 { return x.ERPMCeiling }),
		lacking("controller", "max_volts", "voltage, unless the motor's is known", c.Controllers, func(x *catalog.Controller) float64 { return x.MaxVolts }),
		lacking("controller", "motor_current_a", leavesThrust+", unless the motor's peak is known", c.Controllers, func(x *catalog.Controller) float64 { return x.MotorCurrent }),
		lacking("controller", "battery_current_a", leavesThrust+", unless the pack's limit is known", c.Controllers, func(x *catalog.Controller) float64 { return x.BatteryCurrent }),
		lacking("battery", "capacity_ah", "range", c.Batteries, (*catalog.Battery).CapacityAh),
		lacking("battery", "discharge_a", leavesThrust+", unless the controller's limit is known", c.Batteries, (*catalog.Battery).DischargeLimit),
		lacking("battery", "resistance_mohm", "nothing: no sag is assumed", c.Batteries, func(b *catalog.Battery) float64 { _, known := b.PackResistance(); return word(known) }),
		lacking("pulley", "bore_mm", "bore", motorPulleys(c), func(x *catalog.Pulley) float64 { return x.Bore }),
		lacking("pulley", "hub", "hub", wheelPulleys(c), func(x *catalog.Pulley) float64 { return word(len(x.Hubs) > 0) }),
		lacking("belt", "width_mm", "belt-load", c.Belts, func(x *catalog.Belt) float64 { return x.Width }),
		lacking("gear_drive", "bore_mm", "bore", c.GearDrives, func(g *catalog.GearDrive) float64 { return either(g.Bore, len(g.FitsMotors) > 0) }),
		lacking("gear_drive", "hub", "hub", c.GearDrives, func(g *catalog.GearDrive) float64 { return word(len(g.Hubs)+len(g.FitsWheels) > 0) }),
		lacking("gear_drive", "max_torque_nm", "gear-torque", c.GearDrives, func(g *catalog.GearDrive) float64 { return g.MaxTorque }),
		lacking("gear_drive", "outside_mm", "clearance", c.GearDrives, func(g *catalog.GearDrive) float64 { return g.Outside }),
		lacking("wheel", "hub", "hub", c.Wheels, func(w *catalog.Wheel) float64 { return word(len(w.Hubs) > 0) }),
		lacking("profile", "pitch_line_mm", "clearance", c.Profiles, func(x *catalog.Profile) float64 { return x.PitchLine }),
		lacking("profile", "pull_n_per_mm", "belt-load", c.Profiles, func(x *catalog.Profile) float64 { return x.Pull }),
	}
	var out []gap
	for _, g := range append(all, commonGaps(c)...) {
		if len(g.ids) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// commonGaps are the gaps in price and mass, which every kind has. Packs of
// cells have their cells'; profiles are not bought.
func commonGaps(c *catalog.Catalog) []gap {
	prices := []gap{lacking("battery", "price", "price", c.Batteries, (*catalog.Battery).PackPrice)}
	masses := []gap{lacking("battery", "mass_g", "mass, and 0 is assumed", c.Batteries, (*catalog.Battery).PackMass)}
	add := func(kind string, part *catalog.Part, to *[]gap, key, leaves string, value float64) {
		if !math.IsNaN(value) {
			return
		}
		if last := len(*to) - 1; (*to)[last].kind != kind {
			*to = append(*to, gap{kind, key, leaves, nil})
		}
		last := &(*to)[len(*to)-1]
		last.ids = append(last.ids, part.ID)
	}
	for kind, part := range c.Parts() {
		if kind == "battery" || kind == "cell" || kind == "profile" {
			continue
		}
		add(kind, part, &prices, "price", "price", part.Cost(1))
		add(kind, part, &masses, "mass_g", "mass, and 0 is assumed", part.Mass)
	}
	return append(prices, masses...)
}

// lacking finds the parts for which a value is NaN.
func lacking[T interface{ Common() *catalog.Part }](kind, key, leaves string, parts []T, value func(T) float64) gap {
	g := gap{kind: kind, key: key, leaves: leaves}
	for _, part := range parts {
		if math.IsNaN(value(part)) {
			g.ids = append(g.ids, part.Common().ID)
		}
	}
	return g
}

// word is a number for what is known or not: NaN where not.
func word(known bool) float64 { return either(math.NaN(), known) }

// either is x, or a number where something else tells.
func either(x float64, other bool) float64 {
	if other {
		return 0
	}
	return x
}

func motorPulleys(c *catalog.Catalog) []*catalog.Pulley { return onSide(c, catalog.MotorSide) }
func wheelPulleys(c *catalog.Catalog) []*catalog.Pulley { return onSide(c, catalog.WheelSide) }

func onSide(c *catalog.Catalog, side catalog.Side) []*catalog.Pulley {
	var out []*catalog.Pulley
	for _, p := range c.Pulleys {
		if p.Side == side {
			out = append(out, p)
		}
	}
	return out
}

// checkPage is the answer as people read it.
func checkPage(c *catalog.Catalog, gaps []gap) *page.Page {
	p := &page.Page{}
	total := 0
	counts := &page.Table{Columns: []page.Column{{Title: "kind"}, {Title: "parts", Right: true}}}
	for _, k := range c.Count() {
		total += k.N
		if k.N > 0 {
			counts.Add(k.Kind, page.Count(uint64(k.N)))
		}
	}
	text := fmt.Sprintf("Nothing is wrong: %s parts", page.Count(uint64(total)))
	if c.Title != "" {
		text += " of " + c.Title
	}
	p.Heading(text)
	p.Table(counts)
	if len(gaps) == 0 {
		p.Text("Every part has the keys that the checks need.")
		return p
	}
	p.Heading("What is not given, and what stays undecided for it")
	table := &page.Table{Columns: []page.Column{
		{Title: "kind"}, {Title: "key"}, {Title: "missing", Right: true}, {Title: "in", Wrap: true, Least: proseWidth}, {Title: "leaves open", Wrap: true, Least: proseWidth},
	}}
	for _, g := range gaps {
		table.Add(g.kind, g.key, page.Count(uint64(len(g.ids))), few(g.ids), g.leaves)
	}
	p.Table(table)
	return p
}

// few lists the first ids.
func few(ids []string) string {
	const most = 3
	if len(ids) <= most {
		return strings.Join(ids, " ")
	}
	return strings.Join(ids[:most], " ") + " …"
}

// checkObject is the answer as data.
func checkObject(c *catalog.Catalog, gaps []gap) dataout.Object {
	missing := []dataout.Object{}
	for _, g := range gaps {
		missing = append(missing, dataout.Object{{Key: "kind", Value: g.kind}, {Key: "key", Value: g.key}, {Key: "ids", Value: g.ids}, {Key: "leaves_open", Value: g.leaves}})
	}
	return dataout.Object{{Key: "schema", Value: 1}, {Key: "title", Value: c.Title}, {Key: "catalog", Value: dataout.Catalog(c)}, {Key: "missing", Value: missing}}
}
