package outfit

import "gearsearch/catalog"

// What a pack demands of what is around it, whatever the rest of the build is.

// SeriesDemand is that of a protection board, on its number of cells.
func SeriesDemand(pack *catalog.Battery) Demand {
	d := least(DemandSeries, "series", "", 1, pack.Series, sourceBMS, said(PackHasSeries, number(pack.Series)))
	d.Most = pack.Series
	return d
}

// VoltsDemand asks a part to bear the volts of the full pack, by the key that says
// what it bears.
func VoltsDemand(pack *catalog.Battery, key string) Demand {
	return voltsDemand(DemandVolts, pack, key)
}

func voltsDemand(code Code, pack *catalog.Battery, key string) Demand {
	full := pack.FullVolts()
	return least(code, key, "V", 1, full, sourceVolt, said(PackHasVolts, given(full, "V")))
}

// chargesAtLeast is how much of the full pack's volts a charger ends at: an
// assumption.
const chargesAtLeast = 0.98

// EndsDemand is that of a charger, on the volts at which it ends.
func EndsDemand(pack *catalog.Battery) Demand {
	full := pack.FullVolts()
	d := least(DemandChargeEnd, "full_v", "V", 1, chargesAtLeast*full, sourceCharger, said(PackHasVolts, given(full, "V")))
	d.Most = full
	return d
}
