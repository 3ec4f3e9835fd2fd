package outfit

import (
	"testing"

	"gearsearch/drive/pack"
)

func TestLayoutWords(t *testing.T) {
	for _, tt := range []struct {
		layout pack.Layout
		want   string
	}{
		{pack.Layout{Layers: 1}, "upright, square rows, one layer"},
		{pack.Layout{Axis: pack.AlongLength, Layers: 2}, "lying along the length, square rows, 2 layers"},
		{pack.Layout{Axis: pack.AlongWidth, Rows: pack.Rows{Staggered: true}, Layers: 1}, "lying along the width, staggered rows, one layer"},
	} {
		if got := LayoutWords(tt.layout); got != tt.want {
			t.Errorf("%+v: %s, want %s", tt.layout, got, tt.want)
		}
	}
}
