package say

import (
	"fmt"
	"slices"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Slip says that no build holds its speed on the hill because wheels slip or an axle
// lifts, and names the build that would hold it otherwise.
func Slip(b *constraints.Build, p *constraints.Problem, system quantity.System) string {
	board := b.Board()
	unit, factor := system.Show("N")
	force := func(x float64) string { return fmt.Sprintf("%.0f", x*factor) + NBSP + unit }
	held, needed := force(board.GripThrust(b.Problem.Theta)), force(b.ClimbNeed())
	const never = "No motor, battery or teeth change that"
	if board.Hold.By == drive.Lift {
		return fmt.Sprintf("Balance decides the climb: the front wheels lift at %s of thrust, where %s are needed. %s; a less steep hill, a longer wheelbase or a rider who stands farther forward helps.",
			held, needed, never)
	}
	helps := "a less steep hill or more grip helps"
	if !slices.Contains(p.Counts, 4) {
		helps = "a less steep hill, more grip or more driven wheels help"
	}
	return fmt.Sprintf("Grip decides the climb: the driven wheels slip at %s, where %s are needed (friction coefficient %s). %s; %s.",
		held, needed, Short(b.Problem.Grip), never, helps)
}
