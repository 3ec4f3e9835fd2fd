package say

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// How many characters there are for what is asked, in two lines of 80 columns beside
// a label, and for what else there is in one, "and 9 more" left out.
const (
	askedRoom = 130
	rideRoom  = 58
)

// AskedShort says what a brief asks in a line or two: targets and limits first,
// as riders speak of them, then as many of the other keys as there is room for.
func AskedShort(p *constraints.Problem, system quantity.System) string {
	k := briefWords(p, system)
	return fitting(append(k.targets(), k.yours()...), k.others(), askedRoom)
}

// RideShort says in a line for what rider and ride a brief is, and what else is at
// other than its default.
func RideShort(p *constraints.Problem, system quantity.System) string {
	k := briefWords(p, system)
	k.targets()
	return fitting(k.yours(), k.others(), rideRoom)
}

// fitting lists all of the first, and of the others as many as there is room for.
func fitting(first, others []string, room int) string {
	for _, text := range first {
		room -= layout.Width(text) + len(", ")
	}
	left := len(others)
	for _, text := range others {
		if room -= layout.Width(text) + len(", "); room < 0 {
			break
		}
		first = append(first, text)
		left--
	}
	if left > 0 {
		first = append(first, fmt.Sprintf("and %d more", left))
	}
	return strings.Join(first, ", ")
}

// askedKeys are the keys of a brief that are not at their default, and which of
// them were spoken of.
type askedKeys struct {
	p      *constraints.Problem
	system quantity.System
	values map[string]constraints.ResolvedKey // that have a value, by section.key
	spoken map[string]bool
}

func briefWords(p *constraints.Problem, system quantity.System) *askedKeys {
	k := &askedKeys{p, system, map[string]constraints.ResolvedKey{}, map[string]bool{}}
	for _, s := range p.Brief.Values() {
		for _, key := range s.Keys {
			if key.Value != nil {
				k.values[s.Name+"."+key.Key] = key
			}
		}
	}
	return k
}

// with is a number of the brief with its unit between two texts; "" where there is
// none.
func (k *askedKeys) with(before, key, after string) string {
	text := k.number(key)
	if text == "" {
		return ""
	}
	return before + text + after
}

// number is a number of the brief with its unit, which is spoken of with that.
func (k *askedKeys) number(key string) string {
	v := k.values[key]
	x, ok := v.Value.(float64)
	if !ok {
		return ""
	}
	k.spoken[key] = true
	unit, factor := k.system.Show(v.Unit)
	if v.Key == "price" {
		unit = k.p.Catalog.Currency
	}
	return strings.TrimSuffix(Short(x*factor)+NBSP+unit, NBSP)
}

// unless is with, where the key is not at its default.
func (k *askedKeys) unless(before, key string) string {
	if v := k.values[key]; !v.Differs() {
		return ""
	}
	return k.with(before, key, "")
}

// targets are the targets and limits.
func (k *askedKeys) targets() []string {
	list := []string{k.speeds()}
	if text := k.with("", "target.climb_grade_pct", ""); text != "" {
		list = append(list, text+k.with(" for ", "target.climb_length_m", "")+k.with(" at ", "target.climb_speed_kmh", ""))
	}
	list = append(list, k.with("", "target.hill_torque_nm", " on the hill"))
	if text := k.with("", "target.launch_speed_kmh", ""); text != "" {
		list = append(list, text+k.with(" in ", "target.launch_s", ""))
	}
	if text := k.with("stop in ", "target.stop_m", ""); text != "" {
		list = append(list, text+k.unless(" from ", "target.stop_from_kmh"))
	}
	if text := k.with("", "target.range_km", ""); text != "" {
		list = append(list, text+k.unless(" at ", "target.cruise_kmh"))
	}
	list = append(list, k.route())
	list = append(list,
		k.with("", "limit.price", ""), k.with("board"+NBSP, "limit.mass_kg", ""), k.with("", "limit.erpm_ceiling", " of erpm"))
	return slices.DeleteFunc(list, func(s string) bool { return s == "" })
}

// route is the way to ride, with its length.
func (k *askedKeys) route() string {
	way := k.p.Brief.Way
	if way == nil {
		return ""
	}
	k.spoken["ride.route"] = true
	return RouteName(way) + NBSP + "(" + kilometres(way.Length(), k.system) + ")"
}

// speeds are the least and the greatest top speed.
func (k *askedKeys) speeds() string {
	least, most := k.number("target.top_speed_kmh"), k.number("target.top_speed_max_kmh")
	switch {
	case least == "" && most == "":
		return ""
	case most == "":
		return "at least " + least
	case least == "":
		return "at most " + most
	}
	from, _, _ := strings.Cut(least, NBSP)
	return from + "–" + most
}

// yours are the values that are the rider's own, in a text.
func (k *askedKeys) yours() []string {
	if text := Yours(k.p); text != "" {
		return []string{text}
	}
	return nil
}

// others are the other keys, parts and checks before conditions.
func (k *askedKeys) others() []string {
	var first, last []string
	for _, s := range k.p.Brief.Values() {
		for _, key := range s.Keys {
			if s.Name == "weights" || k.spoken[s.Name+"."+key.Key] || !key.Differs() || isYours(k.p, s.Name, key.Key) {
				continue
			}
			text := strings.ReplaceAll(keyText(k.p, s.Name, key, k.system), " ", NBSP)
			if s.Name == "keep" || s.Name == "avoid" || key.Key == "demote" {
				first = append(first, keyText(k.p, s.Name, key, k.system))
			} else {
				last = append(last, text)
			}
		}
	}
	return append(first, last...)
}
