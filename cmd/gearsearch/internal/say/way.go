package say

import (
	"fmt"
	"math"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints/route"
)

// steepestStreet is the grade of the steepest street that cars use: 34.8 %, Baldwin Street
// in Dunedin (Guinness World Records, 2020).
const steepestStreet = 0.348

// WayDoubts says what is doubtful in a way to ride: heights that make a wall of it.
func WayDoubts(r *route.Route) []string {
	p := r.Profile()
	for _, s := range []route.Steep{p.Up, p.Down} {
		if math.Abs(s.Grade) > steepestStreet {
			return []string{fmt.Sprintf("%s goes at %s%% over %s m from %s km, and the steepest street of the world has %s%%: look at its heights",
				Shown(r.Name), layout.Fixed(100*s.Grade, 0), layout.Fixed(s.Length, 0), layout.Fixed(s.From/1000, 1), layout.Fixed(100*steepestStreet, 0))}
		}
	}
	return nil
}
