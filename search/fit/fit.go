package fit

import (
	"context"
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Unknown is what is fitted.
type Unknown uint8

// The unknowns.
const (
	Rolling Unknown = iota // the rolling-resistance coefficient
	Drag                   // the drag area, m²
	unknowns
)

// Direction is which way a run goes along its road.
type Direction int8

// The directions.
const (
	Untold Direction = 0
	Out    Direction = +1
	Back   Direction = -1
)

// Run is a coast-down: at least MinSamples speeds while the board rolls.
type Run struct {
	Name      string
	Times     []float64 // s, rising
	Speeds    []float64 // m/s
	Direction Direction
}

// Ride is a ride whose energy was metered.
type Ride struct {
	Name   string
	Speed  float64 // m/s, the mean while it moves
	Energy float64 // J/m, at the pack's terminals
	Stops  float64 // per m; NaN: the brief's
	Ascent float64 // m/m, on slopes that the board is braked down; NaN: the brief's
	Rise   float64 // m/m, of the end above the start
}

// Records are what a fit goes by.
type Records struct {
	Runs      []Run
	Rides     []Ride
	Freewheel bool // the motors are not turned while the board coasts
	// Only holds the other unknown at the brief's value; nil: both are fitted.
	Only *Unknown
}

// What a fit asks for and assumes.
const (
	// MinSamples of a run: as many again as its share of the unknowns takes.
	MinSamples = 8
	// AssumedScatter is the share by which metered energies scatter where there are
	// too few rides to tell: meters of current, wind and surface; common practice, no
	// published source.
	AssumedScatter = 0.05
	// AssumedSlope is the rise over run that a road may have where runs do not go both
	// ways: as much as looks level; common practice, no published source. It is added
	// to the interval of the rolling resistance, which it cannot be told from.
	AssumedSlope = 0.001
	// MostCorrelated is the correlation above which two unknowns are not told apart,
	// and Widest the half width of an interval, as a share of its value, above which
	// an unknown is not told.
	MostCorrelated = 0.98
	Widest         = 0.5
)

// Verdict is whether an unknown is told by the records.
type Verdict uint8

// The verdicts.
const (
	Told       Verdict = iota
	Held               // at the brief's value, as asked
	Tangled            // with the other unknown
	Wide               // its interval is too wide
	OutOfRange         // it is a value that the brief's key does not take
)

// Estimate is an unknown as the records tell it.
type Estimate struct {
	Value     float64 // 1, or m²
	Low, High float64 // the 95 % interval; NaN of one that is held
	Verdict   Verdict
}

// Spread is the half width of the interval as a share of the value.
func (e *Estimate) Spread() float64 { return (e.High - e.Low) / 2 / math.Abs(e.Value) }

// FittedRun is a run beside its fit.
type FittedRun struct {
	Run
	Start    float64     // m/s, fitted
	Coast    drive.Coast // fitted
	Residual float64     // m/s, root of the mean square
}

// FittedRide is a ride beside its fit.
type FittedRide struct {
	Ride
	Computed float64 // J/m
}

// Result is what the records tell.
type Result struct {
	Rolling, Drag Estimate
	Correlation   float64 // of the two; NaN where one is held
	Slope         float64 // rise over run, up the way out; NaN where no runs go both ways: the interval of Rolling then holds AssumedSlope
	Runs          []FittedRun
	Rides         []FittedRide
	RunScatter    float64 // m/s; NaN without runs
	RideScatter   float64 // share of the metered energy; NaN without rides
	ScatterTold   bool    // the rides tell their scatter, which is else assumed
	Memory        float64 // correlation of residuals of runs from one sample to the next; 0 where there is none to speak of
	// Blank: the motor lacks keys that count here, and a range stands in for them. The
	// intervals then hold what both ends of it give.
	Blank bool
}

// Estimate is one of the two unknowns.
func (r *Result) Estimate(u Unknown) *Estimate {
	if u == Rolling {
		return &r.Rolling
	}
	return &r.Drag
}

// Fit fits the records of a build under its brief. The error is a *Refusal, or that of
// ctx.
func Fit(ctx context.Context, b *constraints.Build, rec Records) (*Result, error) {
	if err := refuse(b, &rec); err != nil {
		return nil, err
	}
	r, err := fitCorner(ctx, b, &rec)
	if err != nil || !blank(b, &rec) {
		r.judge(&rec)
		return r, err
	}
	best, err := fitCorner(ctx, b.Best(), &rec)
	if err != nil {
		return nil, err
	}
	r.Blank = true
	r.Rolling.cover(&best.Rolling)
	r.Drag.cover(&best.Drag)
	r.judge(&rec)
	return r, nil
}

// blank reports whether the two corners of a build differ in what a fit reads.
func blank(b *constraints.Build, rec *Records) bool {
	worst, best := b.Board(), b.Best().Board()
	return worst.NoLoad != best.NoLoad && (len(rec.Rides) > 0 || !rec.Freewheel) ||
		worst.R != best.R && len(rec.Rides) > 0
}

// cover takes the other corner in: the middle of both values, and an interval that
// holds both.
func (e *Estimate) cover(o *Estimate) {
	e.Value = (e.Value + o.Value) / 2
	e.Low, e.High = math.Min(e.Low, o.Low), math.Max(e.High, o.High)
}

// judge decides what is told.
func (r *Result) judge(rec *Records) {
	if r == nil {
		return
	}
	for u := range unknowns {
		e := r.Estimate(u)
		switch {
		case rec.Only != nil && *rec.Only != u:
			e.Verdict, e.Low, e.High = Held, math.NaN(), math.NaN()
		case math.Abs(r.Correlation) > MostCorrelated: // NaN is not
			e.Verdict = Tangled
		case !u.takes(e.Value):
			e.Verdict = OutOfRange
		case !(e.Spread() <= Widest):
			e.Verdict = Wide
		}
	}
}

// keys are the brief's keys of the unknowns.
var keys = [unknowns]string{"ground.rolling_resistance", "rider.drag_area_m2"}

// Key is the brief's key of an unknown, section.key.
func (u Unknown) Key() string { return keys[u] }

// takes reports whether the brief's key of an unknown takes a value.
func (u Unknown) takes(value float64) bool {
	k, _ := constraints.BriefKeyAt(u.Key())
	return value >= k.Min && value <= k.Max
}
