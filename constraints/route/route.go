// Package route is a way to ride: what a board passes over between its start and its
// end, in legs. It reads ways from CSV files; package gpx reads recorded ones.
package route

// Route is a way to ride.
type Route struct {
	Name string // of the file, as it was given
	Legs []Leg  // in order, at least one
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

// Length is the length of the way in m.
func (r *Route) Length() float64 {
	var m float64
	for i := range r.Legs {
		m += r.Legs[i].Length
	}
	return m
}
