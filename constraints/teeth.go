package constraints

import (
	"fmt"
	"math"

	"gearsearch/drive"
)

// TeethInTurn tells which teeth of the pair that turns the wheel meet: common
// is the greatest common divisor of their numbers, 0 where the numbers are not
// known, and words a sentence about it without a full stop.
func (d *Drive) TeethInTurn() (common int, words string) {
	what := "gears"
	var small, large float64
	if d.Gear != nil {
		small, large = d.Gear.Driver, d.Gear.Driven
	} else {
		what = "pulleys"
		small, large = float64(d.MotorPulley.Teeth), float64(d.WheelPulley.Teeth)
	}
	if math.IsNaN(small) || math.IsNaN(large) {
		return 0, "the gears' teeth are not known"
	}
	common = drive.CommonDivisor(int(small), int(large))
	words = fmt.Sprintf("%s of %s and %s teeth share ", what, num(small), num(large))
	if common == 1 {
		return 1, words + "no divisor: each tooth meets all of the other in turn"
	}
	return common, words + fmt.Sprintf("the divisor %d: each tooth meets only one in %d of the other, where a flaw of it wears sooner", common, common)
}
