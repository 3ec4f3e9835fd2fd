package ease

import (
	"math"
	"slices"
	"strconv"

	"gearsearch/constraints"
)

// Concession is a target or limit that a brief can give way on.
type Concession struct {
	Key     string // section.key
	Unit    string // of the key; "price" stands for the currency
	PerSI   float64
	Meaning string   // in a few words
	Eases   int      // +1: a greater value asks for less, −1: a lower one
	Checks  []string // that may pass for it
	Untried []string // that might, and nobody looks
	Value   func(b *constraints.Brief) *float64

	Zero        float64 // from which a value counts: 0, but the air's for temperatures
	least, most float64 // what the key may be, SI
	above       bool    // least itself is not allowed

	// reach is the value nearest to the brief's at which none of the failing checks
	// rejects the build any more; NaN where there is none. It may give up on values
	// beyond within.
	reach reach
}

// Concessions lists what a brief can give way on, in the order of its keys. Left out
// are keys that the brief does not set, that ask for as little as possible already,
// or that bear on no check that rejects.
func Concessions(p *constraints.Problem) []Concession {
	var out []Concession
	for _, k := range constraints.BriefNumbers() {
		if v := *k.At(p.Brief); k.Eases == 0 || math.IsNaN(v) || k.Eases < 0 && v*k.Per <= k.Min {
			continue
		}
		if c := newConcession(k, p.Brief); c.concerns(p) {
			c.Meaning, c.Zero = p.EasedWords(k), zeroOf(k, p)
			out = append(out, c)
		}
	}
	return out
}

// zeroOf is from where the values of a key count: a temperature from that of the air.
func zeroOf(k constraints.BriefNumber, p *constraints.Problem) float64 {
	if k.ShownIn() == "°C" {
		return p.Air()
	}
	return 0
}

// Cost is the change from one value of the key to another, relative to the first.
func (c *Concession) Cost(from, to float64) float64 {
	if to == from { // which may be 0
		return 0
	}
	return math.Abs(to-from) / math.Abs(from-c.Zero)
}

// Within is the furthest value that costs no more than most, from one of the key.
func (c *Concession) Within(from, most float64) float64 {
	return from + float64(c.Eases)*math.Abs(from-c.Zero)*most
}

// newConcession is a key of a brief with what the checks say of it.
func newConcession(k constraints.BriefNumber, b *constraints.Brief) Concession {
	c := Concession{
		Key: k.Path(), Unit: k.ShownIn(), PerSI: k.Per, Meaning: k.Eased, Eases: k.Eases, Value: k.At,
		least: k.Min / k.Per, most: k.Max / k.Per, above: k.Above,
	}
	easings := map[*constraints.Check]constraints.Easing{}
	for _, check := range constraints.Registry() {
		e, ok := check.EasedBy(c.Key, b)
		if !ok {
			continue
		}
		if e.Try == constraints.Untried {
			c.Untried = append(c.Untried, check.Name)
			continue
		}
		c.Checks = append(c.Checks, check.Name)
		if easings[check] = e; e.Try != constraints.ByFormula {
			c.least, c.reach = max(c.least, slowest), reachOf(e.Try)
		}
	}
	if c.reach == nil {
		c.reach = whereEach(easings)
	}
	return c
}

// concerns reports whether some check of the concession applies to a problem and
// rejects.
func (c *Concession) concerns(p *constraints.Problem) bool {
	return slices.ContainsFunc(p.Checks(), func(check *constraints.Check) bool { return c.eases(check) && !p.Demoted(check) })
}

// eases reports whether a check may pass for the concession.
func (c *Concession) eases(check *constraints.Check) bool {
	return slices.Contains(c.Checks, check.Name)
}

// Reach is the value nearest to the brief's at which none of the concession's
// checks rejects the build: the brief's own where none does already. ok is
// false where there is none, or only one beyond within (±Inf: anything that
// the key may be), or that a brief may not have. The checks named in leaving
// are left to others. Checks that are not the concession's are not looked at,
// and may fail for it.
func (c *Concession) Reach(b *constraints.Build, within float64, strict bool, leaving ...string) (value float64, ok bool) {
	from := *c.Value(b.Problem.Brief)
	var failing []*constraints.Check
	for _, check := range b.Problem.Checks() {
		if c.eases(check) && !slices.Contains(leaving, check.Name) && b.RejectedBy(check, strict) {
			failing = append(failing, check)
		}
	}
	if len(failing) == 0 {
		return from, true
	}
	within = min(max(within, c.least), c.most)
	value = c.reach(c, b, failing, within, strict)
	switch {
	case math.IsNaN(value), !c.further(value, from), c.further(value, within), c.above && value <= c.least:
		return 0, false
	}
	return value, !rejectedByAny(c.given(b, value), failing, strict)
}

// given is a build under a brief that gives way on the key.
func (c *Concession) given(b *constraints.Build, value float64) *constraints.Build {
	brief := *b.Problem.Brief
	*c.Value(&brief) = value
	return b.Under(&brief)
}

// further reports whether x asks for less than y.
func (c *Concession) further(x, y float64) bool { return float64(c.Eases)*x > float64(c.Eases)*y }

// Furthest is the one of two values that asks for less.
func (c *Concession) Furthest(x, y float64) float64 {
	if c.further(y, x) {
		return y
	}
	return x
}

// Shown is a value in the key's unit, rounded to so many significant digits
// towards what asks for less, so that what opens at the value mostly opens at
// it: a ceiling or a cruise speed may close again what it opens.
func (c *Concession) Shown(value float64, digits int) float64 {
	x := value * c.PerSI
	if x == 0 {
		return 0
	}
	// Teeth and other whole numbers that are a hair off are not moved.
	hair := math.Min(1e-9, 0.1*math.Pow(10, float64(-digits)))
	place := lastPlace(x, digits)
	scaled := x / math.Pow(10, place)
	if c.Eases > 0 {
		scaled = math.Ceil(scaled - hair*math.Abs(scaled))
	} else {
		scaled = math.Floor(scaled + hair*math.Abs(scaled))
	}
	return decimal(scaled, place)
}

// Beyond is the next number of so many significant digits that asks for less
// than x, which is in the key's unit.
func (c *Concession) Beyond(x float64, digits int) float64 {
	place := lastPlace(x, digits)
	return decimal(math.Round(x/math.Pow(10, place))+float64(c.Eases), place)
}

// lastPlace is the power of ten of the last of so many significant digits; for
// 0 that of a 1.
func lastPlace(x float64, digits int) float64 {
	if x == 0 {
		x = 1
	}
	return math.Floor(math.Log10(math.Abs(x))) + 1 - float64(digits)
}

// decimal is scaled × 10^place, the float64 that those digits are read as.
func decimal(scaled, place float64) float64 {
	if place < 0 {
		return scaled / math.Pow(10, -place)
	}
	return scaled * math.Pow(10, place)
}

// Read is the value, SI, that a brief has whose key is written as x, in the
// key's unit; ok is false where no brief may have it.
func (c *Concession) Read(x float64) (value float64, ok bool) {
	b := constraints.DefaultBrief()
	if err := b.Set(c.Key, strconv.FormatFloat(x, 'f', -1, 64), "relax"); err != nil {
		return 0, false
	}
	return *c.Value(b), true
}
