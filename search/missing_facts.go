package search

import (
	"math"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// The facts that matter of the parts that Wants finds.

// clean is a number without the rounding left by a conversion of units.
func clean(x float64) float64 {
	const digits = 1e9
	return math.Round(x*digits) / digits
}

// facts gathers facts.
type facts []Fact

// number adds a number unless it is not known.
func (f *facts) number(key string, now, before float64) {
	if !math.IsNaN(now) {
		const tiny = 1e-9
		same := alike(now, before) || math.Abs(now-before) <= tiny*math.Abs(before)
		*f = append(*f, Fact{key, clean(now), !same})
	}
}

// word adds a word unless there is none.
func (f *facts) word(key, now, before string) {
	if now != "" {
		*f = append(*f, Fact{key, now, now != before})
	}
}

// changed marks facts as changed.
func (f facts) changed(keys ...string) {
	for i := range f {
		f[i].Changed = f[i].Changed || slices.Contains(keys, f[i].Key)
	}
}

func tellBattery(w wish[catalog.Battery], _ *constraints.Build) []Fact {
	var f facts
	f.number("series", w.part.Series, w.like.Series)
	f.number("parallel", w.part.Parallel, packStrings(w.like))
	cell := ""
	if w.like.Cell != nil {
		cell = w.like.Cell.ID
	}
	f.word("cell", w.part.Cell.ID, cell)
	return f
}

func tellController(w wish[catalog.Controller], b *constraints.Build) []Fact {
	var f facts
	if volts := b.Battery.Pack.Full; w.part.MaxVolts != w.like.MaxVolts && !math.IsNaN(w.part.MaxVolts) {
		f.number("max_volts", volts, w.like.MaxVolts)
	}
	if w.part.ERPMCeiling != w.like.ERPMCeiling && !math.IsNaN(w.part.ERPMCeiling) {
		f.number("erpm_ceiling", neededCeiling(b), w.like.ERPMCeiling)
	}
	f.number("motor_current_a", w.part.MotorCurrent, w.like.MotorCurrent)
	f.number("battery_current_a", w.part.BatteryCurrent, w.like.BatteryCurrent)
	f.number("continuous_current_a", w.part.ContinuousCurrent, w.like.ContinuousCurrent)
	return f
}

// rpmStep is the step to which a needed ceiling is rounded up.
const rpmStep = 1000

// neededCeiling is the ceiling of electrical rpm with which a build passes the
// erpm check and reaches its top speed, rounded up.
func neededCeiling(b *constraints.Build) float64 {
	top, _ := b.TopSpeed()
	turns, _ := b.ERPM()
	rpm := math.Max(turns/(1-b.Problem.Brief.Limit.ERPMHeadroom), b.Board().ERPMAt(top))
	return math.Ceil(rpm/rpmStep-costUnit) * rpmStep
}

func tellMotor(w wish[catalog.Motor], _ *constraints.Build) []Fact {
	var f facts
	f.number("kv", w.part.KV, w.like.KV)
	f.number("resistance_mohm", w.part.Resistance*1e3, w.like.Resistance*1e3)
	f.number("no_load_current_a", w.part.NoLoadCurrent, w.like.NoLoadCurrent)
	f.number("peak_current_a", w.part.PeakCurrent, w.like.PeakCurrent)
	f.number("continuous_current_a", w.part.ContinuousCurrent, w.like.ContinuousCurrent)
	return f
}

func tellGear(w wish[catalog.GearDrive], _ *constraints.Build) []Fact {
	var f facts
	f.number("ratio", w.part.Ratio, w.like.Ratio)
	f.number("bore_mm", w.part.Bore/mm, w.like.Bore/mm)
	f.word("shaft_key", w.part.ShaftKey.String(), w.like.ShaftKey.String())
	f.word("hub", strings.Join(w.part.Hubs, ", "), strings.Join(w.like.Hubs, ", "))
	// A gear drive that its maker lists for motors or wheels becomes another
	// drive when it fits by its bore or its hub.
	if own := (bored{w.like.Bore, w.like.ShaftKey}); !own.is(bored{w.part.Bore, w.part.ShaftKey}) || len(w.part.FitsMotors) != len(w.like.FitsMotors) {
		f.changed("bore_mm", "shaft_key")
	}
	if !slices.Equal(w.part.Hubs, w.like.Hubs) || len(w.part.FitsWheels) != len(w.like.FitsWheels) {
		f.changed("hub")
	}
	return f
}

// toothed are the first facts of a pulley or belt.
func toothed(teeth, teethBefore int, profile, profileBefore string, width, widthBefore float64) facts {
	var f facts
	f.number("teeth", float64(teeth), float64(teethBefore))
	f.word("profile", profile, profileBefore)
	f.number("width_mm", width/mm, widthBefore/mm)
	return f
}

func tellMotorPulley(w wish[catalog.Pulley], _ *constraints.Build) []Fact {
	f := toothed(w.part.Teeth, w.like.Teeth, w.part.Profile.ID, w.like.Profile.ID, w.part.Width, w.like.Width)
	f.number("bore_mm", w.part.Bore/mm, w.like.Bore/mm)
	f.word("shaft_key", w.part.ShaftKey.String(), w.like.ShaftKey.String())
	return f
}

func tellWheelPulley(w wish[catalog.Pulley], _ *constraints.Build) []Fact {
	f := toothed(w.part.Teeth, w.like.Teeth, w.part.Profile.ID, w.like.Profile.ID, w.part.Width, w.like.Width)
	if len(w.part.Hubs) > 0 {
		before := w.part.Hubs[0]
		if !takes(w.like.Hubs, w.part.Hubs) {
			before = ""
		}
		f.word("hub", w.part.Hubs[0], before)
	}
	return f
}

func tellMount(w wish[catalog.Mount], _ *constraints.Build) []Fact {
	var f facts
	f.number("centre_min_mm", w.part.CentreMin/mm, w.like.CentreMin/mm)
	f.number("centre_max_mm", w.part.CentreMax/mm, w.like.CentreMax/mm)
	return append(f, Fact{"idler", w.part.Idler, w.part.Idler != w.like.Idler})
}

func tellBelt(w wish[catalog.Belt], _ *constraints.Build) []Fact {
	if w.part.Profile.Chained() {
		var f facts
		f.number("links", float64(w.part.Teeth), float64(w.like.Teeth))
		f.word("profile", w.part.Profile.ID, w.like.Profile.ID)
		f.number("breaking_n", w.part.Breaking, w.like.Breaking)
		return f
	}
	return toothed(w.part.Teeth, w.like.Teeth, w.part.Profile.ID, w.like.Profile.ID, w.part.Width, w.like.Width)
}

func tellWheel(w wish[catalog.Wheel], _ *constraints.Build) []Fact {
	var f facts
	f.number("diameter_mm", w.part.Diameter/mm, w.like.Diameter/mm)
	f.word("tyre", w.part.Tyre.String(), w.like.Tyre.String())
	f.word("hub", strings.Join(w.part.Hubs, ", "), strings.Join(w.like.Hubs, ", "))
	return f
}
