package constraints

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// asTOML writes sections as a brief that reads back as the same.
func asTOML(sections []ResolvedSection) string {
	s := "schema = 1\n"
	for _, section := range sections {
		s += "\n[" + section.Name + "]\n"
		for _, k := range section.Keys {
			if text := tomlValue(k.Value); text != "" {
				s += k.Key + " = " + text + "\n"
			}
		}
	}
	return s
}

// tomlValue is a value as TOML writes it, "" for nil and for empty lists,
// which mean the same as none.
func tomlValue(value any) string {
	switch v := value.(type) {
	case float64:
		return field.FormatNumber(v)
	case bool:
		return strconv.FormatBool(v)
	case string:
		return strconv.Quote(v)
	case []string:
		return tomlList(v)
	case []float64:
		return tomlList(v)
	case nil:
		return ""
	}
	panic(fmt.Sprintf("no such value in a brief: %T", value))
}

func tomlList[T any](list []T) string {
	var items []string
	for _, x := range list {
		items = append(items, tomlValue(x))
	}
	if items == nil {
		return ""
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// TestResolvedRoundTrip: the brief with its defaults filled in, written out and
// read again, asks for the same.
func TestResolvedRoundTrip(t *testing.T) {
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	briefs := map[string]*Brief{"nothing asked for": DefaultBrief()}
	for _, src := range catalog.DemoBriefs() {
		if briefs[src.Name], err = ReadBrief(src); err != nil {
			t.Fatal(err)
		}
	}
	for name, b := range briefs {
		p, err := NewProblem(c, b)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		text := asTOML(p.Resolved())
		again, err := ReadBrief(source("resolved.toml", text))
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, text)
		}
		q, err := NewProblem(c, again)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if d := cmp.Diff(p.Resolved(), q.Resolved(), cmpopts.EquateApprox(1e-14, 0)); d != "" {
			t.Errorf("%s: written out and read again (-want +got):\n%s", name, d)
		}
		if !near(q.AirDensity, p.AirDensity, 1e-14) || q.Grip != p.Grip || q.DragArea != p.DragArea || q.Stance != p.Stance || q.Combinations() != p.Combinations() {
			t.Errorf("%s: other conditions: %v and %v, %v and %v, %v and %v", name, p.AirDensity, q.AirDensity, p.Grip, q.Grip, p.Stance, q.Stance)
		}
		x, y := first(p), first(q)
		for _, f := range Figures() {
			if f.Value != nil && !near(f.Value(y), f.Value(x), 1e-12) {
				t.Errorf("%s: %s is %v, was %v", name, f.Name, f.Value(y), f.Value(x))
			}
		}
	}
}

// TestDefaultsAsWritten: a default has the bits of the same value written.
func TestDefaultsAsWritten(t *testing.T) {
	b, err := ReadBrief(source("brief.toml", asTOML(DefaultBrief().Values())))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(DefaultBrief(), b, asWritten()); d != "" {
		t.Errorf("defaults written out and read (-default +read):\n%s", d)
	}
}

// TestResolvedFillsIn: what is null in the resolved brief is what the format
// says has no default, or follows from wheel or motor count.
func TestResolvedFillsIn(t *testing.T) {
	var null []string
	for _, section := range problem(t, onBelts, "ground.altitude_m = 500").Resolved() {
		for _, k := range section.Keys {
			if k.Value == nil && section.Name != "keep" && section.Name != "avoid" {
				null = append(null, section.Name+"."+k.Key)
			}
			if section.Name+"."+k.Key == "ground.air_density_kg_m3" && !near(k.Value.(float64), 1.1673, 1e-4) { // ISO 2533 at 500 m
				t.Errorf("air density resolved to %v", k.Value)
			}
		}
	}
	want := []string{
		"board.hanger_mm", "board.sensored", "ground.rolling_resistance", "ground.temperature_c", "target.top_speed_kmh",
		"target.top_speed_max_kmh", "target.climb_grade_pct", "target.climb_length_m", "target.stop_m", "target.hill_torque_nm", "target.launch_speed_kmh", "target.launch_s",
		"target.range_km", "limit.erpm_ceiling", "limit.price", "limit.mass_kg", "ride.route",
	}
	if d := cmp.Diff(want, null); d != "" {
		t.Errorf("keys without a value (-want +got):\n%s", d)
	}
}

// drawBrief draws the text of a brief without mistakes, and the value written
// for each key.
func drawBrief(r *rapid.T) (text string, written map[string]any) {
	written = map[string]any{}
	for _, k := range BriefKeys() {
		name := k.Section + "." + k.Key
		if rapid.IntRange(0, 2).Draw(r, "set "+name) > 0 {
			written[name] = drawValue(r, k)
		}
	}
	// What contradicts itself is set right.
	if _, ok := written["target.launch_speed_kmh"]; !ok {
		delete(written, "target.launch_s")
	}
	speed, aimed := written["target.top_speed_kmh"].(float64)
	if !aimed {
		delete(written, "limit.erpm_rule")
	}
	if most, ok := written["target.top_speed_max_kmh"].(float64); ok && aimed && most < speed {
		delete(written, "target.top_speed_max_kmh")
	}
	text = "schema = 1\n"
	section := ""
	for _, k := range BriefKeys() {
		v, ok := written[k.Section+"."+k.Key]
		if !ok {
			continue
		}
		if section != k.Section {
			section = k.Section
			text += "\n[" + section + "]\n"
		}
		text += k.Key + " = " + tomlValue(v) + "\n"
	}
	return text, written
}

// drawValue draws a value that a key allows.
func drawValue(r *rapid.T, k BriefKey) any {
	name := k.Section + "." + k.Key
	switch {
	case name == "board.motors":
		return rapid.Permutation([]float64{1, 2, 4}).Draw(r, name)[:rapid.IntRange(1, 3).Draw(r, "counts")]
	case k.Section == "keep" || k.Section == "avoid":
		ids := []string{k.Section + "-a", k.Section + "-b", k.Section + "-c"}
		return rapid.Permutation(ids).Draw(r, name)[:rapid.IntRange(1, 3).Draw(r, "ids")]
	case k.Type == field.TypeFlag:
		return rapid.Bool().Draw(r, name)
	case k.Type == field.TypeText:
		return rapid.StringMatching(`[a-z]{1,6}(/[a-z ]{0,4}[a-z])?\.(csv|gpx)`).Draw(r, name)
	case k.Type == field.TypeTexts:
		return rapid.SliceOfNDistinct(rapid.SampledFrom(k.Words), 1, 4, func(s string) string { return s }).Draw(r, name)
	case k.Type == field.TypeWord, k.Type == field.TypeNumberOrWord && rapid.Bool().Draw(r, "word"):
		return rapid.SampledFrom(k.Words).Draw(r, name)
	}
	low, high := k.Min, k.Max
	if math.IsInf(low, 0) || math.IsInf(high, 0) {
		panic(name + " has no range: " + k.Range())
	}
	const steps = 1000
	step := rapid.IntRange(0, steps).Draw(r, name)
	if k.Above {
		step = max(step, 1)
	}
	x := low + (high-low)*float64(step)/steps
	if k.Whole {
		return math.Round(x)
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	return x
}

// TestRandomBriefs: a brief reads as written, key by key, and reads the same
// again when it is written out.
func TestRandomBriefs(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text, written := drawBrief(r)
		b, err := ReadBrief(source("brief.toml", text))
		if err != nil {
			r.Fatalf("%v\n%s", err, text)
		}
		for _, section := range b.Values() {
			for _, k := range section.Keys {
				want, ok := written[section.Name+"."+k.Key]
				if ok && !reflect.DeepEqual(k.Value, want) {
					r.Fatalf("%s.%s is %v, written as %v", section.Name, k.Key, k.Value, want)
				}
			}
		}
		again, err := ReadBrief(source("again.toml", asTOML(b.Values())))
		if err != nil {
			r.Fatal(err)
		}
		if d := cmp.Diff(b, again, asWritten()); d != "" {
			r.Fatalf("written out and read again (-want +got):\n%s", d)
		}
	})
}

// mayBeUnset are the numbers of a brief that NaN stands in for, by field.
var mayBeUnset = strings.Fields(`Rider.DragArea Board.Hanger Ground.RollingResistance Ground.AirDensity Ground.Altitude
	Ground.Temperature Ground.Grip Target.TopSpeed Target.TopSpeedMax Target.ClimbGrade Target.ClimbLength Target.Stop Target.HillTorque Target.LaunchSpeed
	Target.LaunchTime Target.Range Limit.ERPMCeiling Limit.Price Limit.Mass`)

// badNumbers lists the numbers of a value that are not finite and not allowed
// to be unset.
func badNumbers(path string, v reflect.Value) []string {
	var bad []string
	switch v.Kind() {
	case reflect.Float64:
		x := v.Float()
		if math.IsInf(x, 0) || math.IsNaN(x) && !slices.Contains(mayBeUnset, path) {
			return []string{fmt.Sprintf("%s is %v", path, x)}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && f.Name != "Charge" {
				bad = append(bad, badNumbers(strings.TrimPrefix(path+"."+f.Name, "."), v.Field(i))...)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			bad = append(bad, badNumbers(path+"[]", v.Index(i))...)
		}
	}
	return bad
}

// FuzzBrief: no text makes reading a brief panic; what is accepted has finite
// numbers and reads the same when written out; what is not is explained at a
// place in the text.
func FuzzBrief(f *testing.F) {
	f.Add(everyKey)
	for _, m := range wrongBriefs() {
		f.Add(m.text)
	}
	for _, src := range catalog.DemoBriefs() {
		f.Add(string(src.Data))
	}
	k := newKit(onBelts)
	c, _ := read(f, k)
	f.Add(string(k.Brief().Data))
	f.Add("\xef\xbb\xbfschema = 1\r\n[rider]\r\nmass_kg = 8e1\r\n")
	f.Fuzz(func(t *testing.T, text string) {
		b, err := ReadBrief(source("brief.toml", text))
		if err != nil {
			fuzzProblems(t, text, err)
			return
		}
		if bad := badNumbers("", reflect.ValueOf(*b)); bad != nil {
			t.Fatalf("accepted: %v\n%s", bad, text)
		}
		if charge := b.Target.Charge; (charge.Word == "") == math.IsNaN(charge.Volts) || math.IsInf(charge.Volts, 0) {
			t.Fatalf("accepted: charge %+v", charge)
		}
		if err := b.Validate(); err != nil {
			fuzzProblems(t, text, err) // a contradiction, which a later key may mend
			return
		}
		again, err := ReadBrief(source("again.toml", asTOML(b.Values())))
		if err != nil {
			t.Fatalf("written out, it does not read again: %v", err)
		}
		if d := cmp.Diff(b, again, asWritten()); d != "" {
			t.Fatalf("written out and read again (-want +got):\n%s", d)
		}
		p, err := NewProblem(c, b)
		if err != nil {
			fuzzProblems(t, text, err)
			return
		}
		build := first(p)
		build.Results()
		testWhy(t, "the kit", build)
		build.Assumptions()
	})
}

// fuzzProblems holds the error of a hostile text to the form of all problems.
func fuzzProblems(t *testing.T, text string, err error) {
	t.Helper()
	var problems field.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("the error is no Problems: %v", err)
	}
	for i := range problems {
		checkProblem(t, text, &problems[i])
	}
	if strings.ContainsAny(err.Error(), "\x00\x1b\r") {
		t.Fatalf("control characters in %q", err.Error())
	}
}
