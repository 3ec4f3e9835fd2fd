package constraints

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/drive"
)

// Direction says which way a figure is better.
type Direction int8

// The directions.
const (
	Lesser  Direction = -1
	Neither Direction = 0
	Greater Direction = 1
)

// Figure is one computed quantity of a build.
type Figure struct {
	Name    string
	Label   string // as people read it: the name without its unit
	Group   string // the title that it stands under
	Unit    string // as shown; "price" stands for the currency, "" for a bare number or a word
	Meaning string // one line
	Better  Direction

	// Value is the figure in Unit, NaN when it cannot be computed. Word is
	// set instead for a figure that is a word, "" when there is none.
	Value func(b *Build) float64
	Word  func(b *Build) string

	// Corners: a build of which something is not known may have another value in
	// its best corner. Easier is that value where no single corner has it.
	Corners bool
	Easier  func(b *Build) float64

	stopAt float64   // share of the charge that a stop is at; 0: it is none
	routed bool      // of a route only
	absent []absence // what else than missing data it may have no value for, the first that holds

	// Why: the formula, the same with the build's numbers put in (or, where the
	// figure cannot be computed, why not), and where it comes from.
	Formula string
	Put     func(b *Build) Numbers
	Source  string
}

// Of is the figure as it is told of a build: where the pack takes nothing, no stop but
// rolling out; with a chain, no belt.
func (f Figure) Of(b *Build) Figure {
	if f.Group == beltGroup && b.Drive.Chained() {
		f.Group, f.Label, f.Meaning = ofChain(f.Group), ofChain(f.Label), ofChain(f.Meaning)
	}
	if f.stopAt == 0 {
		return f
	}
	if s := b.stopAt(f.stopAt); !s.Coasts() {
		return f
	}
	return f.rollOut()
}

// In is the figure as it is told of all builds of a problem, likewise.
func (f Figure) In(p *Problem) Figure {
	if f.stopAt > 0 && p.Frosty() {
		return f.rollOut()
	}
	return f
}

// rollOut is a stop where the pack takes nothing.
func (f Figure) rollOut() Figure {
	f.Label = strings.Replace(f.Label, "stop", "roll-out", 1)
	if f.stopAt < fullCharge {
		f.Meaning = fmt.Sprintf("rolling out without electric braking: at %.0f %% charge the pack takes nothing", f.stopAt*percent)
	}
	return f
}

// Units of figures, per SI unit.
const (
	kmh     = 3.6
	mm      = 1000
	percent = 100
	wh      = 1 / 3600.0
	km      = 0.001
	perKm   = 1000.0 // of what there is so many of on each metre
)

// Figures lists every figure there is, in the order of the columns of data out.
func Figures() []Figure {
	return slices.Concat(
		under("Gearing and speed", motionFigures()),
		under("Climb and launch", climbFigures()),
		under("Energy", energyFigures()),
		under("Stop", stopFigures()),
		under("Route", routeFigures()),
		under(beltGroup, beltFigures()),
		under("Price and mass", sumFigures()),
	)
}

// Figures lists the figures that the brief makes apply: those of a route where it has
// one.
func (p *Problem) Figures() []Figure {
	if p.HasRoute() {
		return Figures()
	}
	return slices.DeleteFunc(Figures(), Figure.Routed)
}

// Routed reports whether the figure is of a route.
func (f Figure) Routed() bool { return f.routed }

// under puts figures under a title.
func under(title string, figures []Figure) []Figure {
	for i := range figures {
		figures[i].Group = title
	}
	return figures
}

// FigureNamed finds a figure by its name.
func FigureNamed(name string) (Figure, bool) {
	for _, f := range Figures() {
		if f.Name == name {
			return f, true
		}
	}
	return Figure{}, false
}

// Best is the figure of the best corner of a build, a number or a word as Value
// and Word give them; differs is false where it is that of the worst.
func (f Figure) Best(b *Build) (value float64, word string, differs bool) {
	if f.Easier != nil {
		value = f.Easier(b)
		return value, "", !same(value, f.Value(b))
	}
	if !f.Corners || !b.Blank() {
		return 0, "", false
	}
	if f.Word != nil {
		word = f.Word(b.Best())
		return 0, word, word != f.Word(b)
	}
	value = f.Value(b.Best())
	return value, "", !same(value, f.Value(b))
}

// same reports whether two values are equal, both missing included.
func same(a, b float64) bool {
	return equal(a, b) || math.IsNaN(a) && math.IsNaN(b)
}

// motionFigures are the figures of gearing, speed and electrical rpm.
func motionFigures() []Figure {
	return []Figure{
		{
			Name: "reduction", Label: "reduction", Meaning: "motor turns per wheel turn",
			Value:   func(b *Build) float64 { return b.Drive.Reduction },
			Formula: "N = wheel teeth / motor teeth, or the gear drive's ratio", Put: putReduction, Source: sourceKinematics,
		},
		{
			Name: "rolling_radius_mm", Label: "rolling radius", Unit: "mm", Meaning: "wheel centre to ground",
			Value:   func(b *Build) float64 { return b.Wheel.Radius * mm },
			Formula: "r = diameter / 2 × rolling ratio", Put: putRadius, Source: sourceRadius,
		},
		{
			Name: "mass_total_kg", Label: "mass total", Unit: "kg", Meaning: "rider, board and parts; unknown masses count as 0", Better: Lesser,
			Value:   (*Build).TotalMass,
			Formula: "m = rider + board + parts", Put: putMass, Source: sourceSum,
		},
		{
			Name: "free_speed_kmh", Label: "free speed", Unit: "km/h", Meaning: "no-load speed at the brief's charge, without losses", Better: Greater,
			Value:   func(b *Build) float64 { return b.board.FreeSpeed(b.Battery.Pack.Volts) * kmh },
			Formula: "v = kv V / 60 × 2π r / N × duty", Put: putFreeSpeed, Source: sourceMachine,
		},
		{
			Name: "free_speed_full_kmh", Label: "free speed full", Unit: "km/h", Meaning: "the same at full charge", Better: Greater,
			Value:   func(b *Build) float64 { return b.board.FreeSpeed(b.Battery.Pack.Full) * kmh },
			Formula: "v = kv V_full / 60 × 2π r / N × duty", Put: putFreeSpeedFull, Source: sourceMachine,
		},
		{
			Name: "top_speed_kmh", Label: "top speed", Unit: "km/h", Meaning: "top speed on the flat", Better: Greater,
			Corners: true,
			Value:   func(b *Build) float64 { v, _ := b.TopSpeed(); return v * kmh },
			Formula: "v where thrust F(v) = load L(v), at most the speed at the rpm ceiling", Put: putTopSpeed, Source: sourceBalance,
		},
		{
			Name: "top_speed_limited_by", Label: "top speed limited by", Meaning: "what limits the top speed",
			Corners: true,
			absent:  []absence{noMotion},
			Word:    func(b *Build) string { _, by := b.TopSpeed(); return by.String() },
			Formula: "the lowest crossing of the load with the voltage, motor-current, battery-current, power, grip and lift limits, and the ceiling",
			Put:     putTopSpeedBy, Source: sourceBalance,
		},
		{
			Name: "top_speed_full_kmh", Label: "top speed full", Unit: "km/h", Meaning: "top speed on the flat with a full pack", Better: Greater,
			Corners: true,
			Value:   func(b *Build) float64 { return b.FullTopSpeed() * kmh },
			Formula: "as top_speed_kmh, with V_full in place of V", Put: putFullTopSpeed, Source: sourceBalance,
		},
		{
			Name: "erpm_full", Label: "erpm full", Unit: "rpm", Meaning: "electrical rpm with the wheels off the ground at full charge", Better: Lesser,
			Value:   func(b *Build) float64 { return b.electrical.FreeERPM(b.Battery.Pack.Full) },
			Formula: "kv V_full × pole pairs", Put: putERPMFull, Source: sourceMachine,
		},
		{
			Name: "erpm_at_target", Label: "erpm at target", Unit: "rpm", Meaning: "electrical rpm at the target top speed", Better: Lesser,
			absent:  []absence{noTopSpeed},
			Value:   func(b *Build) float64 { return b.board.ERPMAt(b.Problem.Brief.Target.TopSpeed) },
			Formula: "v N / r × 60 / 2π × pole pairs", Put: putERPMAtTarget, Source: sourceKinematics,
		},
		{
			Name: "erpm_speed_limit_kmh", Label: "erpm speed limit", Unit: "km/h", Meaning: "road speed at the rpm ceiling", Better: Greater,
			absent:  []absence{noCeiling},
			Value:   func(b *Build) float64 { return finite(b.erpmSpeed()) * kmh },
			Formula: "v = ceiling / pole pairs × 2π / 60 × r / N", Put: putERPMSpeed, Source: sourceKinematics,
		},
	}
}

// climbFigures are the figures of thrust, climb and launch.
func climbFigures() []Figure {
	return []Figure{
		{
			Name: "climb_thrust_n", Label: "climb thrust", Unit: "N", Meaning: "thrust at the climb speed, grip included", Better: Greater,
			Corners: true,
			absent:  []absence{noGrade},
			Value:   whenClimbing(func(b *Build) float64 { return b.whenThrust((*Build).GrippedClimbThrust) }),
			Formula: "F = n η (N/r) k (I − I₀), at most κ m g cos θ", Put: onClimb(onThrust(putClimbThrust)), Source: sourceMachine,
		},
		{
			Name: "climb_need_n", Label: "climb need", Unit: "N", Meaning: "force that the target grade takes at the climb speed", Better: Lesser,
			absent:  []absence{noGrade},
			Value:   whenClimbing((*Build).ClimbNeed),
			Formula: "L = m g (sin θ + Crr cos θ) + ½ ρ A v²", Put: onClimb(putClimbNeed), Source: sourceRoadLoad,
		},
		{
			Name: "climb_margin_pct", Label: "climb margin", Unit: "%", Meaning: "climb thrust over climb need", Better: Greater,
			Corners: true,
			absent:  []absence{noGrade},
			Value: whenClimbing(func(b *Build) float64 {
				return (b.whenThrust((*Build).GrippedClimbThrust)/b.ClimbNeed() - 1) * percent
			}),
			Formula: "F / L − 1", Put: onClimb(onThrust(putClimbMargin)), Source: sourceDefinition,
		},
		{
			Name: "climb_limited_by", Label: "climb limited by", Meaning: "what limits the climb thrust",
			Corners: true,
			absent:  []absence{noGrade},
			Word: func(b *Build) string {
				if !b.Problem.Climbs() || !b.ThrustKnown() {
					return ""
				}
				return b.board.ThrustLimit(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Theta).String()
			},
			Formula: "the lowest of the limits at the climb speed", Put: onClimb(onThrust(putClimbBy)), Source: sourceMachine,
		},
		{
			Name: "climb_limit_pct", Label: "climb limit", Unit: "%", Meaning: "steepest grade at the climb speed", Better: Greater,
			Corners: true,
			Value: func(b *Build) float64 {
				return b.whenThrust(func(b *Build) float64 { return b.board.ClimbLimit(b.Problem.Brief.Target.ClimbSpeed) * percent })
			},
			Formula: "the lower of the grades at which thrust and grip are used up", Put: onThrust(putClimbLimit), Source: sourceRoadLoad,
		},
		{
			Name: "climb_current_a", Label: "climb current", Unit: "A", Meaning: "motor current on the climb, as set in the controller", Better: Lesser,
			Corners: true,
			absent:  []absence{noGrade},
			Value:   whenClimbing((*Build).ClimbCurrent),
			Formula: "(L r / (n η N k) + I₀) / c", Put: onClimb(putClimbCurrent), Source: sourceMachine,
		},
		{
			Name: "winding_end_c", Label: "winding at the top", Unit: "°C", Meaning: "temperature of the windings at the end of the hill, good to ± 40 % of its rise", Better: Lesser,
			Corners: true,
			absent:  []absence{noGrade, noHillLength},
			Value:   (*Build).WindingEnd,
			Formula: "T_a + [m + d (A − ½(a₁₁ + a₂₂))] T′(0), of winding and rest", Put: onClimb(putWindingEnd), Source: sourceHeat,
		},
		{
			Name: "hill_torque_nm", Label: "hill torque", Unit: "N.m", Meaning: "torque at the climb speed, all wheels together, before grip limits it", Better: Greater,
			Corners: true,
			Value:   (*Build).HillTorque,
			Formula: "F(v) r", Put: onThrust(putHillTorque), Source: sourceMachine,
		},
		{
			Name: "launch_s", Label: "launch", Unit: "s", Meaning: "time from rest to the launch speed", Better: Lesser,
			Corners: true,
			absent:  []absence{noLaunchSpeed, noLaunch},
			Value:   (*Build).Launch,
			Formula: "∫ m dv / (F(v) − L(v)) from 0 to the launch speed", Put: putLaunch, Source: sourceNewton,
		},
	}
}

// energyFigures are the figures of energy and range.
func energyFigures() []Figure {
	return []Figure{
		{
			Name: "battery_wh", Label: "battery", Unit: "Wh", Meaning: "energy in the full pack at nominal volts", Better: Greater,
			Value:   func(b *Build) float64 { return b.Energy() * wh },
			Formula: "E = A·h × nominal volts", Put: putEnergy, Source: sourceDefinition,
		},
		{
			Name: "consumption_wh_per_km", Label: "consumption", Unit: "Wh/km", Meaning: "energy per distance of the ride: cruising, wind, stops and ascent", Better: Lesser,
			Corners: true,
			absent:  []absence{noCruise},
			Value:   func(b *Build) float64 { return b.Consumption() * wh / km },
			Formula: "(mean of V I_b / v with and against the wind + (n_s ½ m v² + m g h) (1/η_up − γ)) × ride factor, V I_b − R_p I_b² = n (I k ω + I² R) / η_c", Put: putConsumption, Source: sourceEnergy,
		},
		{
			Name: "range_km", Label: "range", Unit: "km", Meaning: "distance on the usable energy, ridden like that", Better: Greater,
			Corners: true,
			absent:  []absence{noCruise},
			Value:   func(b *Build) float64 { return b.Range() * km },
			Formula: "E × usable × c_T / consumption", Put: putRange, Source: sourceEnergy,
		},
	}
}

// stopFigures are the figures of stops by the motors alone.
func stopFigures() []Figure {
	at := func(name, label, meaning string, charge float64) Figure {
		f := Figure{
			Name: name, Label: label, Unit: "m", Meaning: meaning, Better: Lesser,
			stopAt:  charge,
			absent:  []absence{noStop(charge)},
			Value:   stopMetres(charge),
			Formula: "∫ m v dv / (B + L(v)), B the least of κ_b m g, n k N I / (r η) and A (V_x + A R_p) / (η_c η v)",
			Put:     putStop(charge), Source: sourceStop,
		}
		if charge < fullCharge { // a full pack takes nothing, whatever is not known of it
			f.Corners, f.Easier = true, shortestStop(charge)
		}
		return f
	}
	return []Figure{
		at("stop_m", "stop", "stopping distance by the motors alone at 90 % charge, from the brief's speed on the flat", stopCharge),
		at("stop_half_m", "stop half", "the same at half charge", halfCharge),
		at("stop_full_m", "stop full", "rolling out with a full pack: it takes no electric braking", fullCharge),
	}
}

// beltGroup is the title of the figures of a belt or chain.
const beltGroup = "Belt"

// ofChain is a title, a label or a meaning of those of a chain.
func ofChain(text string) string {
	return strings.NewReplacer("pulley or sprocket", "sprocket", "belt or chain", "chain", "belt", "chain", "Belt", "Chain").Replace(text)
}

// beltFigures are the figures of the belt or chain.
func beltFigures() []Figure {
	return []Figure{
		{
			Name: "mesh_teeth", Label: "mesh teeth", Unit: "teeth", Meaning: "whole teeth in mesh on the small pulley or sprocket, without an idler's wrap", Better: Greater,
			absent: []absence{noBelt},
			Value: func(b *Build) float64 {
				if b.Drive.Mesh < 0 {
					return math.NaN()
				}
				return float64(b.Drive.Mesh)
			},
			Formula: "⌊z β / 2π⌋, β = π − 2φ, sin φ = (D − d) / 2C", Put: onBelt(putMesh), Source: sourceBelt,
		},
		{
			Name: "centre_mm", Label: "centre", Unit: "mm", Meaning: "distance between the shafts with this belt or chain",
			absent:  []absence{noBelt},
			Value:   func(b *Build) float64 { return b.Drive.Centre * mm },
			Formula: "C from L = 2C cos φ + π (D + d) / 2 + φ (D − d), sin φ = (D − d) / 2C; of a chain from X = 2C/p + (z₁ + z₂)/2 + ((z₂ − z₁)/2π)² p/C", Put: onBelt(putCentre), Source: sourceBelt,
		},
		{
			Name: "belt_pull_n", Label: "belt or chain pull", Unit: "N", Meaning: "pull of each belt or chain on the climb", Better: Lesser,
			absent:  []absence{noBelt, noGrade},
			Value:   whenClimbing((*Build).BeltPull),
			Formula: "k (I − I₀) / pitch radius of the motor pulley or sprocket, I the climb's", Put: onBelt(onClimb(putBeltPull)), Source: sourceBelt,
		},
	}
}

// sumFigures are the figures of all parts together.
func sumFigures() []Figure {
	return []Figure{
		{
			Name: "price", Label: "price", Unit: "price", Meaning: "cost of all parts, in packs as sold, without what you own", Better: Lesser,
			Value:   func(b *Build) float64 { return b.price.Total() },
			Formula: "Σ ⌈pieces / sold in⌉ × price", Put: putPrice, Source: sourceSum,
		},
		{
			Name: "mass_kg", Label: "mass", Unit: "kg", Meaning: "the board with all parts, without the rider", Better: Lesser,
			Value:   func(b *Build) float64 { return b.mass.Total() },
			Formula: "board + parts", Put: putBoardMass, Source: sourceSum,
		},
	}
}

// whenClimbing makes a figure null without a climb grade.
func whenClimbing(value func(b *Build) float64) func(b *Build) float64 {
	return func(b *Build) float64 {
		if !b.Problem.Climbs() {
			return math.NaN()
		}
		return value(b)
	}
}

// whenThrust is a value of b, NaN where the thrust is not known.
func (b *Build) whenThrust(value func(b *Build) float64) float64 {
	if !b.ThrustKnown() {
		return math.NaN()
	}
	return value(b)
}

// finite is x, or NaN when x is infinite.
func finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

// LimitWords lists the words that say what limits a speed or a thrust.
func LimitWords() []string {
	var words []string
	for l := drive.Voltage; l <= drive.Estimate; l++ {
		words = append(words, l.String())
	}
	return words
}
