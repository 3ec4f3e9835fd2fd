package search

import (
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

var (
	magnitude = regexp.MustCompile(`\|[^|]*\|`)
	unitWord  = regexp.MustCompile(`(\d) (km/h|km|rpm|kg|N|A|s|°C)(?:\b|$|[ )])`)
)

// amount is the value of a formula with its numbers put in, reckoned by Go's own
// constant arithmetic; ok is false where there is none.
func amount(put string) (x float64, ok bool) {
	text := unitWord.ReplaceAllString(put, "$1")
	text = strings.NewReplacer("−", "-", "×", "*", "/", "/ 1.0 /").Replace(text)
	value := func(expr string) (float64, bool) {
		v, err := types.Eval(token.NewFileSet(), nil, token.NoPos, expr)
		if err != nil || v.Value == nil {
			return math.NaN(), false
		}
		x, _ := constant.Float64Val(constant.ToFloat(v.Value))
		return x, true
	}
	text = magnitude.ReplaceAllStringFunc(text, func(expr string) string {
		inner, _ := value(strings.Trim(expr, "|"))
		return strconv.FormatFloat(math.Abs(inner), 'f', -1, 64)
	})
	return value(text)
}

// The numbers that are put in come to the criterion itself, as far as their
// four digits tell, and where it is not known there is a note instead.
func TestCriteriaAreWhatTheirNumbersSay(t *testing.T) {
	told, silent := map[string]int{}, map[string]int{}
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 5))
		text, brief := randcat.Catalog(r, randcat.Small()), strings.TrimPrefix(randcat.Brief(r), "schema = 1\n")
		n := 0
		p := textProblem(t, text, brief)
		eachBuild(p, func(b *constraints.Build, _ uint64) {
			if n++; n > 50 {
				return
			}
			for _, c := range Criteria() {
				if !c.Applies(p) {
					continue
				}
				raw, put := c.Raw(b), c.Put(b)
				got, ok := amount(put.Formula)
				if math.IsNaN(raw) || math.IsInf(raw, 0) {
					if ok && !math.IsInf(raw, 0) {
						t.Fatalf("%s is not known, yet %+v comes to %v", c.Name, put, got)
					}
					if math.IsNaN(raw) && len(put.Notes) == 0 {
						t.Fatalf("%s is not known, and %+v does not say why", c.Name, put)
					}
					silent[c.Name]++
					continue
				}
				if !ok || math.Abs(got-raw) > 2e-3*(1+math.Abs(raw)) {
					t.Fatalf("%s is %v, but %+v comes to %v", c.Name, raw, put, got)
				}
				told[c.Name]++
			}
		})
	}
	for _, c := range Criteria() {
		if told[c.Name] == 0 || silent[c.Name] == 0 && c.Name != "speed" {
			t.Errorf("%s: told %d times, not known %d times: too little is drawn", c.Name, told[c.Name], silent[c.Name])
		}
	}
}

// Which teeth meet stands with the teeth in mesh.
func TestMeshTellsWhichTeethMeet(t *testing.T) {
	belts := belted(oneBuild, "")
	swap := func(text, from, to string) string { return strings.Replace(text, from, to, 1) }
	const inTurn, oneOnly = constraints.PulleysMeetInTurn, constraints.PulleysMeetOneOnly
	type codes = []constraints.NoteCode
	for _, tt := range []struct {
		why, catalog string
		notes        codes
		teeth        []float64 // of the last note
	}{
		{"no common divisor", swap(belts, "teeth = 16\nbore_mm = 8", "teeth = 17\nbore_mm = 8"), codes{inTurn}, []float64{17, 48}},
		{"sixteen in both", belts, codes{oneOnly}, []float64{16, 48, 16}},
		{"a drive of unknown gears", oneBuild, codes{constraints.GearNoBelt, constraints.NoGearTeeth}, nil},
		{"inside the wheel", swap(oneBuild, "ratio =", "in_wheel = true\nratio ="), codes{constraints.MotorInWheel}, nil},
	} {
		p := textProblem(t, tt.catalog, "[target]\ntop_speed_kmh = 30\n")
		eachBuild(p, func(b *constraints.Build, _ uint64) {
			var notes codes
			var teeth []float64
			for _, n := range putMesh(b).Notes {
				notes, teeth = append(notes, n.Code), nil
				for _, q := range n.Quantities {
					teeth = append(teeth, q.SI)
				}
			}
			if !slices.Equal(notes, tt.notes) || !slices.Equal(teeth, tt.teeth) {
				t.Errorf("%s: %v of %v teeth", tt.why, notes, teeth)
			}
		})
	}
}
