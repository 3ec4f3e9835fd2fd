package say

import (
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// Instead says what is assumed in place of a missing key; "" for nothing.
func Instead(i constraints.Instead) string {
	switch i.Stand {
	case constraints.NumberStands:
		return field.FormatNumber(i.Number)
	case constraints.WordStands:
		return i.Word
	case constraints.MassRangeStands:
		return "a likely range, by mass or can"
	case constraints.ChargeRangeStands:
		return "a likely range, by ampere-hours"
	case constraints.HalfVoltsStand:
		return "half the volts"
	case constraints.ControllerStands:
		return "the controller's limit"
	case constraints.MotorStands:
		return "the motor's limit"
	case constraints.MotorPeakStands:
		return "the motor's peak"
	case constraints.PackStands:
		return "the pack's limit"
	case constraints.BriefStands:
		return "the brief's, where it has one, else none"
	case constraints.NoLimitStands:
		return "none: it is taken to bear all"
	case constraints.AnyBeltStands:
		return "any belt is taken to fit"
	case constraints.PartIsPassedOver:
		return "nothing: it is not chosen where that must be known"
	}
	return ""
}
