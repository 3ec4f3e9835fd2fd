package plot

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Subject is the build that a figure is about, and the units it is drawn in.
type Subject struct {
	Build  *constraints.Build
	System quantity.System
}

// ErrThrust says that a figure cannot be drawn since the thrust is not known.
var ErrThrust = errors.New("the thrust of this build cannot be computed: it takes the motor's resistance, a limit of motor current, and the controller's or the pack's limit of current")

// ErrCruise says that a figure cannot be drawn since cruising is not known.
var ErrCruise = errors.New("the consumption of this build cannot be computed: it takes the motor's resistance, and a pack that can hold some speed")

// errStands says that the build does not move.
var errStands = errors.New("the thrust of this build does not move it")

// corner says of a build with blanks which of its two corners is drawn.
func (s Subject) corner() string {
	if s.Build.Blank() {
		return "Drawn at the worst of what is not known. "
	}
	return ""
}

// drawn is what is drawn: the build, of one with blanks its worst corner.
func (s Subject) drawn() string {
	if s.Build.Blank() {
		return "worst of what is not known: " + s.Name()
	}
	return s.Name()
}

// measure is a kind of quantity in the units that it is drawn in.
type measure struct {
	unit     string
	factor   float64 // of that unit, per SI unit
	decimals int     // that a value in a text takes
	zero     float64 // of SI in that unit: 0, but for temperatures in °F
}

func (s Subject) measure(metric string, perSI float64) measure {
	zero, unit := s.System.Value(0, metric)
	one, _ := s.System.Value(1, metric)
	return measure{unit, perSI * (one - zero), quantity.Decimals(unit), zero}
}

func (s Subject) speed() measure { return s.measure("km/h", 3.6) }
func (s Subject) force() measure { return s.measure("N", 1) }

// text is a value in SI with its unit.
func (m measure) text(si float64) string {
	return layout.Fixed(m.of(si), m.decimals) + " " + m.unit
}

// of is the number of a value in SI.
func (m measure) of(si float64) float64 { return si*m.factor + m.zero }

// charge is the board at one state of charge of its pack.
type charge struct {
	word  string
	volts float64
	board *drive.Board
	asked bool // the one that the brief asks for
}

// name is the charge with its volts.
func (c *charge) name() string { return fmt.Sprintf("%s %s V", c.word, digits(c.volts, 1)) }

// lowShare is where between cut-off and nominal a pack counts as low, and
// lowOfNominal the same where no cut-off is known: assumptions, a pack that
// still rides.
const (
	lowShare     = 0.5
	lowOfNominal = 0.9
)

// charges are the board at full, nominal and low charge, and at the brief's
// charge where it is none of these.
func (s Subject) charges() []charge {
	pack := s.Build.Battery.Pack
	low := lowOfNominal * pack.Nominal
	if pack.Cutoff > 0 {
		low = pack.Cutoff + lowShare*(pack.Nominal-pack.Cutoff)
	}
	out := []charge{
		{word: "full", volts: pack.Full},
		{word: "nominal", volts: pack.Nominal},
		{word: "low", volts: low},
	}
	found := false
	for i := range out {
		out[i].asked = math.Abs(out[i].volts-pack.Volts) <= 1e-9*pack.Volts
		found = found || out[i].asked
	}
	if !found {
		out = append(out, charge{word: "asked", volts: pack.Volts, asked: true})
	}
	for i := range out {
		out[i].board = s.at(out[i].volts)
	}
	return out
}

// asked is the charge that the brief asks for.
func asked(list []charge) *charge {
	for i := range list {
		if list[i].asked {
			return &list[i]
		}
	}
	return nil
}

// at is the board with its pack at other open-circuit volts.
func (s Subject) at(volts float64) *drive.Board {
	b := *s.Build.Board()
	e := b.Electrical
	pack := e.Pack
	pack.Volts = volts
	coupled := drive.Couple(e.Motor, e.Motors, e.Controller, pack, s.Build.Problem.Brief.Limit.Winding)
	b.Electrical = &coupled
	return &b
}

// ceiling is the road speed at the ceiling of electrical rpm, +Inf without one.
func (s Subject) ceiling() float64 {
	if c := s.Build.Controller.Ceiling; !math.IsNaN(c) {
		return s.Build.Board().ERPMSpeed(c)
	}
	return math.Inf(1)
}

// Name is what the build is made of, in a line.
func (s Subject) Name() string {
	b := s.Build
	d := b.Drive
	turns := ""
	if d.Gear != nil {
		turns = d.Gear.ID
	} else {
		turns = fmt.Sprintf("%d:%d", d.MotorPulley.Teeth, d.WheelPulley.Teeth)
	}
	return strings.Join([]string{b.Battery.ID, b.Controller.ID, fmt.Sprintf("%d × %s", b.Motors(), b.Motor.ID), turns, b.Wheel.ID}, ", ")
}

// samples are so many points of a function from low to high.
func samples(low, high float64, n int, y func(x float64) float64) []point {
	out := make([]point, n+1)
	for i := range out {
		x := low + (high-low)*float64(i)/float64(n)
		out[i] = point{x, y(x)}
	}
	return out
}

// limitWord is a limit in words.
func limitWord(l drive.Limit) string {
	switch l {
	case drive.Voltage:
		return "volts"
	case drive.MotorCurrent:
		return "motor current"
	case drive.BatteryCurrent:
		return "pack current"
	case drive.MotorPower:
		return "motor power"
	case drive.ERPM:
		return "rpm ceiling"
	case drive.Grip:
		return "slip"
	}
	return l.String()
}
