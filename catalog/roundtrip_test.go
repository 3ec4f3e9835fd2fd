package catalog

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// written is one part as a person writes it: the text of each value, and what
// it is.
type written struct {
	kind   string
	keys   []string // in some order
	values map[string]any
}

// genCatalog draws parts of every kind with any of their keys, values anywhere
// in their ranges, and references among them.
func genCatalog(t *rapid.T) []written {
	var out []written
	ids := map[string][]string{}
	for _, k := range Kinds() { // every kind before battery, gear_drive is there when it is referred to
		if k.Name == "gear_drive" {
			continue
		}
		for i := range rapid.IntRange(0, 3).Draw(t, k.Name) {
			id := fmt.Sprintf("%s-%d", strings.ReplaceAll(k.Name, "_", "."), i)
			out = append(out, genPart(t, k, id, ids))
			ids[k.Name] = append(ids[k.Name], id)
		}
	}
	gears := Kinds()[slices.Index(KindNames(), "gear_drive")]
	for i := range rapid.IntRange(0, 3).Draw(t, "gear_drive") {
		out = append(out, genPart(t, gears, fmt.Sprintf("gear-%d", i), ids))
	}
	return out
}

func genPart(t *rapid.T, k KindInfo, id string, ids map[string][]string) written {
	w := written{kind: k.Name, values: map[string]any{}}
	for i := range k.Fields {
		f := &k.Fields[i]
		if f.Required || rapid.Bool().Draw(t, f.Key) {
			w.values[f.Key] = genValue(t, f, ids)
		}
	}
	w.values["id"] = id
	w.agree(t, ids)
	for key := range w.values {
		if w.values[key] == nil {
			delete(w.values, key)
		} else {
			w.keys = append(w.keys, key)
		}
	}
	slices.Sort(w.keys)
	w.keys = rapid.Permutation(w.keys).Draw(t, "order")
	return w
}

// agree makes the keys of a part agree with each other.
func (w *written) agree(t *rapid.T, ids map[string][]string) {
	ascending := func(keys ...string) {
		var xs []float64
		for _, key := range keys {
			xs = append(xs, w.values[key].(float64))
		}
		slices.Sort(xs)
		for i, key := range keys {
			w.values[key] = xs[i]
		}
	}
	switch w.kind {
	case "cell":
		ascending("cutoff_v", "nominal_v", "full_v")
		if w.values["cutoff_v"] == w.values["nominal_v"] {
			w.values["cutoff_v"], w.values["nominal_v"], w.values["full_v"] = 2.5, 3.6, 4.2
		}
	case "battery":
		cells := append(ids["cell"], "")
		if cell := rapid.SampledFrom(cells).Draw(t, "cell"); cell != "" {
			w.values["cell"], w.values["nominal_v"], w.values["full_v"], w.values["cutoff_v"] = cell, nil, nil, nil
			w.values["chemistry"] = nil
		} else {
			s := w.values["series"].(float64)
			w.values["cell"], w.values["nominal_v"], w.values["full_v"], w.values["cutoff_v"] = nil, 3.5*s, 4*s, 3*s
		}
	case "sprocket", "chain":
		w.values["profile"] = rapid.SampledFrom([]string{"chain-04c", "chain-05b", "chain-06c"}).Draw(t, "chain")
	case "mount":
		ascending("centre_min_mm", "centre_max_mm")
	case "gear_drive":
		if rapid.Bool().Draw(t, "teeth") {
			w.values["ratio"], w.values["driver_teeth"], w.values["driven_teeth"] = nil, 12.0, 37.0
		} else {
			w.values["ratio"], w.values["driver_teeth"], w.values["driven_teeth"] = 2.25, nil, nil
		}
	case "bms":
		if w.values["discharge_a"] == nil {
			w.values["peak_discharge_a"] = nil
		}
		w.values["cell_full_v"], w.values["cell_cutoff_v"] = 4.2, 2.8
		if w.values["balance"] == "none" {
			w.values["balance_ma"] = nil
		}
	case "fuse":
		if w.values["breaking_a"] != nil {
			ascending("rated_a", "breaking_a")
			w.values["rated_a"] = math.Min(w.values["rated_a"].(float64), 5000)
		}
	case "connector":
		w.values[rapid.SampledFrom([]string{"wire_max_awg", "wire_max_mm2"}).Draw(t, "not")] = nil
	case "wire":
		w.values["awg"], w.values["area_mm2"] = nil, nil
		if rapid.Bool().Draw(t, "gauge") {
			w.values["awg"] = float64(rapid.IntRange(-3, 40).Draw(t, "awg"))
		} else {
			w.values["area_mm2"] = 2.5
		}
	}
}

// genValue draws a value that a row allows.
func genValue(t *rapid.T, f *field.Info, ids map[string][]string) any {
	switch f.Type {
	case field.TypeNumber:
		// Five significant digits, as people write, or all that there are.
		x := f.Min + rapid.Float64Range(0.0001, 1).Draw(t, f.Key)*(f.Max-f.Min)
		x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', rapid.SampledFrom([]int{5, 17}).Draw(t, "digits"), 64), 64)
		return math.Min(x, f.Max)
	case field.TypeWhole:
		return float64(rapid.IntRange(int(f.Min), int(f.Max)).Draw(t, f.Key))
	case field.TypeDay:
		return fmt.Sprintf("20%02d-%02d-%02d", rapid.IntRange(0, 99).Draw(t, "year"), rapid.IntRange(1, 12).Draw(t, "month"), rapid.IntRange(1, 28).Draw(t, "day"))
	case field.TypeWord:
		return rapid.SampledFrom(f.Words).Draw(t, f.Key)
	case field.TypeFlag:
		return rapid.Bool().Draw(t, f.Key)
	case field.TypeID: // of a profile; other ids are put in later
		return rapid.SampledFrom([]string{"htd-5m", "gt-3", "l"}).Draw(t, f.Key)
	case field.TypeTexts:
		if f.ID {
			kind := strings.TrimSuffix(strings.TrimPrefix(f.Key, "fits_"), "s")
			if len(ids[kind]) == 0 {
				return nil
			}
			return rapid.SliceOfN(rapid.SampledFrom(ids[kind]), 1, 3).Draw(t, f.Key)
		}
		return rapid.SliceOfN(genText(`[a-z0-9"ä日' -]{1,8}`), 1, 3).Draw(t, f.Key)
	}
	return genText(`[A-Za-z0-9",;:'\\#|=\[\]{}ä日Ω -]{1,12}`).Draw(t, f.Key)
}

// genText draws text that is not blank, and not led or ended by blanks, which
// cells of a list do not keep.
func genText(pattern string) *rapid.Generator[string] {
	return rapid.Map(rapid.StringMatching(pattern), func(s string) string {
		if s = strings.TrimSpace(s); s == "" {
			return "x"
		}
		return s
	})
}

// toml writes parts as a TOML file.
func toTOML(parts []written) Source {
	var b bytes.Buffer
	b.WriteString("schema = 1\n")
	for _, p := range parts {
		fmt.Fprintf(&b, "[[%s]]\n", p.kind)
		for _, key := range p.keys {
			fmt.Fprintf(&b, "%s = %s\n", key, tomlValue(p.values[key]))
		}
	}
	return Source{Name: "parts.toml", Data: b.Bytes()}
}

func tomlValue(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case bool:
		return strconv.FormatBool(v)
	case string:
		return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(v) + `"`
	case []string:
		var items []string
		for _, s := range v {
			items = append(items, tomlValue(s))
		}
		return "[" + strings.Join(items, ", ") + "]"
	}
	panic(fmt.Sprintf("no TOML for %T", v))
}

// toCSV writes parts as CSV files, one for each kind that has any.
func toCSV(t *rapid.T, parts []written) []Source {
	var out []Source
	for _, k := range Kinds() {
		var header []string
		for _, f := range k.Fields {
			header = append(header, f.Key)
		}
		header = rapid.Permutation(header).Draw(t, "columns")
		rows := [][]string{header}
		for _, p := range parts {
			if p.kind != k.Name {
				continue
			}
			var row []string
			for _, key := range header {
				row = append(row, field.Cell(p.values[key]))
			}
			rows = append(rows, row)
		}
		var b bytes.Buffer
		if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		out = append(out, Source{Name: k.Name + ".csv", Data: b.Bytes()})
	}
	return out
}

// numbers are two values as numbers; ok is false where one is none.
func numbers(a, b any) (x, y float64, ok bool) {
	x, isX := a.(float64)
	y, isY := b.(float64)
	return x, y, isX && isY
}

// ignoreChanges leaves out how parts came to be what they are.
var ignoreChanges = cmpopts.IgnoreFields(Catalog{}, "Changes", "Rates")

var sameParts = cmp.Options{
	cmpopts.EquateNaNs(),
	cmpopts.IgnoreFields(Part{}, "Pos", "Family"),
	cmpopts.IgnoreFields(Catalog{}, "Files"),
	cmpopts.IgnoreUnexported(Catalog{}, Part{}),
}

// What is written is read, from TOML and from CSV alike, and what is read is
// written as CSV so that it reads the same again.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := genCatalog(t)
		src := toTOML(parts)
		fromTOML, err := Read(src)
		if err != nil {
			t.Fatalf("%v\n%s", err, src.Data)
		}
		for _, p := range parts {
			got := map[string]any{}
			for in, v := range fromTOML.Values(p.kind, p.values["id"].(string)) {
				got[in.Key] = v
			}
			for key, want := range p.values {
				if n, ok := got[key].(int); ok {
					got[key] = float64(n)
				}
				if want == false && got[key] == nil {
					continue // owned and the like: absent is false
				}
				// Neighbours in the key's unit may be one number in SI units.
				if x, y, ok := numbers(want, got[key]); ok && math.Nextafter(x, y) == y {
					continue
				}
				if !cmp.Equal(got[key], want) {
					t.Fatalf("%s of %s is %v, was written %v", key, p.values["id"], got[key], want)
				}
			}
		}
		files := toCSV(t, parts)
		fromCSV, err := Read(files...)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(fromTOML, fromCSV, sameParts); diff != "" {
			t.Fatalf("CSV reads differently (-TOML +CSV):\n%s", diff)
		}
		var again []Source
		for _, name := range KindNames() {
			var b bytes.Buffer
			if err := fromTOML.WriteCSV(&b, name); err != nil {
				t.Fatal(err)
			}
			again = append(again, Source{Name: name + ".csv", Data: b.Bytes()})
		}
		rewritten, err := Read(again...)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(fromTOML, rewritten, sameParts); diff != "" {
			t.Fatalf("WriteCSV loses something (-read +written and read):\n%s", diff)
		}
	})
}

// The order of parts and of files changes nothing.
func TestOrderOfParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := genCatalog(t)
		one, err := Read(toTOML(parts))
		if err != nil {
			t.Fatal(err)
		}
		shuffled := rapid.Permutation(parts).Draw(t, "order")
		cut := rapid.IntRange(0, len(parts)).Draw(t, "cut")
		two, err := Read(toTOML(shuffled[:cut]), toTOML(shuffled[cut:]))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(one, two, sameParts); diff != "" {
			t.Fatalf("order changes the catalog:\n%s", diff)
		}
	})
}
