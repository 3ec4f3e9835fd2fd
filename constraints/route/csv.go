package route

import (
	"math"
	"math/big"
	"strings"

	"gearsearch/catalog/field"
)

// ReadCSV reads a way from a CSV file. Its columns are distance_m, from the start along
// the road and greater in each row than in the one before; height_m; and, where wanted,
// speed_kmh and surface, one of these words, which hold from their row until another says
// otherwise; and stop (1, true, yes or x), where the board stands. Between two rows are
// as many equal legs as keep each within Grid. Nothing is smoothed, and to stand in the
// first row costs nothing. The error is of type field.Problems and has every problem of
// the file.
func ReadCSV(src field.Source, surfaces []string) (*Route, error) {
	var r field.Report
	t := columns(surfaces)
	sheet := field.ParseCSV(src, &r)
	t.DecodeHeader(sheet, &r)
	w := way{route: Route{Name: src.Name}, speed: math.NaN()}
	for s := range sheet.Rows() {
		x := t.Blank()
		w.add(t.Decode(s, &x, &r), x, &r)
	}
	if head := sheet.Header(); w.rows < 2 && !head.Damaged() {
		r.Add(head.Place(), field.Missing, "write a row for the start and one for the end", "a route needs two rows, this has %s", [...]string{"none", "one"}[w.rows])
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return &w.route, nil
}

// way is a way that grows by rows.
type way struct {
	route   Route
	rows    int
	last    row      // the last that could be read
	at, up  *big.Rat // its distance and height, as written
	speed   float64
	surface string
	full    bool // it has MaxLegs, and more rows
}

// add lets the way go on to a row.
func (w *way) add(given field.Given, x row, r *field.Report) {
	w.rows++
	if math.IsNaN(x.distance) || math.IsNaN(x.height) {
		return // reported
	}
	at, up := written(given.Value(distanceKey), x.distance), written(given.Value(heightKey), x.height)
	switch {
	case w.at == nil:
		w.route.Height = x.height
	case at.Cmp(w.at) <= 0:
		r.Add(given.Place(distanceKey), field.OutOfRange, "distances count from the start of the route, and no two rows are at one place",
			"%s is %s, must be above %s of the row before", distanceKey, field.FormatNumber(x.distance), field.FormatNumber(w.last.distance))
	case len(w.route.Legs) >= MaxLegs:
		if !w.full {
			r.Add(given.Section().Place(), field.TooLarge, "leave rows out where the slope hardly changes", "the route has more than %d legs up to here", MaxLegs)
		}
		w.full = true
	case r.Len() == 0:
		w.legs(difference(at, w.at), difference(up, w.up), x.stop)
	}
	w.last, w.at, w.up = x, at, up
	if !math.IsNaN(x.speed) {
		w.speed = x.speed
	}
	if x.surface != "" {
		w.surface = x.surface
	}
}

// legs adds what lies between two rows.
func (w *way) legs(length, rise float64, stop bool) {
	n := max(1, math.Ceil(length/Grid-Slack))
	leg := Leg{Length: length / n, Rise: rise / n, Speed: w.speed, Surface: w.surface}
	for range int(n) {
		w.route.Legs = append(w.route.Legs, leg)
	}
	w.route.Legs[len(w.route.Legs)-1].Stop = stop
}

// maxDigits is the longest number that is taken digit by digit. The decimals of the
// least number that a computer holds fit in it.
const maxDigits = 1200

// written is a number as its digits say, where it is written without unit and exponent,
// so that the differences of numbers keep what their decimals tell; else it is x.
func written(v field.Value, x float64) *big.Rat {
	text := strings.Replace(strings.TrimSpace(v.String()), ",", ".", 1)
	if len(text) <= maxDigits && strings.Trim(text, "+-.0123456789") == "" {
		if exact, ok := new(big.Rat).SetString(text); ok {
			if near, _ := exact.Float64(); near == x {
				return exact
			}
		}
	}
	return new(big.Rat).SetFloat64(x)
}

// difference is a − b, rounded once.
func difference(a, b *big.Rat) float64 {
	x, _ := new(big.Rat).Sub(a, b).Float64()
	return x
}
