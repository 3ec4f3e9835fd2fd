package catalog

import (
	"math"

	"gearsearch/catalog/field"
)

// The checks of one part that no single key can make. They run only on
// sections that could be read to the end.

func finishCell(r *reader, g field.Given, c *Cell) {
	checkVolts(r, g, c.Cutoff, c.Nominal, c.Full)
}

// checkVolts holds the voltages of a cell or pack against each other. NaN is
// not given.
func checkVolts(r *reader, g field.Given, cutoff, nominal, full float64) {
	if nominal > full {
		r.report.Add(g.Place("nominal_v"), field.Contradiction, "", "nominal_v is %s, must be at most full_v, %s", field.FormatNumber(nominal), field.FormatNumber(full))
	}
	if cutoff >= nominal {
		r.report.Add(g.Place("cutoff_v"), field.Contradiction, "", "cutoff_v is %s, must be below nominal_v, %s", field.FormatNumber(cutoff), field.FormatNumber(nominal))
	}
}

func finishBattery(r *reader, g field.Given, b *Battery) {
	if b.Cell != nil || g.Has("cell") {
		for _, key := range []string{"nominal_v", "full_v", "cutoff_v", "chemistry"} {
			if g.Has(key) {
				r.report.Add(g.Place(key), field.Contradiction, "take out either", "%s is for a pack without a cell, this one has a cell", key)
			}
		}
		if b.Cell != nil {
			r.wants.cells = append(r.wants.cells, want[*Cell]{g.Place("cell"), &b.Cell})
		}
		return
	}
	for _, key := range []string{"nominal_v", "full_v"} {
		if !g.Has(key) {
			r.report.Add(g.Section().Place(), field.Missing, "name its cell, or give nominal_v and full_v of the whole pack", "battery %s has neither cell nor %s", field.Quote(b.ID), key)
			return
		}
	}
	checkVolts(r, g, b.Cutoff, b.Nominal, b.Full)
	checkPerCell(r, g, "nominal_v", b.Nominal, b.Series)
	checkPerCell(r, g, "full_v", b.Full, b.Series)
}

// checkPerCell holds the voltage of a pack against the number of its cells in
// series: it is often given for one cell.
func checkPerCell(r *reader, g field.Given, key string, volts, series float64) {
	if each := volts / series; each < lowCell || each > highCell {
		r.report.Add(g.Place(key), field.OutOfRange, "give the volts of the whole pack", "%s is %s, which is %.3g V for each of %s cells in series, must be %g to %g",
			key, field.FormatNumber(volts), each, field.FormatNumber(series), lowCell, float64(highCell))
	}
}

// The profiles of pulleys and belts are placeholders, to be resolved when all files are
// read: then it shows whether they are a chain's.

func finishPulley(r *reader, g field.Given, p *Pulley) {
	r.wantProfile(g, &p.Profile, false, pulleyKind, sprocketKind)
}

func finishSprocket(r *reader, g field.Given, p *Pulley) {
	p.Width = math.NaN()
	r.wantProfile(g, &p.Profile, true, sprocketKind, pulleyKind)
}

func finishBelt(r *reader, g field.Given, b *Belt) {
	b.Breaking = math.NaN()
	r.wantProfile(g, &b.Profile, false, beltKind, chainKind)
}

func finishChain(r *reader, g field.Given, b *Belt) {
	b.Width = math.NaN()
	r.wantProfile(g, &b.Profile, true, chainKind, beltKind)
}

func finishMount(r *reader, g field.Given, m *Mount) {
	if m.CentreMin > m.CentreMax {
		r.report.Add(g.Place("centre_max_mm"), field.Contradiction, "", "centre_max_mm is %s, must be at least centre_min_mm, %s",
			field.FormatNumber(m.CentreMax*perMilli), field.FormatNumber(m.CentreMin*perMilli))
	}
}

func finishGear(r *reader, g field.Given, d *GearDrive) {
	ratio, driver, driven := g.Has("ratio"), g.Has("driver_teeth"), g.Has("driven_teeth")
	const hint = "give ratio, or driver_teeth and driven_teeth"
	switch {
	case ratio && (driver || driven):
		r.report.Add(g.Place("ratio"), field.Contradiction, hint, "gear_drive %s has both ratio and teeth", field.Quote(d.ID))
	case !ratio && !driver && !driven:
		r.report.Add(g.Section().Place(), field.Missing, hint, "gear_drive %s has no ratio", field.Quote(d.ID))
	case !ratio && !driver:
		r.report.Add(g.Section().Place(), field.Contradiction, hint, "gear_drive %s has driven_teeth but no driver_teeth", field.Quote(d.ID))
	case !ratio && !driven:
		r.report.Add(g.Section().Place(), field.Contradiction, hint, "gear_drive %s has driver_teeth but no driven_teeth", field.Quote(d.ID))
	case !ratio:
		d.Ratio = d.Driven / d.Driver
	}
	wantIDs(&r.wants.motors, g.Value("fits_motors"), d.FitsMotors)
	wantIDs(&r.wants.wheels, g.Value("fits_wheels"), d.FitsWheels)
}

func finishProfile(r *reader, g field.Given, p *Profile) {
	p.Profile.Name = p.ID
	if old := r.profiles[p.ID]; old != nil && old.BuiltIn {
		r.report.Add(g.Place("id"), field.DuplicateID, "take it out to use that, or give yours another id", "profile %s is built in: pitch %s mm", field.Quote(p.ID), field.FormatNumber(old.Pitch*perMilli))
	}
}

// blankPart is a part of which nothing is known.
func blankPart() Part { return Part{Price: math.NaN(), Mass: math.NaN()} }
