package outfit

import (
	"regexp"
	"strings"
	"testing"
)

// imperial shows lengths, speeds and forces in units by definition: the foot of
// 0.3048 m and the pound-force of 4.4482216152605 N.
func imperial(unit string) (string, float64) {
	switch unit {
	case "km/h":
		return "mph", 1 / 1.609344
	case "mm":
		return "in", 1 / 25.4
	case "m":
		return "ft", 1 / 0.3048
	case "N":
		return "lbf", 1 / 4.4482216152605
	}
	return unit, 1
}

// Sentences follow the units, but for the sizes by which metric parts are sold.
func TestSentencesFollowUnits(t *testing.T) {
	metric := regexp.MustCompile(`(?m).{0,40}[0-9] (km/h|m|N|mm)([ ,;:)].{0,40}|$)`)
	sold := regexp.MustCompile(`(cells? of|keys? of|shaft of|at most) [0-9.× ]+ mm`)
	for _, tt := range []struct {
		why     string
		changes []string
		says    []string
	}{
		{"all there is", nil, []string{
			"holding 7.46 mph up 15 % takes 32 lbf and", "hold 7.46 mph with the pack", "1.97 ft of wire",
			"wires run 0.984 ft", "0.118 in to the walls",
		}},
		{"nothing around", bare(), []string{"inside 8.76 × 1.93 × 3.08 in for upright cells", "20 cells of 21 × 70 mm"}},
		{"no belt", []string{"-belt"}, []string{"shafts 2.36 to 4.72 in apart", "at most 15 mm wide"}},
	} {
		w := DefaultWishes()
		plain := script(Complete(build(t, hill, tt.changes...), w))
		w.Units = func(unit string) (string, float64) { return unit, 1 }
		if script(Complete(build(t, hill, tt.changes...), w)) != plain {
			t.Errorf("%s: metric units change what is said", tt.why)
		}
		w.Units = imperial
		got := script(Complete(build(t, hill, tt.changes...), w))
		for _, says := range tt.says {
			if !strings.Contains(got, says) {
				t.Errorf("%s: nowhere %q", tt.why, says)
			}
		}
		// Facts and demands are numbers with their own units, which the reader
		// of them converts.
		got = regexp.MustCompile(`(?m)^(stop_|ceiling_|back_emf|key: |- shaft_mm).*$`).ReplaceAllString(sold.ReplaceAllString(got, ""), "")
		if left := metric.FindString(got); left != "" {
			t.Errorf("%s: metric words left: %q", tt.why, left)
		}
	}
}
