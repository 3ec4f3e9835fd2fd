// Package route is a way to ride: what a board passes over between its start and its
// end, in legs. It reads ways from CSV files and writes them; package gpx reads recorded
// ones.
package route

// Route is a way to ride.
type Route struct {
	Name   string  // of the file, as it was given
	Height float64 // m above the sea, where it starts
	Legs   []Leg   // in order, at least one
}

// Leg is a part of a way on which the slope is one.
type Leg struct {
	Length  float64 // m along the road, above 0
	Rise    float64 // m from its start to its end; negative: down
	Speed   float64 // m/s wanted; NaN: the brief's cruise speed
	Surface string  // what the wheels roll on; "": the brief's surface
	Stop    bool    // the board stands at the end of the leg
}

// Grid is the length in m that no leg exceeds: long enough that a day's ride takes some
// thousand legs, short enough that the volts of the pack hardly change on one.
const Grid = 25

// Slack is the share of Grid by which a leg may be longer after all, so that a way of
// 50.000 000 001 m has two legs and not three.
const Slack = 1e-9

// MaxLength is the longest way that is read, in m: what a battery takes nobody over.
const MaxLength = 1_000_000

// MaxLegs is the most legs that a way may have: MaxLength has 40 000, and a place each
// second for a day some 86 000. Each build rides all of them.
const MaxLegs = 100_000

// The heights between which a way may lie, in m above the sea: from below the lowest
// shore (the Dead Sea's, −430 m) to above the highest summit (8 849 m).
const MinHeight, MaxHeight = -500, 9000

// Length is the length of the way in m.
func (r *Route) Length() float64 {
	var m float64
	for i := range r.Legs {
		m += r.Legs[i].Length
	}
	return m
}
