package outfit

import (
	"fmt"

	"gearsearch/catalog"
)

// What a pack demands of what is around it, whatever the rest of the build is.

// SeriesDemand is that of a protection board, on its number of cells.
func SeriesDemand(pack *catalog.Battery) Demand {
	d := least("series", "cells in series", "", 1, pack.Series, fmt.Sprintf("the pack has %s in series", num(pack.Series)), sourceBMS)
	d.Most = pack.Series
	return d
}

// VoltsDemand is that of what bears the full pack, on the key that says what it
// bears.
func VoltsDemand(pack *catalog.Battery, key, what string) Demand {
	full := pack.FullVolts()
	return least(key, what, "V", 1, full, "the full pack has "+num(full)+" V", sourceVolt)
}

// chargesAtLeast is how much of the full pack's volts a charger ends at: an
// assumption.
const chargesAtLeast = 0.98

// EndsDemand is that of a charger, on the volts at which it ends.
func EndsDemand(pack *catalog.Battery) Demand {
	full := pack.FullVolts()
	d := least("full_v", "volts at the end of the charge", "V", 1, chargesAtLeast*full, fmt.Sprintf("the full pack has %s V", num(full)), sourceCharger)
	d.Most = full
	return d
}
