package route

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// row is a row of a CSV file: a place on the way, and how it goes on from there.
type row struct {
	distance float64 // m from the start
	height   float64 // m above the sea
	speed    float64 // m/s from here on; NaN: as before
	surface  string  // from here on; "": as before
	stop     bool    // the board stands here
}

// The columns of a CSV file.
const (
	distanceKey = "distance_m"
	heightKey   = "height_m"
	speedKey    = "speed_kmh"
	surfaceKey  = "surface"
	stopKey     = "stop"
)

// kmh is km/h per m/s.
const kmh = 3.6

// yes are the words that make a row a stop, and no those that do not.
var (
	yes = []string{"1", "true", "yes", "x"}
	no  = []string{"0", "false", "no"}
)

// columns is the field table of a CSV file, in which a surface is one of these words.
func columns(surfaces []string) *field.Table[row] {
	t := field.NewTable("a route", []field.Field[row]{
		{Key: distanceKey, Required: true, Also: []string{"distance", "dist", "cumulative_distance", "km", "chainage"}, Unit: "m", Max: MaxLength, Meaning: "from the start along the road", Number: func(x *row) *float64 { return &x.distance }},
		{Key: heightKey, Required: true, Also: []string{"height", "elevation", "ele", "altitude"}, Unit: "m", Min: MinHeight, Max: MaxHeight, Meaning: "above the sea", Number: func(x *row) *float64 { return &x.height }},
		{Key: speedKey, Also: []string{"speed", "wanted_speed"}, Unit: "km/h", Per: kmh, Max: 200, Above: true, Default: "as before; at first the brief's cruise_kmh", Meaning: "wanted from here on", Number: func(x *row) *float64 { return &x.speed }},
		{Key: surfaceKey, Also: []string{"ground", "terrain"}, Words: surfaces, Fold: true, Default: "as before; at first the brief's", Meaning: "what the wheels roll on from here on", Text: func(x *row) *string { return &x.surface }},
		{
			Key: stopKey, Also: []string{"stops", "halt"}, Words: slices.Concat(yes, no), Fold: true, Default: "no", Meaning: "whether the board stands here",
			Set: func(x *row, s string) { x.stop = slices.Contains(yes, s) },
			Get: func(x *row) string {
				if x.stop {
					return yes[0]
				}
				return ""
			},
		},
	})
	t.Stray = stray
	return t
}

// stray says what to do about a column that is near none.
func stray(key string) string {
	switch {
	case strings.HasPrefix(key, "<"):
		return "this looks like a GPX file: let its name end in .gpx"
	case field.IsNumber(key):
		return "the first row names the columns: " + distanceKey + "," + heightKey
	}
	return "the columns are " + strings.Join(columns(nil).Keys(), ", ")
}

// Columns lists what a CSV file may say of a way, for reference pages.
func Columns(surfaces []string) []field.Info { return columns(surfaces).Infos() }
