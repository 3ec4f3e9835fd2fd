package say

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestMerged(t *testing.T) {
	for _, tt := range []struct {
		in   []string
		want string
	}{
		{[]string{"5 whole teeth"}, "5 whole teeth"},
		{[]string{"5 whole teeth", "5 whole teeth"}, "5 whole teeth"},
		{[]string{"at 9.5 km/h, below 6", "at 35.2 km/h, below 6", "at 10 km/h, below 6"}, "at 9.5–35.2 km/h, below 6"},
		{[]string{"no numbers"}, "no numbers"},
	} {
		if got := Merged(tt.in); got != tt.want {
			t.Errorf("%q: %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestSpans(t *testing.T) {
	for _, tt := range []struct {
		in   []int
		want string
	}{
		{[]int{1}, "1"},
		{[]int{1, 2}, "1, 2"},
		{[]int{1, 2, 3}, "1–3"},
		{[]int{1, 3, 4, 5, 6, 9, 10}, "1, 3–6, 9, 10"},
	} {
		if got := Spans(tt.in); got != tt.want {
			t.Errorf("%v: %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestCautions(t *testing.T) {
	var c Cautions
	c.Add(1, []string{"top speed 35.2 km/h: wear a helmet", "5 whole teeth"})
	c.Add(2, []string{"top speed 36 km/h: wear a helmet"})
	c.Add(3, []string{"top speed 33.9 km/h: wear a helmet", "4 whole teeth"})
	want := []Caution{{"", "top speed 33.9–36 km/h: wear a helmet"}, {"1, 3", "4–5 whole teeth"}}
	if d := cmp.Diff(want, c.List()); d != "" {
		t.Errorf("three builds with two cautions (-want +got):\n%s", d)
	}
}
