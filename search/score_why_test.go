package search

import (
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

var (
	magnitude = regexp.MustCompile(`\|[^|]*\|`)
	unitWord  = regexp.MustCompile(`(\d) (km/h|km|rpm|kg|N|A|s)\b`)
	sideWords = regexp.MustCompile(`, as .*|;.*`)
)

// amount is the value of a formula with its numbers put in, reckoned by Go's own
// constant arithmetic; ok is false for words.
func amount(put string) (x float64, ok bool) {
	text := sideWords.ReplaceAllString(put, "")
	text = unitWord.ReplaceAllString(text, "$1")
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
// four digits tell, and where it is not known there are words instead.
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
				got, ok := amount(put)
				if math.IsNaN(raw) || math.IsInf(raw, 0) {
					if ok && !math.IsInf(raw, 0) {
						t.Fatalf("%s is not known, yet %q comes to %v", c.Name, put, got)
					}
					silent[c.Name]++
					continue
				}
				if !ok || math.Abs(got-raw) > 2e-3*(1+math.Abs(raw)) {
					t.Fatalf("%s is %v, but %q comes to %v", c.Name, raw, put, got)
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
	for _, tt := range []struct {
		why, catalog, want string
	}{
		{"no common divisor", swap(belts, "teeth = 16\nbore_mm = 8", "teeth = 17\nbore_mm = 8"), "of 17 and 48 teeth share no divisor: each tooth meets all"},
		{"sixteen in both", belts, "of 16 and 48 teeth share the divisor 16: each tooth meets only one in 16"},
		{"a drive of unknown gears", oneBuild, "1, as a gear drive has no belt; the gears' teeth are not known"},
		{"inside the wheel", swap(oneBuild, "ratio =", "in_wheel = true\nratio ="), "1, as the motor sits in the wheel"},
	} {
		p := textProblem(t, tt.catalog, "[target]\ntop_speed_kmh = 30\n")
		eachBuild(p, func(b *constraints.Build, _ uint64) {
			if got := putMesh(b); !strings.Contains(got, tt.want) {
				t.Errorf("%s: %q does not tell %q", tt.why, got, tt.want)
			}
		})
	}
}
