package constraints

import (
	"fmt"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// TestTooManyDrives: what would take gigabytes is refused before it is made,
// with what there is too much of; what keep and avoid leave counts.
func TestTooManyDrives(t *testing.T) {
	family := func(n int, format string) string {
		var list []string
		for i := range n {
			list = append(list, fmt.Sprintf(format, i))
		}
		return strings.Join(list, ", ")
	}
	text := func(pulleys, mounts, wheels int) string {
		return fmt.Sprintf(`schema = 1
[[motor]]
id = "m"
kv = 150
[[controller]]
id = "c"
[[battery]]
id = "b"
series = 10
nominal_v = 36
full_v = 42
[[pulley]]
id = [%s]
side = "motor"
profile = "htd-5m"
teeth = 15
[[pulley]]
id = [%s]
side = "wheel"
profile = "htd-5m"
teeth = 40
[[mount]]
id = [%s]
centre_min_mm = 50
centre_max_mm = 90
[[wheel]]
id = [%s]
diameter_mm = 100
`, family(pulleys, `"s%d"`), family(pulleys, `"l%d"`), family(mounts, `"o%d"`), family(wheels, `"w%d"`))
	}
	for _, tt := range []struct {
		pulleys, mounts, wheels int
		keep                    string
		says                    string
	}{
		{100, 20, 1, "", ""},
		{1000, 1000, 1, "", "1000000000 drives"},
		{200, 11, 1, "", "440000 drives"},
		{100, 20, 30, "", "6000000 pairs of a drive and a wheel"},
		{1000, 1000, 30, "s1", "1000000 drives"},
	} {
		c, err := catalog.Read(field.Source{Name: "parts.toml", Data: []byte(text(tt.pulleys, tt.mounts, tt.wheels))})
		if err != nil {
			t.Fatal(err)
		}
		brief := DefaultBrief()
		if tt.keep != "" {
			if err := brief.AddParts("keep", "motor_pulley", []string{tt.keep}, "--keep"); err != nil {
				t.Fatal(err)
			}
		}
		_, err = NewProblem(c, brief)
		if got := fmt.Sprint(err); (tt.says == "") != (err == nil) || !strings.Contains(got, tt.says) && err != nil {
			t.Errorf("%d pulleys, %d mounts, %d wheels, keep %q: %s; want %q", tt.pulleys, tt.mounts, tt.wheels, tt.keep, got, tt.says)
		}
	}
}
