package constraints

// Units says in which unit sentences show a quantity that is given in a metric
// one, and how many of it one of the metric unit is. Only lengths and distances
// of the board, speeds and forces are asked for: volts and amperes are one for
// all, temperatures stay in °C as data sheets have them, and the sizes by which
// metric parts are sold, cells, keys, shafts and belts, stay in mm. nil shows
// all as it is given.
type Units func(unit string) (shown string, factor float64)

// In writes a quantity that is given in a metric unit, its number by write.
func (u Units) In(unit string, x float64, write func(float64) string) string {
	factor := 1.0
	if u != nil {
		unit, factor = u(unit)
	}
	return write(x*factor) + " " + unit
}
