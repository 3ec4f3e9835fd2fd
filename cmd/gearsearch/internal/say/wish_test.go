package say

import (
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

func TestWish(t *testing.T) {
	demo, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		wish        ease.Wish
		system      quantity.System
		name, asked string
		why         string
	}{
		{ease.Wish{Key: "target.range_km", Unit: "km", PerSI: 0.001, Value: 28_000}, quantity.Metric, "range", "28\u00a0km", "the unit stands beside the number"},
		{ease.Wish{Key: "target.range_km", Unit: "km", PerSI: 0.001, Value: 28_000}, quantity.Imperial, "range", "17.4\u00a0mi", "in the units that are asked for"},
		{ease.Wish{Key: "limit.price", Unit: "price", PerSI: 1, Value: 900}, quantity.Metric, "price", "900\u00a0EUR", "the currency is the catalog's"},
		{ease.Wish{Key: "limit.mesh_teeth", Unit: "teeth", PerSI: 1, Value: 5}, quantity.Metric, "mesh teeth", "5", "teeth are said once"},
	} {
		if name, asked := Wish(tt.wish, &constraints.Problem{Catalog: demo}, tt.system); name != tt.name || asked != tt.asked {
			t.Errorf("%q, %q, want %q, %q: %s", name, asked, tt.name, tt.asked, tt.why)
		}
	}
}
