package main

import (
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gearsearch/catalog"
)

// accessories are what the shop of the tests lacks for a shopping list.
const accessories = `
[[bms]]
id = "guard"
series = 10
charge_a = 10
discharge_a = 80
peak_discharge_a = 120
cell_full_v = 4.25
cell_cutoff_v = 2.7
price = 30
[[switch]]
id = "main"
max_volts = 60
continuous_a = 90
peak_a = 160
precharge = true
price = 40
[[fuse]]
id = "blade"
rated_a = 75
max_volts_dc = 70
breaking_a = 2000
price = 6
[[connector]]
id = "plug"
poles = 2
continuous_a = 90
max_volts = 60
wire_max_mm2 = 16
price = 4
[[wire]]
id = "soft"
area_mm2 = 6
max_volts = 300
insulation_c = 150
price = 3
[[charger]]
id = "wall"
full_v = 42
current_a = 4
price = 48
[[remote]]
id = "hand"
failsafe = true
price = 69
[[box]]
id = "flat"
length_mm = 400
width_mm = 200
height_mm = 90
price = 75
`

// partPromises are the promises of keys of parts whose default is more than a
// value, by kind and key: under is a line that the part has besides.
var partPromises = map[string][]promise{
	"motor.pole_pairs":           {{"", "7", "6"}},
	"gear_drive.efficiency":      {{"", "0.97", "0.9"}, {"in_wheel = true", "1", "0.9"}},
	"wheel.tyre":                 {{"", `"urethane"`, `"rubber"`}},
	"wheel.rolling_radius_ratio": {{"", "1", "0.9"}, {`tyre = "pneumatic"`, "0.97", "0.9"}},
	"pulley.shaft_key":           {{"", `"plain"`, `"flat"`}},
	"sprocket.shaft_key":         {{"", `"plain"`, `"flat"`}},
	"gear_drive.shaft_key":       {{"", `"plain"`, `"flat"`}},
	"battery.wiring_mohm":        {{"", "0", "20"}},
	"mount.idler":                {{"", "false", "true"}},
	"gear_drive.in_wheel":        {{"", "false", "true"}},
	"motor.owned":                {{"", "false", "true"}},
}

// partsWithoutPromise are defaults that say where a value comes from.
var partsWithoutPromise = []string{
	"the id", "the cells'", "none: then nominal_v and full_v are given", "driven_teeth / driver_teeth", "any, by bore", "any, by hub",
	"by tyre and surface", "li-ion assumed", "it does not carry the discharge", "bought", "ISO 606's least",
}

// TestDefaultsOfParts leaves out, gives and changes each key that has a default,
// in the catalog of a build of each sort of drive.
func TestDefaultsOfParts(t *testing.T) {
	if testing.Short() {
		t.Skip("asks hundreds of times")
	}
	shop, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	belts, err := os.ReadFile("testdata/shop/build.toml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	gears := regexp.MustCompile(`(?m)^(motor_pulley|wheel_pulley|mount|belt) = .*\n`).ReplaceAllString(string(belts), "") + "gear_drive = \"spur-2.9\"\n"
	write(t, "belts.toml", string(belts))
	write(t, "gears.toml", gears)
	write(t, "chains.toml", strings.NewReplacer(`"cog-15"`, `"pin"`, `"ring-44"`, `"star"`, `"loop-65"`, `"run"`).Replace(string(belts)))
	// A pack without a price of its own is bought as its cells.
	write(t, "cells.toml", strings.Replace(gears, `"brick-10s3p"`, `"loose"`, 1))
	write(t, "brief.toml", asksAll)
	full := strings.NewReplacer(
		"series = [10, 12]\nparallel = [3, 3]", "series = 10\nparallel = 3", "id = \"brick\"", "id = \"brick-10s3p\"",
		"id = \"marl-21\"\n", "id = \"marl-21\"\ncharge_a = 4\ndiameter_mm = 21\nlength_mm = 70\n", "price = [230, 270]", "price = 230",
	).Replace(string(shop)) + accessories + `
` + chainParts + `[[battery]]
id = "loose"
cell = "marl-21"
series = 10
parallel = 3
`
	answers := map[string]string{}
	ask := func(text string) string {
		if _, ok := answers[text]; !ok {
			write(t, "parts.toml", text)
			all := ""
			for _, line := range []string{"sheet belts.toml", "sheet chains.toml", "sheet gears.toml", "sheet cells.toml", "parts belts.toml", "parts chains.toml", "parts gears.toml", "parts cells.toml"} {
				all += bearings(t, line+" --catalog parts.toml --brief brief.toml --format json")
			}
			answers[text] = all
		}
		return answers[text]
	}
	for _, k := range catalog.Kinds() {
		for _, f := range k.Fields {
			name := k.Name + "." + f.Key
			promises, ok := partPromises[name]
			switch {
			case ok:
			case f.Default == "" || f.Required || slices.Contains(partsWithoutPromise, f.Default):
				continue
			case f.Key == "owned":
				promises = partPromises["motor.owned"]
			case len(f.Words) > 0:
				others := slices.DeleteFunc(slices.Clone(f.Words), func(w string) bool { return w == f.Default })
				promises = []promise{{"", strconv.Quote(f.Default), strconv.Quote(others[0])}}
			default:
				x, err := strconv.ParseFloat(f.Default, 64)
				if err != nil {
					t.Errorf("%s: the default %q is no value; say in this test what it promises", name, f.Default)
					continue
				}
				other := 0.9 * x
				if f.Whole {
					other = x + 1
				}
				promises = []promise{{"", f.Default, strconv.FormatFloat(other, 'g', -1, 64)}}
			}
			for _, p := range promises {
				if !strings.Contains(f.Default, strings.Trim(p.value, `"`)) {
					t.Errorf("%s: %q says nothing of %s", name, f.Default, p.value)
				}
				given := func(value string) string { return partsWith(full, k.Name, f.Key, value, p.under) }
				without := ask(given(""))
				if ask(given(p.value)) != without {
					t.Errorf("%s: %q promises %s, and with it given the answer is another", name, f.Default, p.value)
				}
				if ask(given(p.other)) == without && !slices.Contains(unseen, name) {
					t.Errorf("%s: %s in place of %s changes nothing: this test would not notice a wrong default", name, p.other, p.value)
				}
			}
		}
	}
}

// unseen are keys on which no answer here bears: a profile is not bought, and an
// idler is spoken of where few teeth are in mesh.
var unseen = []string{"profile.sold_in", "profile.owned", "mount.idler"}

// partsWith is a catalog in which every part of a kind has a key at a value, or
// not at all where that is "", and another line besides.
func partsWith(text, kind, key, value, besides string) string {
	var out []string
	in := false
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "[[") {
			in = strings.HasPrefix(line, "[["+kind+"]]")
			out = append(out, line)
			if in {
				if value != "" {
					out = append(out, key+" = "+value+"\n")
				}
				if besides != "" {
					out = append(out, besides+"\n")
				}
			}
			continue
		}
		other, _, _ := strings.Cut(besides, " = ")
		if name, _, _ := strings.Cut(line, " = "); in && (name == key || name == other) {
			continue
		}
		out = append(out, line)
	}
	return strings.Join(out, "")
}

// TestStarterShowsDefaultsOfParts: a value in a comment of the catalog to begin
// with, beside a key that has a default, is that default.
func TestStarterShowsDefaultsOfParts(t *testing.T) {
	parts, _ := catalog.Starter()
	defaults := map[string]map[string]string{}
	for _, k := range catalog.Kinds() {
		defaults[k.Name] = map[string]string{}
		for _, f := range k.Fields {
			defaults[k.Name][f.Key] = f.Default
		}
	}
	examples := []string{"motor.owned", "motor.made", "mount.idler", "gear_drive.in_wheel", "gear_drive.ratio", "gear_drive.fits_motors", "gear_drive.fits_wheels", "wheel.rolling_resistance", "chain.breaking_n", "sprocket.shaft_key"}
	kind, shown := "", map[string]bool{}
	for line := range strings.Lines(string(parts.Data)) {
		if m := regexp.MustCompile(`^#?\[\[(\w+)\]\]`).FindStringSubmatch(line); m != nil {
			kind = m[1]
		}
		m := regexp.MustCompile(`^#(\w+) = "?([^"#]*?)"?\s*(#.*)?\n`).FindStringSubmatch(line)
		if m == nil {
			continue
		}
		name, value := kind+"."+m[1], m[2]
		promised := defaults[kind][m[1]]
		if promised == "" || promised == "the cells'" || slices.Contains(examples, name) {
			continue
		}
		shown[name] = true
		if first, _, _ := strings.Cut(promised, ","); value != strings.TrimSuffix(first, " assumed") {
			t.Errorf("the starter's catalog shows %s as %s, where %q is promised", name, value, promised)
		}
	}
	if len(shown) < 4 {
		t.Errorf("only %v are shown", slices.Sorted(maps.Keys(shown)))
	}
}
