package outfit

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Demand is one thing that a part must be up to.
type Demand struct {
	Code   Code
	Key    string      // of the catalog's kind, such as "max_volts"
	YesNo  bool        // it is met or not, without a number
	Unit   string      // as shown
	PerSI  float64     // shown units per SI unit
	Least  float64     // SI; NaN: no lower bound, or Open
	Most   float64     // SI; NaN: no upper bound, or Open
	Open   []Statement // what is missing to tell the bounds, nil where they are told
	How    []Statement // the bounds with the numbers put in
	Source string
}

// State is how far the catalog meets a Need.
type State uint8

// The states.
const (
	Chosen  State = iota // Part meets every demand
	Misfit               // the catalog has the kind, and no part of it will do
	Unsure               // no part is known to do, but some would if what is missing in them proves right
	Missing              // the catalog has no such part, or no such kind, and it can be had: Buy says what to look for
	Open                 // a demand is not known
)

// String is the word for s in the data out.
func (s State) String() string {
	return [...]string{"chosen", "misfit", "unsure", "missing", "open"}[s]
}

// Verdict is what a check says of a need in this state.
func (s State) Verdict() constraints.Verdict {
	switch s {
	case Chosen:
		return constraints.Pass
	case Misfit:
		return constraints.Fail
	}
	return constraints.Undecided
}

// Turned is a part that is not chosen, and why.
type Turned struct {
	ID  string
	Why []Statement
	// Unsure: it would do if what is missing proves right.
	Unsure bool

	met int     // demands before the one that it fails
	off float64 // how far it is from that one, as a share of it
}

// Need is one thing that a build needs around its drivetrain.
type Need struct {
	Kind    string    // of the catalog: "bms", "switch", …; "" for what no kind has
	For     string    // what it is for, "" where the kind says it: "phase"
	Buy     Statement // what to buy
	Pieces  int
	Demands []Demand
	Notes   []Statement // what else is worth knowing

	State  State
	Part   *catalog.Part // nil unless Chosen
	Turned []Turned      // parts of the kind that are not chosen because of a demand, the nearest first
}

// Price is the cost of the pieces: NaN where no part is chosen or its price is
// not known.
func (n *Need) Price() float64 {
	if n.Part == nil {
		return math.NaN()
	}
	return n.Part.Cost(n.Pieces)
}

// Line is the need as a line of the shopping list. Without a part it has no
// name: Buy says what to look for.
func (n *Need) Line() Line {
	slot := n.Kind
	if n.For != "" {
		slot = strings.TrimSpace(n.For + " " + n.Kind)
	}
	if n.Part == nil {
		return Line{Slot: slot, Called: slot, Pieces: n.Pieces, SoldIn: 1, Packs: n.Pieces, Unit: math.NaN(), Total: math.NaN()}
	}
	return lineOf(slot, n.Part, n.Pieces)
}

// Open lists what is missing to tell the demands, each once; nil where nothing
// is.
func (n *Need) Open() []Statement {
	var out []Statement
	for _, d := range n.Demands {
		out = merged(out, d.Open)
	}
	return out
}

// ask is a demand and how a part of a kind answers it, NaN for a part that does
// not say.
type ask[T any] struct {
	Demand
	answer func(part T) float64
}

// part is a pointer to any kind of part.
type part interface{ Common() *catalog.Part }

// choose fills in the need: its demands, and of the parts of its kind the
// cheapest that meets them all, then the lower id. Parts are sorted by id.
func choose[T part](n *Need, parts []T, asks []ask[T]) {
	for _, a := range asks {
		if a.Open != nil {
			a.Least, a.Most, a.How = math.NaN(), math.NaN(), nil
		}
		n.Demands = append(n.Demands, a.Demand)
	}
	best := math.Inf(1)
	unsure := false
	for _, p := range parts {
		turned, ok := judge(p, asks)
		if turned.Why != nil {
			n.Turned = append(n.Turned, turned)
			unsure = unsure || turned.Unsure
		}
		if !ok {
			continue
		}
		price := orElse(p.Common().Cost(n.Pieces), math.MaxFloat64)
		if price < best {
			best, n.Part = price, p.Common()
		}
	}
	slices.SortStableFunc(n.Turned, func(a, b Turned) int {
		return cmp.Or(cmp.Compare(b.met, a.met), cmp.Compare(a.off, b.off))
	})
	switch {
	case n.Part != nil:
		n.State = Chosen
	case n.Open() != nil:
		n.State = Open
	case len(parts) == 0:
		n.State = Missing
	case unsure:
		n.State = Unsure
	default:
		n.State = Misfit
	}
}

// judge reports whether a part is known to meet every demand. Where the part is
// refused, it says why: the first demand that the part fails, or else every demand
// that it leaves undecided. A demand that is not known is met by any part that has a
// value.
func judge[T part](p T, asks []ask[T]) (turned Turned, ok bool) {
	turned.ID = p.Common().ID
	var gaps []string
	ok = true
	for i, a := range asks {
		turned.met = i
		if a.Open != nil {
			ok = ok && math.IsInf(a.answer(p), 1)
			continue
		}
		switch value := a.answer(p); {
		case math.IsNaN(value):
			if !slices.Contains(gaps, a.Key) {
				gaps = append(gaps, a.Key)
			}
		case a.short(value):
			turned.Why, turned.off = a.miss(TooLittle, value, a.Least, constraints.ThreeUp), 1-value/a.Least
			return turned, false
		case a.over(value):
			turned.Why, turned.off = a.miss(TooMuch, value, a.Most, constraints.ThreeDown), value/a.Most-1
			return turned, false
		}
	}
	if gaps == nil {
		return turned, ok
	}
	turned.Unsure, turned.met = true, len(asks)
	turned.Why = []Statement{said(NotGiven).about(gaps...)}
	return turned, false
}

// short reports whether a known value is less than is demanded, over whether it
// is more.
func (d Demand) short(value float64) bool {
	return !math.IsNaN(d.Least) && !drive.AtLeast(value, d.Least)
}

func (d Demand) over(value float64) bool { return !math.IsNaN(d.Most) && !drive.AtMost(value, d.Most) }

// Verdict is how a value in SI units answers the demand, NaN for a part that
// does not say.
func (d Demand) Verdict(value float64) constraints.Verdict {
	switch {
	case d.Open != nil || math.IsNaN(value):
		return constraints.Undecided
	case d.short(value) || d.over(value):
		return constraints.Fail
	}
	return constraints.Pass
}

// miss is how a part fails a demand.
func (d Demand) miss(code Code, value, limit float64, digits constraints.Digits) []Statement {
	if d.YesNo {
		return []Statement{said(IsFalse).about(d.Key)}
	}
	return []Statement{said(d.Code), said(code, shown(value, d.PerSI, d.Unit, constraints.ThreeDigits), shown(limit, d.PerSI, d.Unit, digits))}
}

// Small constructors that the needs share.

// least is a demand for no less than a number in SI units.
func least(code Code, key, unit string, perSI, bound float64, source string, how ...Statement) Demand {
	return Demand{Code: code, Key: key, Unit: unit, PerSI: perSI, Least: bound, Most: math.NaN(), How: how, Source: source}
}

// most is a demand for no more than a number in SI units.
func most(code Code, key, unit string, perSI, bound float64, source string, how ...Statement) Demand {
	d := least(code, key, unit, perSI, math.NaN(), source, how...)
	d.Most = bound
	return d
}

// yes is a yes-or-no demand.
func yes(code Code, key, source string) Demand {
	return Demand{Code: code, Key: key, YesNo: true, PerSI: 1, Least: 1, Most: math.NaN(), Source: source}
}

// bears is a demand for at least a current, which may not be known.
func bears(code Code, key string, c Current, source string) Demand {
	d := least(code, key, "A", 1, c.Amps, source, c.How...)
	if !c.known() {
		d.Open, d.How = c.How, nil
	}
	return d
}

// isSo is the answer to a yes-or-no demand.
func isSo(b *bool) float64 {
	switch {
	case b == nil:
		return math.NaN()
	case *b:
		return 1
	}
	return 0
}

// borne is a current that a part must bear.
func (c Current) borne() constraints.Quantity { return boundLeast(c.Amps, "A") }
