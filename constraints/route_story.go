package constraints

import (
	"math"

	"gearsearch/drive"
)

// Story is how a build comes over the brief's way, in stretches of one length, and what
// happens on it.
type Story struct {
	drive.Travelled
	Left    float64 // share of the usable charge at the end, NaN where the board does not come to it
	Known   bool    // of the worst corner; else it is the best one's
	Pieces  []Piece
	Events  []Event
	Hottest float64 // m, where the windings are hottest; NaN: not known
	Lowest  float64 // m, where the volts are lowest; NaN where no leg is ridden
}

// Piece is a stretch of a ride.
type Piece struct {
	From, To float64 // m
	Rise     float64 // m from one end to the other
	Seconds  float64
	Slowest  float64 // m/s
	Energy   float64 // J, without stops
	Charge   float64 // share of the pack's at its end
	Winding  float64 // °C at its end; NaN: not known
	Stops    int
}

// EventCode is what happens on a stretch.
type EventCode string

// The events.
const (
	RidesSlowly EventCode = "slow"  // slower than wanted: By says what limits the thrust
	RunsLoose   EventCode = "loose" // the motors do not hold the board downhill
	Stalls      EventCode = "stall" // the ride ends
)

// EventCodes lists every code.
func EventCodes() []EventCode { return []EventCode{RidesSlowly, RunsLoose, Stalls} }

// Event is a stretch of a ride on which something happens.
type Event struct {
	Code     EventCode
	From, To float64     // m
	Speed    float64     // m/s, the lowest on it
	Wanted   float64     // m/s, there
	Steepest float64     // rise over run, the greatest on it; of a loose run and a stall the least or greatest
	By       drive.Limit // what limits thrust or brakes there
	Full     bool        // it is that the pack is too full
}

// Two events of one kind that lie nearer to each other, in m, are one.
const eventGap = 100

// mostPieces is how many stretches a story has at most.
const mostPieces = 15

// pieceLengths are the lengths in m that the stretches of a story may have.
var pieceLengths = []float64{100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000}

// Story tells how the build comes over the brief's way; ok is false where neither corner
// can be ridden.
func (b *Build) Story() (s Story, ok bool) {
	if !b.Problem.HasRoute() {
		return s, false
	}
	_, s.Known = b.Travelled()
	s.Hottest, s.Lowest = math.NaN(), math.NaN()
	t := teller{story: &s, piece: pieceLengths[len(pieceLengths)-1], hottest: math.Inf(-1), lowest: math.Inf(1)}
	for _, length := range pieceLengths {
		if b.Problem.trip.way.Length() <= mostPieces*length {
			t.piece = length
			break
		}
	}
	s.Travelled, ok = b.RideRoute(t.leg)
	if !ok {
		return s, false
	}
	if s.Left = b.Problem.chargeLeft(s.Travelled); s.Stalled {
		t.stall(b.Problem.trip.legs)
	}
	return s, true
}

// teller makes a story of the legs of a ride.
type teller struct {
	story           *Story
	piece           float64 // m
	at              float64 // m, the end of the leg before
	legs            int
	hottest, lowest float64
}

// leg takes a leg in.
func (t *teller) leg(p *drive.Passage) {
	s, from := t.story, t.at
	if n := len(s.Pieces); n == 0 || from >= float64(n)*t.piece*(1-1e-9) {
		s.Pieces = append(s.Pieces, Piece{From: from, Slowest: math.Inf(1)})
	}
	piece := &s.Pieces[len(s.Pieces)-1]
	seconds := p.Length / p.Speed
	piece.To = p.Metres
	piece.Rise += p.Length * grade(p.Slope)
	piece.Seconds += seconds
	piece.Slowest = min(piece.Slowest, p.Speed)
	piece.Energy += p.Volts * p.PackCurrent * seconds
	piece.Charge, piece.Winding = p.Charge, p.Warm.Winding
	if math.IsNaN(p.Winding) {
		piece.Winding = p.Winding
	}
	if p.Stop {
		piece.Stops++
	}
	if p.Warm.Winding > t.hottest && !math.IsNaN(p.Winding) {
		t.hottest, s.Hottest = p.Warm.Winding, p.Metres
	}
	if p.LowVolts < t.lowest {
		t.lowest, s.Lowest = p.LowVolts, p.Metres
	}
	switch {
	case p.Slow():
		t.happens(Event{Code: RidesSlowly, From: from, To: p.Metres, Speed: p.Speed, Wanted: p.Wanted, Steepest: grade(p.Slope), By: p.By})
	case p.Loose() && !math.IsNaN(p.Unheld):
		t.happens(Event{Code: RunsLoose, From: from, To: p.Metres, Speed: p.Speed, Wanted: p.Wanted, Steepest: grade(p.Slope), By: p.By, Full: p.Full})
	}
	t.at = p.Metres
	t.legs++
}

// happens adds an event, or goes on with one.
func (t *teller) happens(e Event) {
	s := t.story
	for i := len(s.Events) - 1; i >= 0 && e.From-s.Events[i].To <= eventGap; i-- {
		was := &s.Events[i]
		if was.Code != e.Code || was.Full != e.Full {
			continue
		}
		was.To = e.To
		worse := e.Speed < was.Speed
		if e.Code == RunsLoose {
			worse = e.Steepest < was.Steepest
		}
		if worse {
			was.Speed, was.Wanted, was.By = e.Speed, e.Wanted, e.By
		}
		if math.Abs(e.Steepest) > math.Abs(was.Steepest) {
			was.Steepest = e.Steepest
		}
		return
	}
	s.Events = append(s.Events, e)
}

// stall ends the story.
func (t *teller) stall(legs []drive.Leg) {
	at := min(t.legs, len(legs)-1)
	t.story.Events = append(t.story.Events, Event{Code: Stalls, From: t.at, To: t.at, Steepest: grade(legs[at].Slope)})
}

// grade is the rise over the run of a slope.
func grade(s drive.Slope) float64 { return s.Sin / s.Cos }
