package field

import (
	"math"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// fallingTable is a table of keys that hold something unless they are given.
func fallingTable() *Table[thing] {
	return NewTable("thing", []Field[thing]{
		{Key: "size_mm", Unit: "mm", Per: 1000, Min: 5, Max: 500, Fallback: 97, Number: func(t *thing) *float64 { return &t.Size }},
		{Key: "turns", Default: "by the wheel", Number: func(t *thing) *float64 { return &t.Turns }},
		{Key: "colour", Words: []string{"red", "blue"}, Fallback: "red", Text: func(t *thing) *string { return &t.Colour }},
		{Key: "fast", Flag: func(t *thing) **bool { return &t.Fast }},
		{Key: "tags", Fallback: []string{}, Texts: func(t *thing) *[]string { return &t.Tags }},
		{Key: "counts", Fallback: []float64{2}, Numbers: func(t *thing) *[]float64 { return &t.Counts }},
		{
			Key: "charge", Unit: "V", Min: 1, Max: 5, Words: []string{"full", "nominal"}, Fallback: "nominal",
			Number: func(t *thing) *float64 { return &t.Charge }, Text: func(t *thing) *string { return &t.ChargeW },
		},
	})
}

// TestFallback: a key that is not given holds its fallback, to the bit what the
// key holds when that is written, and says so in the words of a file.
func TestFallback(t *testing.T) {
	nan := math.NaN()
	table := fallingTable()
	want := thing{Size: 97.0 / 1000, Turns: nan, Colour: "red", Tags: []string{}, Counts: []float64{2}, Charge: nan, ChargeW: "nominal"}
	if d := cmp.Diff(want, table.Blank(), cmpopts.EquateNaNs()); d != "" {
		t.Errorf("a blank differs (-want +got):\n%s", d)
	}
	yes := true
	used := thing{Size: 1, Turns: 2, Colour: "blue", Fast: &yes, Tags: []string{"a"}, Counts: []float64{1, 4}, Charge: 3, Owned: true}
	table.Clear(&used)
	want.Owned = true // no key of this table
	if d := cmp.Diff(want, used, cmpopts.EquateNaNs()); d != "" {
		t.Errorf("what was cleared differs (-want +got):\n%s", d)
	}
	used.Counts[0] = 9
	var next thing
	if table.Clear(&next); next.Counts[0] != 2 {
		t.Error("a list that falls back is shared")
	}
	said := map[string]string{}
	for _, in := range table.Infos() {
		said[in.Key] = in.Default
	}
	if d := cmp.Diff(map[string]string{
		"size_mm": "97", "turns": "by the wheel", "colour": "red", "fast": "", "tags": "[]", "counts": "[2]", "charge": `"nominal"`,
	}, said); d != "" {
		t.Errorf("defaults are told differently (-want +got):\n%s", d)
	}
	given := thing{Tags: []string{"a"}}
	if err := table.Assign(&given, "tags", " "); err != nil || given.Tags == nil || len(given.Tags) != 0 {
		t.Errorf("a blank leaves %v, %v: want the fallback, an empty list", given.Tags, err)
	}
}

// TestNewTableRefusesFallbacks that the key may not hold.
func TestNewTableRefusesFallbacks(t *testing.T) {
	size := func(t *thing) *float64 { return &t.Size }
	for why, f := range map[string]Field[thing]{
		"a number beyond the range": {Key: "a", Min: 5, Max: 500, Fallback: 3, Number: size},
		"a text for a number":       {Key: "a", Fallback: "3", Number: size},
		"a number for a text":       {Key: "a", Fallback: 3, Text: func(t *thing) *string { return &t.ID }},
		"a word that is not one":    {Key: "a", Words: []string{"x"}, Fallback: "y", Text: func(t *thing) *string { return &t.ID }},
		"two stories":               {Key: "a", Fallback: 3, Default: "by the wheel", Number: size},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("NewTable takes %s", why)
				}
			}()
			NewTable("t", []Field[thing]{f})
		}()
	}
}

// TestLiftKeepsAll: a field of a part that is lifted keeps all that its row says.
func TestLiftKeepsAll(t *testing.T) {
	type holder struct{ inner thing }
	var f Field[thing]
	v := reflect.ValueOf(&f).Elem()
	for i := range v.NumField() {
		switch at := v.Field(i); at.Kind() {
		case reflect.String:
			at.SetString("x")
		case reflect.Bool:
			at.SetBool(true)
		case reflect.Float64:
			at.SetFloat(3)
		case reflect.Int:
			at.SetInt(3)
		case reflect.Slice:
			at.Set(reflect.ValueOf([]string{"x"}))
		case reflect.Map:
			at.Set(reflect.ValueOf(map[string]string{"y": "x"}))
		case reflect.Pointer:
			at.Set(reflect.New(at.Type().Elem()))
		case reflect.Interface:
			at.Set(reflect.ValueOf(3.0))
		case reflect.Func:
			at.Set(reflect.MakeFunc(at.Type(), func([]reflect.Value) []reflect.Value { return nil }))
		default:
			t.Fatalf("a field of kind %v", at.Kind())
		}
	}
	lifted := reflect.ValueOf(Lift([]Field[thing]{f}, func(h *holder) *thing { return &h.inner })[0])
	for i := range lifted.NumField() {
		if lifted.Field(i).IsZero() {
			t.Errorf("lifting loses %s", lifted.Type().Field(i).Name)
		}
	}
}
