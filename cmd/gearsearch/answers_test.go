package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// found is what the tests below read of any answer.
type found struct {
	Complete              bool
	Feasible              *uint64
	FrontSize             int `json:"front_size"`
	Base                  foundBuild
	Swaps, Broken, Builds []foundBuild
	Parts                 []foundPart
	Openings              []struct{ Concessions []foundGiven }
	Cells                 []foundCell
	Stability             struct{ Ranges []foundRange }
	Combinations, Unknown *uint64
	Rejected              []struct{ Count uint64 }
}

type foundBuild struct {
	Rank       *int
	Score      float64
	Parts      map[string]any
	Figures    map[string]any
	Changes    map[string]*float64
	PriceToPay *float64 `json:"price_to_pay"`
	Buys       []struct {
		ID     string
		Pieces int
	}
	Leaves []struct{ ID string }
	Breaks []struct{ Name string }
	Checks []struct {
		Name, Verdict string
	}
	Tolerance struct {
		Share  float64
		Checks []struct{ Share float64 }
	}
}

type foundPart struct {
	ID           string
	Feasible     uint64
	Score        *float64
	StoppedBy    *string `json:"stopped_by"`
	Reaches      map[string]*float64
	Build        *foundBuild
	Combinations uint64
}

type foundGiven struct {
	Key      string
	From, To float64
}

type foundCell struct {
	MotorTeeth *int    `json:"motor_teeth"`
	TopSpeed   float64 `json:"top_speed_kmh"`
	Verdict    string
	Fails      []string
	Parts      map[string]any
}

type foundRange struct {
	Criterion    string
	Weight       float64
	Low          float64
	High         *float64
	Below, Above map[string]any
}

func finding(t *testing.T, line string, code int) found {
	t.Helper()
	r := answerTo(context.Background(), line+" --format json --quiet"+shop)
	if r.code != code {
		t.Fatalf("gearsearch %s: exit code %d, want %d: %s", line, r.code, code, r.stderr)
	}
	var f found
	if err := json.Unmarshal([]byte(r.stdout), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// keep are the flags that leave one build's parts in play.
func keep(parts map[string]any) string {
	line := ""
	for _, slot := range []string{"battery", "controller", "motor", "motor_pulley", "wheel_pulley", "mount", "gear_drive", "wheel"} {
		if id, ok := parts[slot].(string); ok {
			line += " --keep " + slot + "=" + id
		}
	}
	return line
}

// TestSwapsAddUp: the differences are those of the sheets, what is paid is what
// the new parts cost in the catalog, and what breaks fails on the sheet.
func TestSwapsAddUp(t *testing.T) {
	f := finding(t, "swap testdata/shop/build.toml --change motor,wheel,battery --all --top 0 --price-limit 930", outcome.ExitAnswered)
	prices := map[string]float64{"pond-150": 110, "pond-190": 110, "disc-97": 55.0 / 4, "disc-110": 70.0 / 4, "brick-10s3p": 230, "brick-12s3p": 270}
	if len(f.Swaps) == 0 || len(f.Broken) == 0 || len(f.Swaps)+len(f.Broken) != 3*2*2-1 {
		t.Fatalf("%d swaps, %d broken", len(f.Swaps), len(f.Broken))
	}
	for _, x := range slices.Concat(f.Swaps, f.Broken) {
		for name, change := range x.Changes {
			before, ok := f.Base.Figures[name].(float64)
			after, also := x.Figures[name].(float64)
			if name == "score" {
				before, after, ok, also = f.Base.Score, x.Score, true, true
			}
			if ok && also && (change == nil || math.Abs(*change-(after-before)) > 1e-6) {
				t.Errorf("%v: %s changes by %v, from %v to %v", x.Parts, name, change, before, after)
			}
		}
		sum := 0.0
		for _, b := range x.Buys {
			sum += float64(b.Pieces) * priceOf(prices, b.ID)
		}
		if math.IsNaN(sum) != (x.PriceToPay == nil) || x.PriceToPay != nil && math.Abs(*x.PriceToPay-sum) > 1e-9 {
			t.Errorf("%v: to pay %v, want %v", x.Parts, x.PriceToPay, sum)
		}
		if len(x.Buys) != len(x.Leaves) {
			t.Errorf("%v: %d parts come, %d leave", x.Parts, len(x.Buys), len(x.Leaves))
		}
		var failed, breaks []string
		for _, c := range x.Checks {
			if c.Verdict == "fail" {
				failed = append(failed, c.Name)
			}
		}
		for _, c := range x.Breaks {
			breaks = append(breaks, c.Name)
		}
		if !slices.Equal(failed, breaks) || (x.Rank == nil) != (len(breaks) > 0) {
			t.Errorf("%v breaks %v, fails %v", x.Parts, breaks, failed)
		}
	}
}

// priceOf is a price, NaN for a part that has none.
func priceOf(prices map[string]float64, id string) float64 {
	if p, ok := prices[id]; ok {
		return p
	}
	return math.NaN()
}

// TestShortlistIsRankKept: each part opens what a ranking that keeps it finds.
func TestShortlistIsRankKept(t *testing.T) {
	const limits = " --top-speed 45km/h --price-limit 1050"
	for _, slot := range []string{"motor", "wheel", "battery", "controller", "motor_pulley", "wheel_pulley", "gear_drive", "mount"} {
		for _, x := range finding(t, "shortlist "+slot+limits, outcome.ExitAnswered).Parts {
			code := outcome.ExitAnswered
			if x.Feasible == 0 {
				code = outcome.ExitInfeasible
			}
			// The reference of prices is the limit in both.
			avoid := ""
			if slot == "gear_drive" {
				avoid = " --avoid motor_pulley=cog-15,cog-16"
			} else if slot == "motor_pulley" || slot == "wheel_pulley" || slot == "mount" {
				avoid = " --avoid gear_drive=spur-2.9"
			}
			kept := finding(t, "rank --top 0 --weight mass=0 --keep "+slot+"="+x.ID+avoid+limits, code)
			if *kept.Feasible != x.Feasible || *kept.Combinations != x.Combinations || (x.StoppedBy == nil) != (x.Feasible > 0) {
				t.Errorf("%s %s opens %d of %d, a ranking finds %d of %d", slot, x.ID, x.Feasible, x.Combinations, *kept.Feasible, *kept.Combinations)
			}
			for name, reached := range x.Reaches {
				best := math.NaN()
				for _, b := range kept.Builds {
					value, ok := b.Figures[name].(float64)
					if ok && (math.IsNaN(best) || name == "price" && value < best || name != "price" && value > best) {
						best = value
					}
				}
				if math.IsNaN(best) != (reached == nil) || reached != nil && *reached != best {
					t.Errorf("%s %s reaches %s %v, a ranking %v", slot, x.ID, name, reached, best)
				}
			}
		}
	}
}

// TestConcessionsOpen: with what relax gives way on, something is feasible;
// with a little less, nothing is.
func TestConcessionsOpen(t *testing.T) {
	const asked = " --strict --top-speed 60km/h --range 45km --price-limit 1200"
	f := finding(t, "relax"+asked, outcome.ExitAnswered)
	if len(f.Openings) < 2 {
		t.Fatalf("%d concessions", len(f.Openings))
	}
	for _, o := range f.Openings {
		for _, g := range o.Concessions {
			set := func(x float64) string { return fmt.Sprintf(" --set %s=%s", g.Key, strconv.FormatFloat(x, 'g', -1, 64)) }
			finding(t, "rank --top 1"+asked+set(g.To), outcome.ExitAnswered)
			finding(t, "rank --top 1"+asked+set(g.From+(g.To-g.From)*(1-1e-6)), outcome.ExitInfeasible)
		}
	}
}

// TestFrontByDefinition: the front is what no other feasible build beats.
func TestFrontByDefinition(t *testing.T) {
	all := finding(t, "rank --top 0", outcome.ExitAnswered).Builds
	sense := map[string]float64{"top_speed_kmh": 1, "hill_torque_nm": 1, "price": -1, "mesh_teeth": 1}
	front := finding(t, "rank --top 0 --front top_speed_kmh,hill_torque_nm,price,mesh_teeth", outcome.ExitAnswered)
	value := func(b *foundBuild, name string) float64 {
		if x, ok := b.Figures[name].(float64); ok {
			return sense[name] * x
		}
		return math.Inf(-1)
	}
	var want []int
	for i := range all {
		beaten := slices.ContainsFunc(all, func(o foundBuild) bool {
			better := false
			for name := range sense {
				a, b := value(&o, name), value(&all[i], name)
				if a < b {
					return false
				}
				better = better || a > b
			}
			return better
		})
		if !beaten {
			want = append(want, i)
		}
	}
	if front.FrontSize != len(want) || len(front.Builds) != len(want) || len(want) < 5 || len(want) == len(all) {
		t.Fatalf("%d and %d on the front, want %d of %d", front.FrontSize, len(front.Builds), len(want), len(all))
	}
	for i, at := range want {
		if fmt.Sprint(front.Builds[i].Parts) != fmt.Sprint(all[at].Parts) {
			t.Errorf("build %d of the front is %v, want %v", i+1, front.Builds[i].Parts, all[at].Parts)
		}
	}
}

// TestNoCountRanksAlike: without counting the builds are the same.
func TestNoCountRanksAlike(t *testing.T) {
	counted, not := finding(t, "rank --top 30", outcome.ExitAnswered), finding(t, "rank --top 30 --no-count", outcome.ExitAnswered)
	want(t, "builds", fmt.Sprint(not.Builds[0].Parts, len(not.Builds)), fmt.Sprint(counted.Builds[0].Parts, len(counted.Builds)))
	for i := range counted.Builds {
		want(t, strconv.Itoa(i), fmt.Sprint(not.Builds[i].Parts, not.Builds[i].Score), fmt.Sprint(counted.Builds[i].Parts, counted.Builds[i].Score))
	}
	if not.Feasible != nil || not.Unknown != nil || not.Rejected != nil || *not.Combinations != *counted.Combinations {
		t.Error("something is counted")
	}
}

// TestWeightsHold: within its range a weight keeps the first build first;
// beyond an end the build that is named leads.
func TestWeightsHold(t *testing.T) {
	f := finding(t, "rank --stability --top 1 --draws 10", outcome.ExitAnswered)
	first := fmt.Sprint(f.Builds[0].Parts)
	leader := func(criterion string, weight float64) string {
		return fmt.Sprint(finding(t, fmt.Sprintf("rank --top 1 --weight %s=%.9g", criterion, weight), outcome.ExitAnswered).Builds[0].Parts)
	}
	moved := 0
	for _, r := range f.Stability.Ranges {
		const step = 1e-4
		if r.Low > 0 {
			want(t, r.Criterion+" above its low end", leader(r.Criterion, r.Low*(1+step)), first)
			want(t, r.Criterion+" below it", leader(r.Criterion, r.Low*(1-step)), fmt.Sprint(r.Below))
			moved++
		}
		if r.High != nil {
			want(t, r.Criterion+" below its high end", leader(r.Criterion, *r.High*(1-step)), first)
			want(t, r.Criterion+" above it", leader(r.Criterion, *r.High*(1+step)), fmt.Sprint(r.Above))
			moved++
		}
	}
	if moved < 3 {
		t.Errorf("only %d ends", moved)
	}
}

// TestToleranceOrders: the shares are those of the checks, and the order asked
// for is kept.
func TestToleranceOrders(t *testing.T) {
	const line = "rank --top 30 --tolerance --draws 100 --by robust"
	f := finding(t, line, outcome.ExitAnswered)
	for i, b := range f.Builds {
		if i > 0 && b.Tolerance.Share > f.Builds[i-1].Tolerance.Share {
			t.Errorf("build %d passes more often than the one before", i+1)
		}
		for _, c := range b.Tolerance.Checks {
			undecided := slices.ContainsFunc(b.Checks, func(x struct{ Name, Verdict string }) bool { return x.Verdict == "unknown" })
			if c.Share < b.Tolerance.Share && !undecided {
				t.Errorf("build %d passes everything in %v, one check in %v", i+1, b.Tolerance.Share, c.Share)
			}
		}
	}
	want(t, "the same again", answered(t, line+" --format csv"+shop), answered(t, line+" --format csv"+shop))
}

// TestChartIsTheSheet: a cell is what a ranking of its parts alone says.
func TestChartIsTheSheet(t *testing.T) {
	const limits = " --top-speed-max 38km/h"
	f := finding(t, "rank --chart teeth --keep motor=pond-150 --keep battery=brick-10s3p --keep controller=duet-60 --keep wheel=disc-97"+limits, outcome.ExitAnswered)
	if len(f.Cells) != 5 {
		t.Fatalf("%d cells", len(f.Cells))
	}
	verdicts := map[string]int{}
	for _, c := range f.Cells {
		verdicts[c.Verdict]++
		line := "rank --top 1" + keep(c.Parts) + limits
		if c.Parts["gear_drive"] == nil {
			line += " --avoid gear_drive=spur-2.9"
		} else {
			line += " --avoid motor_pulley=cog-15,cog-16"
		}
		if c.Verdict == "fail" {
			finding(t, line, outcome.ExitInfeasible)
			continue
		}
		b := finding(t, line, outcome.ExitAnswered).Builds[0]
		if b.Figures["top_speed_kmh"] != c.TopSpeed {
			t.Errorf("%v: %v km/h, want %v", c.Parts, c.TopSpeed, b.Figures["top_speed_kmh"])
		}
	}
	if verdicts["fail"] == 0 || verdicts["pass"] == 0 {
		t.Errorf("verdicts %v", verdicts)
	}
}

// TestAnswersInterrupted: what is there when a search is interrupted is given,
// marked, with the exit code of an interrupted program.
func TestAnswersInterrupted(t *testing.T) {
	const huge = " --catalog testdata/shop/huge.toml --top-speed 10km/h"
	build := t.TempDir() + "/build.toml"
	answered(t, "rank --quiet --format csv --no-count --top 1 --keep wheel=w-97 --keep battery=b-10s5p --save 1="+build+huge)
	const all = " --change motor,controller,battery,drive,wheel"
	for _, tt := range []struct{ line, mark string }{
		{"swap " + build + all, "INCOMPLETE: interrupted after "},
		{"swap " + build + all + " --format json", `"complete": false`},
		{"shortlist motor", "INCOMPLETE: interrupted after "},
		{"shortlist motor --format json", `"complete": false`},
		{"relax --builds 1000", "INCOMPLETE: interrupted before "},
		{"relax --builds 1000 --format jsonl", `"complete": false`},
		{"relax --price-limit 1", "INCOMPLETE: interrupted before "},
		{"ideal", "INCOMPLETE: interrupted after "},
		{"ideal --format json", `"complete": false`},
		{"rank --front top_speed_kmh,price --format json", `"complete": false`},
		{"rank --stability --format json", `"complete": false`},
		{"sheet " + build + " --tolerance", "INCOMPLETE: interrupted before it was seen what becomes of the build"},
		{"sheet " + build + " --tolerance --format json", `"tolerance": null`},
		{"rank --tolerance --no-count", "INCOMPLETE: interrupted; this is the best so far."},
		{"rank --chart teeth", ""},
	} {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		r := answerTo(ctx, tt.line+huge)
		if r.code != outcome.ExitInterrupted || !strings.Contains(r.stdout, tt.mark) || !strings.Contains(r.stderr, "interrupted: ") {
			t.Errorf("%s: exit code %d, stdout %.200q, stderr %q", tt.line, r.code, r.stdout, r.stderr)
		}
	}

	ctx, cancel := context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	r := answerTo(ctx, "rank --front top_speed_kmh,price --format csv -o "+filepath.Join(t.TempDir(), "front.csv")+huge)
	if r.code != outcome.ExitInterrupted || !strings.Contains(r.stderr, "a CSV file cannot say that it is incomplete") {
		t.Errorf("a CSV file: exit code %d, stderr %q", r.code, r.stderr)
	}
}

// answerLines are command lines of every answer but the plain ranking and the
// sheet.
func answerLines() []string {
	return []string{
		"swap testdata/shop/build.toml --change motor,wheel --all --price-limit 930",
		"swap testdata/shop/build.toml --change drive --price-limit 300",
		"vary testdata/shop/build.toml --kv 180,190 --teeth 16:36 --use wheel=disc-110 --charge full,3.4 --erpm-ceiling 40000",
		"vary testdata/shop/build.toml --kv 180,190 --series 9,12 --wheel-size 110mm --all",
		"shortlist motor", "shortlist drive --price-limit 930",
		"relax --top-speed 63km/h", "relax --builds 110",
		"ideal",
		"rank --chart teeth",
		"rank --front top_speed_kmh,hill_torque_nm,climb_current_a --top 5",
		"rank --stability --tolerance --draws 50 --top 5",
		"rank --no-count --top 5",
		"rank --front top_speed_kmh,hill_torque_nm,climb_current_a --top 5 --full",
		"rank --stability --tolerance --draws 50 --top 5 --full",
		"sheet testdata/shop/build.toml --tolerance --draws 50",
		"sheet testdata/shop/build.toml --tolerance --draws 50 --full",
	}
}

// untilNext is a text without the commands to type at its end.
func untilNext(text string) string {
	if end := nextWord.FindStringIndex(text); end != nil {
		return text[:end[0]]
	}
	return text
}

var nextWord = regexp.MustCompile(`(?m)^[Nn]ext\b`)

// TestAnswersFitTheTerminal: no line is wider than the terminal, but the
// commands to type at the end.
func TestAnswersFitTheTerminal(t *testing.T) {
	for _, columns := range []int{40, 80, 120} {
		t.Setenv("COLUMNS", strconv.Itoa(columns))
		for _, line := range answerLines() {
			text := answerTo(context.Background(), line+shop).stdout
			body := untilNext(text)
			for l := range strings.SplitSeq(body, "\n") {
				if n := utf8.RuneCountInString(l); n > columns {
					t.Errorf("%s: on %d columns a line has %d: %s", line, columns, n, l)
				}
			}
		}
	}
}

// TestAnswersToClosedPipes end quietly in every format.
func TestAnswersToClosedPipes(t *testing.T) {
	for _, line := range answerLines() {
		for _, f := range []string{"table", "json"} {
			var stderr strings.Builder
			code := run(context.Background(), append([]string{"gearsearch"}, strings.Fields(line+" --quiet --format "+f+shop)...), strings.NewReader(""), closedPipe{}, &stderr)
			if code != outcome.ExitAnswered || stderr.Len() > 0 {
				t.Errorf("%s, %s: exit code %d, stderr %q", line, f, code, stderr.String())
			}
		}
	}
}
