package webengine

import (
	"encoding/json"
	"os"
	"regexp"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
)

// vast is a catalog of families of invented parts that all fit one another: more than
// 10¹² combinations.
func vast(t testing.TB) []byte {
	t.Helper()
	text, err := os.ReadFile("../../testdata/shop/huge.toml")
	if err != nil {
		t.Fatal(err)
	}
	out := string(text)
	for _, x := range []struct {
		key        string
		from, step float64
		n          int
	}{{"parallel", 4, 0, 1}, {"capacity_ah", 10, 0.02, 600}, {"ratio", 2, 0.005, 800}, {"diameter_mm", 80, 0.2, 1000}} {
		var list []string
		for i := range x.n {
			list = append(list, strconv.FormatFloat(x.from+float64(i)*x.step, 'f', 3, 64))
		}
		value := "[" + strings.Join(list, ", ") + "]"
		if x.n == 1 {
			value = strconv.Itoa(int(x.from))
		}
		out = regexp.MustCompile(`(?m)^`+x.key+` = .*$`).ReplaceAllString(out, x.key+" = "+value)
	}
	return []byte(out)
}

// TestStop stops searches of 10¹² combinations in the middle: they have told how far
// they are, and answer with what they have found, and say that it is not all.
func TestStop(t *testing.T) {
	var e *Engine
	var stop atomic.Bool
	e, err := New(func() {
		if stop.Swap(false) {
			e.Answer([]byte(`{"ask":"stop"}`), nil)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if r := ask[contents](t, e, M{"ask": "catalog", "files": []M{{"name": "vast.toml", "data": vast(t)}}}); r.Answer == nil {
		t.Fatalf("%+v", r)
	}
	brief := M{"target.top_speed_kmh": "10", "target.range_km": "5"}
	// answer asks, and stops the search once it has told enough.
	answer := func(question string, enough func(last progress, n int) bool, out any) []progress {
		t.Helper()
		var told []progress
		text, err := json.Marshal(M{"ask": question, "brief": brief})
		if err != nil {
			t.Fatal(err)
		}
		reply := e.Answer(text, func(far []byte) {
			var p progress
			if err := json.Unmarshal(far, &p); err != nil {
				t.Errorf("%s: %v", far, err)
			}
			told = append(told, p)
			stop.Store(enough(p, len(told)))
		})
		stop.Store(false) // what was told at the very end is too late
		if err := json.Unmarshal(reply, out); err != nil {
			t.Fatalf("%s: %v", reply, err)
		}
		for i, p := range told {
			if !strings.Contains(p.Text, " % of ") || p.Part < 0 || p.Part > 1 || i > 0 && p.Part < told[i-1].Part {
				t.Errorf("%s, told %d: %+v", question, i, p)
			}
		}
		return told
	}

	thrice := func(_ progress, n int) bool { return n >= 3 }
	found := func(last progress, _ int) bool { return last.Best != nil && len(last.Best.Builds) > 0 }

	var counted answered[tally]
	if told := answer("count", thrice, &counted); len(told) < 3 || counted.Answer == nil {
		t.Fatalf("count tells %v, and answers %+v", told, counted)
	}
	if a := counted.Answer; !strings.HasPrefix(a.Incomplete, "INCOMPLETE: interrupted after ") || a.None {
		t.Errorf("the count that was stopped says %q, nothing feasible: %v", a.Incomplete, a.None)
	}

	var ranked answered[ranking]
	told := answer("rank", found, &ranked)
	if ranked.Answer == nil {
		t.Fatalf("rank answers %+v", ranked)
	}
	t.Logf("rank tells %d times, at last at %s", len(told), told[len(told)-1].Text)
	if ranked.Answer.Incomplete != "INCOMPLETE: interrupted; this is the best so far." || len(ranked.Answer.Builds) == 0 {
		t.Errorf("the ranking that was stopped has %d builds and says %q", len(ranked.Answer.Builds), ranked.Answer.Incomplete)
	}

	// A question that is stopped before it has found anything is no answer that
	// nothing does it, and one that comes after is answered as ever.
	var costs answered[wishes]
	answer("without", thrice, &costs)
	if !costs.Cancelled {
		t.Errorf("what wishes cost, stopped: %+v", costs)
	}
	if r := ask[contents](t, e, M{"ask": "catalog", "files": []M{}}); r.Answer == nil {
		t.Fatalf("%+v", r)
	}
	if r := ask[tally](t, e, M{"ask": "count", "brief": M{"target.top_speed_kmh": "30"}}); r.Answer == nil || r.Answer.Incomplete != "" {
		t.Errorf("after a stop: %+v", r)
	}
}
