package constraints

import (
	"math"

	"gearsearch/drive"
)

// Verdict is what a check says of a build.
type Verdict uint8

// The verdicts. Undecided: data is missing.
const (
	Pass Verdict = iota
	Fail
	Undecided
)

// String is the word for v in the data out.
func (v Verdict) String() string { return [...]string{"pass", "fail", "unknown"}[v] }

// Outcome is a verdict with the value and the limit it came from, in SI
// units, NaN where there is none.
type Outcome struct {
	Verdict
	Value float64
	Limit float64
	Base  float64 // from which the margin is taken: 0, but for temperatures
	Row   *Check  // shown in place of the check's own; nil: its own
}

// Scope is a set of the choices that an outcome depends on.
type Scope uint8

// The choices.
const (
	OnBattery Scope = 1 << iota
	OnController
	OnMotor
	OnCount
	OnDrive
	OnWheel

	OnElectrical = OnBattery | OnController | OnMotor | OnCount
	OnAll        = OnElectrical | OnDrive | OnWheel
)

// ScopeOf is the choice that a slot belongs to.
func ScopeOf(slot Slot) Scope {
	switch slot {
	case SlotBattery:
		return OnBattery
	case SlotController:
		return OnController
	case SlotMotor:
		return OnMotor
	case SlotWheel:
		return OnWheel
	}
	return OnDrive
}

// Check is one rule. A build passes it, fails it, or leaves it undecided.
type Check struct {
	Name    string
	Subject string  // what it is about, short enough for a column
	Figure  string  // that it holds to a limit; "" for none
	Meaning string  // one line: passes when …
	Unit    string  // of value and limit as shown; "" for a yes-or-no check; "price" stands for the currency
	PerSI   float64 // shown units per SI unit
	Lower   bool    // the limit is a lower one

	// Alone: Test goes by the parts alone, whatever the brief and the rest of
	// the catalog are.
	Alone bool
	// Joins are the slots whose parts are put on one another: where they do not fit,
	// no brief and no other part of the build mends it.
	Joins []Slot
	// Needs are the keys of parts without which the check is undecided, where
	// nothing is assumed in their place.
	Needs []Need

	// Scope is what Test reads of a build under this problem; a search tests
	// each combination of those choices once.
	Scope func(p *Problem) Scope
	// Applies reports whether the brief and the catalog make the check apply.
	Applies func(p *Problem) bool
	// Lists reports whether the check concerns builds with this drive.
	Lists func(d *Drive) bool
	// Corner decides one corner of a build: what Best returns, or the build
	// itself. It may read only what Scope names.
	Corner func(b *Build) Outcome
	// Decide decides a build whose corners are not those of its parts, in place of
	// Corner; nil: Corner does.
	Decide func(b *Build) Outcome
	// Sure is the verdict where it is sure at little cost; ok is false where Test must
	// tell. nil: Test always must.
	Sure func(b *Build) (v Verdict, ok bool)
	// Least is by how much a build that surely fails misses at least, as a share of the
	// limit, at little cost: 0 where nothing is sure. +Inf: no number tells it. nil: as 0.
	Least func(b *Build) float64
	// Corners: what is not known of the electrical half may change the outcome.
	Corners bool
	// Speeds: the better corner is what the check guards against, a board that is
	// too fast.
	Speeds bool

	// Window and Adds let a search decide many builds at once. A check may do
	// without them: then Test decides each build.
	//
	// Window is the range of gearings in which one corner of an electrical half
	// passes with a lane, a build of which only that half is set. A greater mass or
	// rolling resistance, a lower efficiency or press, and a greater demand, which
	// multiplies what is asked for, never widen it.
	Window func(b *Build, lane Lane, demand float64) Gearings
	// Core is a range of gearings with which one corner of an electrical half surely
	// passes with a lane and with every lane that asks no more, though not always all of
	// them; empty where nothing is sure. It may take long: a search asks it once for many
	// lanes.
	Core func(b *Build, lane Lane, demand float64) drive.Window
	// Adds is the sum that the check holds to a limit. Doubts is a second sum: beyond
	// the limit a check that does not fail is undecided; nil: Adds is both.
	Adds, Doubts *Additive

	// Tuned is what of Build.Tuned may change the outcome.
	Tuned Tuning
	// Eased are the keys of a brief that can ease the check; none for a check of how
	// parts fit together.
	Eased []Easing
}

// Tuning is a set of the quantities that Build.Tuned changes.
type Tuning uint8

// The quantities.
const (
	TunesKV Tuning = 1 << iota
	TunesReduction
	TunesWheel

	TunesAll = TunesKV | TunesReduction | TunesWheel
)

// registry is every check, in the order in which a rejected combination is
// counted under the first that fails. What depends on fewer choices comes
// first.
var registry = []*Check{
	&boreCheck, &sensorCheck, &profileCheck, &hubCheck, &beltCheck, &meshCheck, &clearanceCheck, &hangerCheck, &voltageCheck, &erpmCheck,
	&canCheck, &priceCheck, &massCheck, &topSpeedCheck, &topSpeedMaxCheck, &climbCheck, &heatCheck, &beltLoadCheck,
	&gearTorqueCheck, &rangeCheck, &hillTorqueCheck, &launchCheck, &stopCheck,
	&routeCheck, &routeHeatCheck, &routeBrakesCheck,
}

// Registry lists every check there is, in order.
func Registry() []*Check { return append([]*Check(nil), registry...) }

// CheckNames lists the names of all checks, in order.
func CheckNames() []string {
	names := make([]string, len(registry))
	for i, c := range registry {
		names[i] = c.Name
	}
	return names
}

// ChecksOn lists the names of the checks that hold a figure to a limit.
func ChecksOn(figure string) []string {
	var names []string
	for _, c := range registry {
		if c.Figure == figure {
			names = append(names, c.Name)
		}
	}
	return names
}

// MarginPct is how far the outcome is on the right side of its limit, in
// percent of the limit; NaN where there is no value or no limit, or the limit
// is 0.
func (c *Check) MarginPct(o Outcome) float64 {
	switch {
	case o.Base != 0 && !(o.Limit > o.Base), o.Limit == 0:
		return math.NaN()
	case o.Base != 0:
		return 100 * (o.Limit - o.Value) / (o.Limit - o.Base)
	case c.Lower:
		return 100 * (o.Value/o.Limit - 1)
	}
	return 100 * (1 - o.Value/o.Limit)
}

// ShownBy is the row by which an outcome of the check is shown.
func (c *Check) ShownBy(o Outcome) *Check {
	if o.Row != nil {
		return o.Row
	}
	return c
}

// Test decides a build by its corners: it fails where even the easier corner fails,
// passes where even the harder one passes, and is undecided between. It shows the
// value of the worst corner or, where that has none, of the best.
func (c *Check) Test(b *Build) Outcome {
	if c.Decide != nil {
		return c.Decide(b)
	}
	shown := c.Corner(b)
	if !c.Corners || !b.blank {
		return shown
	}
	return shown.between(c.Corner(b.Best()), c.Speeds)
}

// between is the outcome of a check of which o is that of the worst corner, as Test says;
// speeds: the better corner is what it guards against.
func (o Outcome) between(best Outcome, speeds bool) Outcome {
	easy, hard := best.Verdict, o.Verdict
	if speeds {
		easy, hard = hard, easy
	}
	if math.IsNaN(o.Value) {
		o = best
	}
	switch {
	case easy == Fail:
		o.Verdict = Fail
	case hard == Pass:
		o.Verdict = Pass
	default:
		o.Verdict = Undecided
	}
	return o
}

// Rules returns the corner of a build whose failure rejects it: the one that passes
// more easily; with strict, where undecided rejects too, the other.
func (c *Check) Rules(b *Build, strict bool) *Build {
	if c.Corners && strict == c.Speeds {
		return b.Best()
	}
	return b
}

// Small constructors that the checks share.

func always(*Problem) bool { return true }

func anyDrive(*Drive) bool { return true }

// belted takes a bare ratio for a belt drive of which nothing is known.
func belted(d *Drive) bool { return d.Gear == nil || d.Bare }

func pulleyed(d *Drive) bool { return d.Gear == nil }

func geared(d *Drive) bool { return d.Gear != nil && !d.Bare }

// on is a Scope that does not depend on the problem.
func on(s Scope) func(*Problem) Scope { return func(*Problem) Scope { return s } }

// undecided is an outcome for lack of data, with what value is known.
func undecided(value, limit float64) Outcome {
	return Outcome{Verdict: Undecided, Value: value, Limit: limit}
}

// onlyIf is an outcome that is undecided unless something is the case.
func (o Outcome) onlyIf(sure bool) Outcome {
	if !sure {
		o.Verdict = Undecided
	}
	return o
}

// atMost holds a value to an upper limit. Either may be NaN: then it is
// undecided.
func atMost(value, limit float64) Outcome {
	switch {
	case math.IsNaN(value) || math.IsNaN(limit):
		return undecided(value, limit)
	case drive.AtMost(value, limit):
		return Outcome{Verdict: Pass, Value: value, Limit: limit}
	}
	return Outcome{Verdict: Fail, Value: value, Limit: limit}
}

// atLeast holds a value to a lower limit, likewise.
func atLeast(value, limit float64) Outcome {
	switch {
	case math.IsNaN(value) || math.IsNaN(limit):
		return undecided(value, limit)
	case drive.AtLeast(value, limit):
		return Outcome{Verdict: Pass, Value: value, Limit: limit}
	}
	return Outcome{Verdict: Fail, Value: value, Limit: limit}
}

// yesNo is the outcome of a check without a value.
func yesNo(v Verdict) Outcome { return Outcome{Verdict: v, Value: math.NaN(), Limit: math.NaN()} }
