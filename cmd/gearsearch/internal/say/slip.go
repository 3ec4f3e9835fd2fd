package say

import (
	"fmt"
	"slices"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Slip says that grip is why no build holds its speed on the hill, of the build
// that would were it not for that.
func Slip(b *constraints.Build, p *constraints.Problem, system quantity.System) string {
	board := b.Board()
	unit, factor := system.Show("N")
	force := func(x float64) string { return fmt.Sprintf("%.0f", x*factor) + NBSP + unit }
	helps := "a less steep hill or more grip helps"
	if !slices.Contains(p.Counts, 4) {
		helps = "a less steep hill, more grip or more driven wheels help"
	}
	return fmt.Sprintf("Grip decides the climb: the driven wheels carry %s of the weight and slip at %s, where %s are needed (friction coefficient %s). No motor, battery or teeth change that; %s.",
		Percent(board.DrivenShare), force(board.GripThrust(b.Problem.Theta)), force(b.ClimbNeed()), Short(board.Friction), helps)
}
