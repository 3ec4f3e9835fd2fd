package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// ohmicShare is the part of a cell's direct-current resistance that is there at
// once, and that alone limits the current of a short: an assumption in the safe
// direction. The rest comes with the seconds.
const ohmicShare = 0.5

const (
	sourceFuse  = "a fuse carries three quarters of its rating for long (common practice, no published source) and 1.35 of it for seconds (the test currents of ISO 8820-3, from memory); made are the ratings of ISO 8820-3 up to 80 A, and bolted ones up to 500 A (ISO 8820-5; their steps are common practice, no published source)"
	sourceShort = "Ohm's law: the full pack over the ohmic part of its resistance, taken to be half of the direct-current one (an assumption in the safe direction); the leads' is left out"
)

// fuseWindow is what a fuse may be rated for, in A.
type fuseWindow struct {
	least, most float64 // NaN: not known
	// warm: where it is to carry no more than three quarters of its rating for long,
	// no fuse is made.
	warm bool
}

// window is that of the main fuse, for what cells and leads bear.
func (m *maker) window(most float64) fuseWindow {
	steady, peak := m.currents.PackSteady.Amps, m.currents.PackPeak.Amps/fusePeak
	cool, warm := math.Max(steady/fuseSteady, peak), math.Max(steady, peak)
	if math.IsNaN(cool) || math.IsNaN(most) || m.isMade(cool, most) {
		return fuseWindow{cool, most, false}
	}
	return fuseWindow{warm, most, true}
}

// isMade reports whether a fuse between two ratings is made, or is in the catalog.
func (m *maker) isMade(least, most float64) bool {
	for _, f := range m.catalog.Fuses {
		if drive.AtLeast(f.Rated, least) && drive.AtMost(f.Rated, most) {
			return true
		}
	}
	_, _, ok := madeBetween(least, most)
	return ok
}

// leastFuse is the least rating that may be bought, in A: what the leads must bear
// at least. NaN where the currents are not known.
func (m *maker) leastFuse() float64 {
	w := m.window(orElse(m.build.Battery.DischargeLimit(), math.Inf(1)))
	if least, _, ok := madeBetween(w.least, w.most); ok {
		return least
	}
	return w.least
}

// fuse is the need of a main fuse: one that carries the currents of the pack, and
// opens before cells or leads are harmed. leads is what the leads bear for long.
func (m *maker) fuse(leads Current) *Need {
	n := &Need{Kind: "fuse", Pieces: 1}
	bearing := m.bearing(leads)
	w := m.window(bearing.Amps)
	asks := []ask[*catalog.Fuse]{
		{m.rating(w, bearing), func(f *catalog.Fuse) float64 { return f.Rated }},
		{m.volts(DemandBreakVolts, "max_volts_dc"), func(f *catalog.Fuse) float64 { return f.MaxVoltsDC }},
	}
	short := math.NaN()
	if ohms := m.build.Battery.Pack.Resistance; m.build.Battery.ResistanceKnown && ohms > 0 {
		short = m.full() / (ohmicShare * ohms)
		asks = append(asks, ask[*catalog.Fuse]{
			least(DemandBreaks, "breaking_a", "A", 1, short, sourceShort,
				said(ShortOfPack, given(m.full(), "V"), number(ohmicShare), shown(ohms, perMilli, "mΩ", constraints.ThreeDigits))),
			func(f *catalog.Fuse) float64 { return f.Breaking },
		})
	} else {
		n.Notes = append(n.Notes, said(ShortUnknown))
	}
	choose(n, m.catalog.Fuses, asks)
	from, to, made := madeBetween(w.least, orElse(w.most, math.Inf(1)))
	if n.State == Misfit && made {
		n.State = Missing // it can be bought
	}
	n.Buy = m.buyFuse(w, from, to, made, short)
	n.Notes = append(append(n.Notes, m.seconds(n)...), m.smaller(n, asks[1:])...)
	n.Notes = append(n.Notes, m.builtIn()...)
	return n
}

// rating is the demand on its rating.
func (m *maker) rating(w fuseWindow, bearing Current) Demand {
	c := m.currents
	d := least(DemandRating, "rated_a", "A", 1, w.least, sourceFuse)
	d.Most = w.most
	switch {
	case !c.PackPeak.known():
		d.Open = c.PackPeak.How
	case w.least == c.PackPeak.Amps/fusePeak:
		d.How = then(alone(AtLeastPeak, given(c.PackPeak.Amps, "A"), number(fusePeak)), c.PackPeak.How...)
	case w.warm:
		d.How = then(alone(AtLeastSteady, given(c.PackSteady.Amps, "A")), c.PackSteady.How...)
	default:
		d.How = then(alone(AtLeastShare, given(c.PackSteady.Amps, "A"), number(fuseSteady)), c.PackSteady.How...)
	}
	d.How = then(append(d.How, said(AtMost)), bearing.How...)
	if !bearing.known() {
		d.Open = then(d.Open, bearing.How...)
	}
	return d
}

// buyFuse is what fuse to buy: of the ratings that are made.
func (m *maker) buyFuse(w fuseWindow, from, to float64, made bool, short float64) Statement {
	volts, breaks := boundLeast(m.full(), "V"), boundLeast(short, "A")
	switch {
	case math.IsNaN(w.least):
		return said(BuyFuse, given(w.least, "A"), given(w.most, "A"), volts, breaks)
	case made && math.IsNaN(w.most):
		return said(BuyFuse, given(from, "A"), given(w.most, "A"), volts, breaks)
	case !made:
		return said(BuyFuseUnmade, boundLeast(w.least, "A"), boundMost(w.most, "A"), volts, breaks)
	}
	return said(BuyFuse, given(from, "A"), given(to, "A"), volts, breaks)
}

// rated is the rating in A of the fuse chosen, else the least that may be bought; ok
// is false where there is neither.
func (n *Need) rated(c *catalog.Catalog) (amps float64, ok bool) {
	if n.Part != nil {
		f, _ := catalog.ByID(c.Fuses, n.Part.ID)
		return f.Rated, true
	}
	amps, _, ok = madeBetween(n.Demands[0].Least, n.Demands[0].Most)
	return amps, ok
}

// seconds is the note that the fuse does not carry the peak for long.
func (m *maker) seconds(n *Need) []Statement {
	peak := m.currents.PackPeak.Amps
	rated, ok := n.rated(m.catalog)
	if !ok || drive.AtMost(peak, fuseLong*rated) {
		return nil
	}
	return alone(FuseBearsSeconds, given(peak, "A"), share(peak/rated), given(rated, "A"))
}

// warmFuse is the caution that a fuse carries more for long than it should; it
// says nothing where it does not.
func (o *Outfit) warmFuse() Statement {
	rated, ok := o.Need("fuse", "").rated(o.Build.Problem.Catalog)
	steady := o.Currents.PackSteady.Amps
	if !ok || drive.AtMost(steady, fuseSteady*rated) {
		return Statement{}
	}
	return said(FuseRunsWarm, given(steady, "A"), share(steady/rated), given(rated, "A"))
}

// smaller is the note on the largest fuse that would do if the controllers were
// set lower, where none does as they are set.
func (m *maker) smaller(n *Need, others []ask[*catalog.Fuse]) []Statement {
	var best *catalog.Fuse
	steady := m.currents.PackSteady.Amps / fuseSteady
	for _, f := range m.catalog.Fuses {
		if _, ok := judge(f, others); ok && f.Rated < n.Demands[0].Least && drive.AtLeast(f.Rated, steady) && (best == nil || f.Rated > best.Rated) {
			best = f
		}
	}
	if n.State == Chosen || best == nil {
		return nil
	}
	return []Statement{said(FuseOfLessCurrent, boundMost(fusePeak*best.Rated/float64(m.build.Motors()), "A")).about(best.ID)}
}

// bearing is the current that neither cells nor leads bear more of for long.
func (m *maker) bearing(leads Current) Current {
	cells := m.build.Battery.DischargeLimit()
	if math.IsNaN(cells) {
		return Current{math.NaN(), alone(NoDischarge)}
	}
	if leads.Amps < cells {
		return leads
	}
	return Current{cells, alone(PackGives, given(cells, "A"))}
}
