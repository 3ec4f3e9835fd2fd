// Package kit is the text of a catalog with one part in each slot, and of a brief:
// one build, for tests. Its round numbers make figures easy to work out by hand:
// the controller is six-step and the windings are at 20 °C, so that amperes and
// ohms are those written here; the drag area is 0.55 m², and rides have no stops.
package kit

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// Kit is a catalog and a brief whose keys can be changed.
type Kit struct {
	parts, brief []*table
	extra        []string // more of the catalog
}

// table is one table of TOML. A part's table is named after its id.
type table struct {
	name, header string
	keys         []string
	values       map[string]string
}

// common are the parts that belt and gear builds share.
const common = `
motor: [[motor]] kv=150 pole_pairs=7 resistance_mohm=50 no_load_current_a=1 peak_current_a=80 continuous_current_a=40 max_volts=60 shaft_mm=8 shaft_key="keyway" can_diameter_mm=63 can_length_mm=70 price=90 mass_g=700
controller: [[controller]] erpm_ceiling=150000 max_volts=60 motor_current_a=70 battery_current_a=30 continuous_current_a=50 channels=1 max_duty=0.95 efficiency=0.97 commutation="six-step" price=80 mass_g=100
cell: [[cell]] nominal_v=3.6 full_v=4.2 cutoff_v=3 capacity_ah=5 resistance_mohm=20 discharge_a=20 charge_a=3 price=5 mass_g=50
battery: [[battery]] series=10 parallel=2 cell="cell"
wheel: [[wheel]] diameter_mm=100 hub="spoke" tyre="urethane" price=60 mass_g=250
`

const beltParts = common + `
small: [[pulley]] side="motor" profile="htd-5m" teeth=15 width_mm=15 bore_mm=8 shaft_key="keyway" price=12 mass_g=30
large: [[pulley]] side="wheel" profile="htd-5m" teeth=45 width_mm=15 hub="spoke" price=20 mass_g=90
belt: [[belt]] profile="htd-5m" teeth=70 width_mm=15 price=9 mass_g=15
mount: [[mount]] centre_min_mm=60 centre_max_mm=120 angle_deg=0 price=30 mass_g=120
`

const chainParts = common + `
small: [[sprocket]] side="motor" profile="chain-06c" teeth=12 bore_mm=8 shaft_key="keyway" price=9 mass_g=40
large: [[sprocket]] side="wheel" profile="chain-06c" teeth=30 hub="spoke" price=22 mass_g=180
chain: [[chain]] profile="chain-06c" links=40 breaking_n=8000 price=8 mass_g=130
mount: [[mount]] centre_min_mm=60 centre_max_mm=120 angle_deg=0 price=30 mass_g=120
`

const gearParts = common + `
gear: [[gear_drive]] ratio=3 efficiency=0.97 bore_mm=8 shaft_key="keyway" hub="spoke" max_torque_nm=40 outside_mm=76 angle_deg=0 price=150 mass_g=500
`

// sections are those of the brief.
const sections = `
rider: [rider] drag_area_m2=0.55
board: [board]
ground: [ground]
target: [target]
limit: [limit] winding_c=20 ride_factor=1.2
ride: [ride] stops_per_km=0
weights: [weights]
tolerance: [tolerance]
keep: [keep]
avoid: [avoid]
`

// The kits.
const (
	Belts  = "belts"
	Chains = "chains"
	Gears  = "gears"
)

// New makes a kit and changes it, as Change says.
func New(drive string, changes ...string) *Kit {
	parts := map[string]string{Belts: beltParts, Chains: chainParts, Gears: gearParts}[drive]
	k := &Kit{brief: tables(sections)}
	k.Add(parts)
	k.Change(changes...)
	return k
}

// Add adds parts, each a line of the form "id: [[kind]] key=value …".
func (k *Kit) Add(parts string) {
	for _, t := range tables(parts) {
		t.keys = slices.Insert(t.keys, 0, "id")
		t.values["id"] = fmt.Sprintf("%q", t.name)
		k.parts = append(k.parts, t)
	}
}

// tables reads lines of the form "name: header key=value …".
func tables(text string) []*table {
	var out []*table
	for line := range strings.Lines(strings.TrimSpace(text)) {
		name, rest, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if !ok {
			continue
		}
		words := strings.Fields(rest)
		t := &table{name: name, header: words[0], values: map[string]string{}}
		for _, word := range words[1:] {
			key, value, _ := strings.Cut(word, "=")
			t.set(key, value)
		}
		out = append(out, t)
	}
	return out
}

func (t *table) set(key, value string) {
	if _, ok := t.values[key]; !ok {
		t.keys = append(t.keys, key)
	}
	t.values[key] = value
}

func (t *table) unset(key string) {
	if _, ok := t.values[key]; !ok {
		panic("no such key of a kit: " + t.name + "." + key)
	}
	t.keys = slices.DeleteFunc(t.keys, func(s string) bool { return s == key })
	delete(t.values, key)
}

// Change makes changes: "part.key = value" or "section.key = value" to set a key,
// "-part.key" to take it out, "-part" to take out a part, and "[[kind]] …" for
// more of the catalog, line breaks and all. A section that the kit does not have
// is a new one.
func (k *Kit) Change(changes ...string) {
	for _, c := range changes {
		if strings.HasPrefix(c, "[[") {
			k.extra = append(k.extra, c)
			continue
		}
		what, value, set := strings.Cut(c, " = ")
		what, out := strings.CutPrefix(what, "-")
		name, key, _ := strings.Cut(what, ".")
		t := find(k.parts, name)
		if t == nil {
			t = find(k.brief, name)
		}
		if t == nil && set {
			t = &table{name: name, header: "[" + name + "]", values: map[string]string{}}
			k.brief = append(k.brief, t)
		}
		switch {
		case t == nil || set == out:
			panic("no such change of a kit: " + c)
		case out && key == "":
			k.parts = slices.DeleteFunc(k.parts, func(x *table) bool { return x == t })
		case out:
			t.unset(key)
		default:
			t.set(key, value)
		}
	}
}

// Has reports whether a part or a section has a key.
func (k *Kit) Has(name, key string) bool {
	for _, t := range slices.Concat(k.parts, k.brief) {
		if _, ok := t.values[key]; ok && t.name == name {
			return true
		}
	}
	return false
}

func find(list []*table, name string) *table {
	if i := slices.IndexFunc(list, func(t *table) bool { return t.name == name }); i >= 0 {
		return list[i]
	}
	return nil
}

func text(tables []*table) string {
	s := "schema = 1\n"
	for _, t := range tables {
		s += "\n" + t.header + "\n"
		for _, key := range t.keys {
			s += key + " = " + t.values[key] + "\n"
		}
	}
	return s
}

// Catalog is the catalog's file.
func (k *Kit) Catalog() field.Source {
	return field.Source{Name: "catalog.toml", Data: []byte(text(k.parts) + "\n" + strings.Join(k.extra, "\n") + "\n")}
}

// Brief is the brief's file.
func (k *Kit) Brief() field.Source {
	return field.Source{Name: "brief.toml", Data: []byte(text(k.brief))}
}
