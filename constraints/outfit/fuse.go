package outfit

import (
	"gearsearch/catalog"
	"gearsearch/drive"
)

// What a fuse may carry, as shares of its rating.
const (
	// fuseSteady is the most that it should carry for long, so that it neither ages
	// nor opens in warm air: common practice, no published source.
	fuseSteady = 0.75
	// fusePeak is what it carries for some seconds. A blade fuse is tested with this
	// much: it opens, but not at once (ISO 8820-3, from memory).
	fusePeak = 1.35
	// fuseLong is what a blade fuse carries for a hundred hours (ISO 8820-3, from
	// memory).
	fuseLong = 1.1
)

// madeBetween returns the least and the greatest rating from one current in A to
// another that fuses are made in; ok is false where there is none.
func madeBetween(from, to float64) (least, most float64, ok bool) {
	for _, amps := range catalog.FuseRatings() {
		if drive.AtLeast(amps, from) && drive.AtMost(amps, to) {
			if !ok {
				least, ok = amps, true
			}
			most = amps
		}
	}
	return least, most, ok
}
