package drive

import "math"

// Pack is a whole battery. Zero Cutoff, Discharge and Capacity are not known;
// zero Resistance is no resistance.
type Pack struct {
	Volts      float64 // V, open circuit, at the state of charge of the question
	Nominal    float64 // V
	Full       float64 // V
	Cutoff     float64 // V
	Resistance float64 // Ω, cells and wiring
	Discharge  float64 // A
	Capacity   float64 // A·h
	Curve      Curve   // of the open-circuit volts by the charge
}

// Curve is how the open-circuit volts of cells go with their charge.
type Curve uint8

// The curves. LiIon is the zero value.
const (
	LiIon Curve = iota // nickel, manganese, cobalt oxides, and lithium polymer
	LFP                // lithium iron phosphate
)

// curves are the open-circuit volts of cells as a share of those of the full one,
// by the share of the charge: of nickel-manganese-cobalt cells as measured (Chen
// et al., J. Electrochem. Soc. 167 (2020) 080534), of iron-phosphate cells as the
// equivalent circuits of the literature have them.
var curves = [...][]struct{ charge, volts float64 }{
	LiIon: {{0, 0.70}, {0.1, 0.787}, {0.2, 0.813}, {0.5, 0.867}, {0.9, 0.965}, {1, 1}},
	LFP:   {{0, 0.68}, {0.1, 0.877}, {0.5, 0.902}, {0.9, 0.912}, {1, 1}},
}

// OpenCircuit returns the pack's volts without a current at a share of its
// charge: those of the full pack by its curve, straight lines between the points
// of that, and never less than its cut-off. Volts, of the question, does not
// count.
func (p Pack) OpenCircuit(share float64) float64 {
	points := curves[p.Curve]
	share = max(0, min(share, 1))
	i := 1
	for share > points[i].charge {
		i++
	}
	a, b := points[i-1], points[i]
	rise := (b.volts - a.volts) / (b.charge - a.charge)
	return max(p.Cutoff, float64(p.Full*(a.volts+float64(rise*(share-a.charge)))))
}

// Intake is the highest current that a pack takes.
type Intake struct {
	OpenCircuit float64 // V
	Current     float64 // A, at least 0; +Inf where nothing limits it
	Resistance  float64 // Ω, of the pack
	Full        bool    // the volts of the full pack set it, not the charge limit
}

// Intake returns the highest current that the pack takes at a share of its
// charge: the lower of its charge limit in amperes (NaN: not known, and none) and
// the current that raises its terminals to the volts of the full pack, (full −
// open-circuit volts)/R, times what the cold leaves of it. A full pack takes
// none, whatever the limit.
func (p Pack) Intake(share, limit, warmth float64) Intake {
	in := Intake{OpenCircuit: p.OpenCircuit(share), Resistance: p.Resistance}
	room := p.Full - in.OpenCircuit
	if share >= 1 || warmth == 0 || AtMost(room, float64(Tolerance*p.Full)) {
		in.Full = share >= 1 || warmth > 0
		return in
	}
	in.Current, in.Full = room/p.Resistance, true // R = 0: +Inf
	if limit <= in.Current {
		in.Current, in.Full = limit, false
	}
	in.Current = float64(in.Current * warmth)
	return in
}

// Power returns the watts that reach the pack's terminals with that current.
func (in Intake) Power() float64 {
	if in.Current == 0 || math.IsInf(in.Current, 1) {
		return in.Current
	}
	return float64(in.Current * (in.OpenCircuit + float64(in.Current*in.Resistance)))
}

// Cold is what the temperature of a pack does to it, in multiples of what it has
// at 20 °C.
type Cold struct{ Capacity, Resistance float64 }

// colds are what the cold does to lithium cells: an assumption, in line with data
// sheets.
var colds = []struct {
	celsius float64
	Cold
}{
	{-20, Cold{0.60, 3.0}}, {-10, Cold{0.75, 2.2}}, {0, Cold{0.85, 1.6}}, {10, Cold{0.94, 1.25}}, {20, Cold{1, 1}},
}

// ColdAt returns what a temperature in °C does to a pack: straight lines between
// −20 and 20 °C, and beyond them as at the end.
func ColdAt(celsius float64) Cold {
	last := colds[len(colds)-1]
	celsius = max(colds[0].celsius, min(celsius, last.celsius))
	i := 1
	for celsius > colds[i].celsius {
		i++
	}
	a, b := colds[i-1], colds[i]
	x := (celsius - a.celsius) / (b.celsius - a.celsius)
	return Cold{a.Capacity + float64(x*(b.Capacity-a.Capacity)), a.Resistance + float64(x*(b.Resistance-a.Resistance))}
}

// Lithium cells are not to be charged at coldest (°C) or below, and take their full
// charging current from warm up: common practice of data sheets. The straight line
// between the two is an assumption.
const (
	coldest = 0
	warm    = 5
)

// ChargingShare returns how much of the current that a pack takes the cold leaves
// at a temperature in °C, from 0 to 1.
func ChargingShare(celsius float64) float64 {
	return max(0, min((celsius-coldest)/(warm-coldest), 1))
}

// Terminal returns the volts at the pack's terminals while it gives amps:
// the open-circuit volts less the drop over its resistance.
func (p Pack) Terminal(amps float64) float64 {
	return p.Volts - float64(amps*p.Resistance)
}

// currentCap returns the highest pack current in amperes that a pack and n
// channels of a controller allow: the lowest of the controller's battery
// current for all channels, the pack's discharge limit, the current that sags
// the pack to its cut-off, and the current V/(2R) of most power, past which
// more current means less power. What is not known is left out; +Inf when
// nothing is known.
func currentCap(n int, c Controller, p Pack) float64 {
	amps := math.Inf(1)
	if c.BatteryCurrent > 0 {
		amps = float64(float64(n) * c.BatteryCurrent)
	}
	if p.Discharge > 0 {
		amps = min(amps, p.Discharge)
	}
	if p.Resistance > 0 {
		// A cut-off of 0, not known, gives more than V/(2R).
		amps = min(amps, (p.Volts-p.Cutoff)/p.Resistance, p.Volts/(2*p.Resistance))
	}
	return max(amps, 0)
}
