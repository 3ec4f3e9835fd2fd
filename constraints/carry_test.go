package constraints

import (
	"slices"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
)

// A brief that is carried in a build file reads as it was, without what it keeps.
func TestCarriedBrief(t *testing.T) {
	b := DefaultBrief()
	for key, text := range map[string]string{
		"target.top_speed_kmh": "35", "limit.price": "900", "board.motors": "1,2,4", "rider.posture": "tuck", "ground.wet": "true", "weights.price": "3",
	} {
		if err := b.Set(key, text, "--set"); err != nil {
			t.Fatal(key, err)
		}
	}
	if err := b.AddParts("keep", "wheel", []string{"disc"}, "--keep"); err != nil {
		t.Fatal(err)
	}
	text := slices.Concat([]byte("schema = 1\n[build]\nmotors = 2\n"), b.Carried(), []byte("\n[parts]\nschema = 1\n"))
	got, err := ReadBrief(field.Source{Name: "board.toml", Data: text})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	b.Keep = [slotCount][]string{}
	if diff := cmp.Diff(b.Values(), got.Values()); diff != "" {
		t.Error(diff)
	}
}
