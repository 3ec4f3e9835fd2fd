package ridelog

import (
	"slices"
	"strings"
	"unicode"
)

// Quantity is what a column holds.
type Quantity uint8

// The quantities.
const (
	Time      Quantity = iota // s
	Speed                     // m/s
	Distance                  // m, a counter
	Energy                    // J, a counter of what the pack gives
	Returned                  // J, a counter of what comes back
	Power                     // W
	Volts                     // V, of the pack
	Current                   // A, out of the pack
	Height                    // m
	Direction                 // out or back
	quantities
)

// unit is a unit of a quantity.
type unit struct {
	names []string // as people write them, in small letters
	si    float64
}

// trait is what is known of a quantity.
type trait struct {
	name  string   // as --column takes it
	names []string // of columns, the likeliest first, in small letters with _ between words
	units []unit   // the first is the one that examples show; none: words
	bare  bool     // a heading without a unit is in the first one: no other is in use
}

const (
	minute = 60
	hour   = 3600
	mile   = 1609.344
	foot   = 0.3048
)

var joules = []unit{
	{[]string{"wh", "watt hours", "watthours", "w*h", "w·h"}, hour},
	{[]string{"kwh"}, 1000 * hour},
	{[]string{"mwh"}, hour / 1000.0},
	{[]string{"kj"}, 1000},
	{[]string{"j", "ws"}, 1},
}

var traits = [quantities]trait{
	Time: {
		name:  "time",
		names: []string{"time", "elapsed_time", "elapsed", "timestamp", "time_stamp", "t", "date_time", "datetime", "date", "clock", "ride_time", "seconds", "milliseconds", "millis"},
		units: []unit{
			{[]string{"s", "sec", "secs", "second", "seconds"}, 1},
			{[]string{"ms", "msec", "millis", "milliseconds"}, 1e-3},
			{[]string{"us", "µs", "μs"}, 1e-6},
			{[]string{"min", "mins", "minutes"}, minute},
			{[]string{"h", "hours"}, hour},
		},
		bare: true,
	},
	Speed: {
		name:  "speed",
		names: []string{"speed", "velocity", "wheel_speed", "vehicle_speed", "ground_speed", "gps_speed", "spd", "v"},
		units: []unit{
			{[]string{"km/h", "kmh", "kph", "kmph", "km_h"}, 1 / 3.6},
			{[]string{"m/s", "mps", "ms", "m_s"}, 1},
			{[]string{"mph", "mi/h"}, mile / hour},
			{[]string{"kn", "kt", "knots"}, 1852.0 / hour},
		},
	},
	Distance: {
		name:  "distance",
		names: []string{"distance", "trip_distance", "trip", "dist", "total_distance", "odometer", "odo", "gps_distance"},
		units: []unit{
			{[]string{"km", "kilometers", "kilometres"}, 1000},
			{[]string{"m", "meters", "metres"}, 1},
			{[]string{"mi", "miles"}, mile},
			{[]string{"ft", "feet"}, foot},
		},
	},
	Energy: {
		name:  "energy",
		names: []string{"energy", "energy_used", "used_energy", "energy_consumed", "consumed_energy", "energy_out", "energy_total", "total_energy", "watt_hours", "used", "consumed", "discharged", "energy_discharged"},
		units: joules,
	},
	Returned: {
		name:  "returned",
		names: []string{"energy_returned", "energy_regenerated", "regenerated", "regenerated_energy", "energy_regen", "regen_energy", "regen", "energy_recovered", "recovered", "energy_charged", "charged_energy", "charged", "energy_in", "watt_hours_charged"},
		units: joules,
	},
	Power: {
		name:  "power",
		names: []string{"power", "battery_power", "pack_power", "input_power", "electrical_power", "watts"},
		units: []unit{{[]string{"w", "watt", "watts"}, 1}, {[]string{"kw"}, 1000}},
		bare:  true,
	},
	Volts: {
		name:  "volts",
		names: []string{"voltage", "volts", "volt", "battery_voltage", "pack_voltage", "input_voltage", "bus_voltage", "supply_voltage", "battery_volts", "pack_volts", "u"},
		units: []unit{{[]string{"v", "volt", "volts"}, 1}, {[]string{"mv"}, 1e-3}},
		bare:  true,
	},
	Current: {
		name:  "current",
		names: []string{"battery_current", "pack_current", "input_current", "bus_current", "supply_current", "battery_amps", "pack_amps", "current", "amps", "amperes", "i"},
		units: []unit{{[]string{"a", "amp", "amps", "ampere"}, 1}, {[]string{"ma"}, 1e-3}},
		bare:  true,
	},
	Height: {
		name:  "height",
		names: []string{"height", "altitude", "elevation", "ele", "alt", "gps_altitude", "gps_elevation", "gps_height"},
		units: []unit{{[]string{"m", "meters", "metres"}, 1}, {[]string{"ft", "feet"}, foot}},
		bare:  true,
	},
	Direction: {name: "direction", names: []string{"direction", "way", "dir"}, bare: true},
}

// Name is how --column names the quantity.
func (q Quantity) Name() string { return traits[q].name }

// Units lists the units of a quantity, each by its first name.
func (q Quantity) Units() []string {
	var out []string
	for _, u := range traits[q].units {
		out = append(out, u.names[0])
	}
	return out
}

// QuantityNames lists the quantities by name.
func QuantityNames() []string {
	var out []string
	for q := range quantities {
		out = append(out, q.Name())
	}
	return out
}

// QuantityNamed is the quantity of a name.
func QuantityNamed(name string) (Quantity, bool) {
	i := slices.IndexFunc(traits[:], func(t trait) bool { return t.name == name })
	return Quantity(max(i, 0)), i >= 0
}

// unitNamed is a unit of the quantity; case does not matter.
func (q Quantity) unitNamed(name string) (unit, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	for _, u := range traits[q].units {
		if slices.Contains(u.names, name) {
			return u, true
		}
	}
	return unit{}, false
}

// HasUnit reports whether the quantity may be in a unit.
func (q Quantity) HasUnit(name string) bool {
	_, ok := q.unitNamed(name)
	return ok
}

// heading is what a heading says of its column.
type heading struct {
	of   Quantity
	rank int  // among the names of the quantity, the likeliest 0
	in   unit // the zero unit: not told
}

// recognise finds what a heading is for.
func recognise(title string) (h heading, ok bool) {
	title = strings.TrimSpace(title)
	name, inner := title, ""
	for _, pair := range []string{"()", "[]", "{}", "<>"} {
		if cut, ok := strings.CutSuffix(title, pair[1:]); ok {
			if i := strings.LastIndex(cut, pair[:1]); i > 0 {
				name, inner = cut[:i], cut[i+1:]
			}
		}
	}
	words := wordsOf(name)
	for split := len(words); split > 0; split-- {
		plain, rest := strings.Join(words[:split], "_"), words[split:]
		for q := range quantities {
			rank := slices.Index(traits[q].names, plain)
			if rank < 0 {
				continue
			}
			h := heading{of: q, rank: rank}
			told := inner
			if len(rest) > 0 {
				told = unitOf(q, rest)
			}
			switch {
			case len(rest) > 0 && told == "": // the words say more than a unit
				continue
			case told == "" && q == Time && plain == "milliseconds", told == "" && plain == "millis":
				told = "ms"
			}
			if told == "" && plain == "v" { // or volts
				return heading{}, false
			}
			if told != "" && len(traits[q].units) > 0 {
				if h.in, ok = q.unitNamed(told); !ok {
					continue
				}
			}
			return h, true
		}
	}
	return bareUnit(words)
}

// bareUnit recognises headings that are a unit and no more, where it says what the
// column holds: "kmh", "Wh".
func bareUnit(words []string) (heading, bool) {
	for _, q := range []Quantity{Speed, Energy} {
		if told := unitOf(q, words); told != "" && len(told) > 1 && told != "ms" && told != "kn" && told != "kt" {
			u, _ := q.unitNamed(told)
			return heading{of: q, rank: len(traits[q].names), in: u}, true
		}
	}
	return heading{}, false
}

// unitOf is the unit that words at the end of a heading make, "" for none.
func unitOf(q Quantity, words []string) string {
	for _, between := range []string{"", "/", " ", "_"} {
		if text := strings.Join(words, between); q.HasUnit(text) {
			return text
		}
	}
	return ""
}

// wordsOf are the words of a heading in small letters: between spaces and marks, and
// where a capital follows a small letter.
func wordsOf(title string) []string {
	var b strings.Builder
	var last rune
	for _, r := range title {
		if unicode.IsUpper(r) && unicode.IsLower(last) {
			b.WriteByte(' ')
		}
		if r == '_' || r == '-' || r == ',' || r == ':' || r == '.' {
			r = ' '
		}
		b.WriteRune(unicode.ToLower(r))
		last = r
	}
	return strings.Fields(b.String())
}
