package search

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"

	"github.com/google/go-cmp/cmp"
)

// rangedProblems are the problem of a random catalog with tables of ranges, and that of
// the same written part by part; ok is false where brief and catalog do not go together.
func rangedProblems(t *testing.T, seed uint64) (tables, parts *constraints.Problem, ok bool) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 9))
	s := randcat.Small()
	s.Motors, s.Batteries, s.Wheels = 2, 1, 2
	text, briefText := randcat.Catalog(r, s), randcat.Brief(r)
	ranged, single := randcat.Ranged(r)
	brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
	if err != nil {
		return nil, nil, false
	}
	problem := func(more string) *constraints.Problem {
		c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(text + more)})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		p, err := constraints.NewProblem(c, brief)
		if err != nil {
			return nil
		}
		return p
	}
	tables, parts = problem(ranged), problem(single)
	return tables, parts, tables != nil && parts != nil
}

// TestRangesArePartByPart: a catalog with ranges gives the counts, the builds and the
// scores of the same catalog written part by part, in its order and to the bit, and
// those of the plain search.
func TestRangesArePartByPart(t *testing.T) {
	n := uint64(400)
	if testing.Short() {
		n /= 10
	}
	problems, feasible := 0, uint64(0)
	for seed := range n {
		tables, parts, ok := rangedProblems(t, seed)
		if !ok {
			continue
		}
		problems++
		feasible += answerAlike(t, seed, tables, parts)
	}
	if problems < int(n)/2 || feasible == 0 {
		t.Errorf("%d of %d random catalogs make a problem, with %d feasible builds: the test does not test", problems, n, feasible)
	}
}

// listedProblems are the problem of a random catalog that uses lists of standards, some
// with a price for some of their belts, and that of the same with their parts written out.
func listedProblems(t *testing.T, seed uint64) (lists, parts *constraints.Problem, ok bool) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 10))
	text, briefText := randcat.Catalog(r, randcat.Small()), randcat.Brief(r)
	brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
	if err != nil {
		return nil, nil, false
	}
	head, change, price := "schema = 1\nuse = [\"belts/htd-5m\", \"chains/06c\"]\n", "", ""
	if r.IntN(2) > 0 {
		price = "price = 14\n"
		change = "\n[[change]]\nkind = \"belt\"\nid = \"belt-htd-5m-15mm\"\n" + price
	}
	var out strings.Builder
	for _, width := range []int{9, 15, 25} {
		for teeth := 40; teeth <= 140; teeth++ {
			fmt.Fprintf(&out, "\n[[belt]]\nid = \"belt-htd-5m-%dmm-%d\"\nprofile = \"htd-5m\"\nteeth = %d\nwidth_mm = %d\n", width, teeth, teeth, width)
			if width == 15 {
				out.WriteString(price)
			}
		}
	}
	for links := 30; links <= 120; links += 2 {
		fmt.Fprintf(&out, "\n[[chain]]\nid = \"chain-06c-%d\"\nprofile = \"chain-06c\"\nlinks = %d\n", links, links)
	}
	problem := func(text string) *constraints.Problem {
		c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(text)})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		p, err := constraints.NewProblem(c, brief)
		if err != nil {
			return nil
		}
		return p
	}
	lists, parts = problem(strings.Replace(text, "schema = 1\n", head, 1)+change), problem(text+out.String())
	return lists, parts, lists != nil && parts != nil
}

// TestListsArePartByPart: a catalog that uses lists of standards answers as one that has
// their parts written out.
func TestListsArePartByPart(t *testing.T) {
	n := uint64(200)
	if testing.Short() {
		n /= 10
	}
	problems, worn, feasible := 0, 0, uint64(0)
	for seed := range n {
		lists, parts, ok := listedProblems(t, seed)
		if !ok {
			continue
		}
		problems++
		for _, d := range lists.Drives {
			if d.Belt != nil && (strings.HasPrefix(d.Belt.ID, "belt-htd") || strings.HasPrefix(d.Belt.ID, "chain-06c")) {
				worn++
			}
		}
		feasible += answerAlike(t, seed, lists, parts)
	}
	if problems < int(n)/2 || worn == 0 || feasible == 0 {
		t.Errorf("%d of %d random catalogs make a problem, %d drives wear a listed belt, %d builds are feasible: the test does not test", problems, n, worn, feasible)
	}
}

// answerAlike holds the ranking of a problem to that of the same written part by part, in
// counts, order and bits, and to the plain search. It returns how many builds are feasible.
func answerAlike(t *testing.T, seed uint64, got, want *constraints.Problem) uint64 {
	t.Helper()
	parts, err := Rank(t.Context(), want, Options{})
	if err != nil {
		t.Fatal(err)
	}
	tables, err := Rank(t.Context(), got, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(parts.Tally, tables.Tally); d != "" {
		t.Fatalf("seed %d: counts differ (-parts +tables):\n%s", seed, d)
	}
	if d := cmp.Diff(parts.ranked, tables.ranked, cmp.AllowUnexported(entry{})); d != "" {
		t.Fatalf("seed %d: builds differ (-parts +tables):\n%s", seed, d)
	}
	for i := range min(5, len(tables.ranked)) {
		a, b := parts.At(i), tables.At(i)
		if d := cmp.Diff(partIDs(a.Build), partIDs(b.Build)); a.Score != b.Score || d != "" {
			t.Fatalf("seed %d: build %d scores %v, part by part %v (-parts +tables):\n%s", seed, i, b.Score, a.Score, d)
		}
	}
	if tables.Combinations < 20_000 {
		tally, entries := plain(got, false)
		if d := cmp.Diff(tally, tables.Tally); d != "" {
			t.Fatalf("seed %d: counts differ from the plain search (-plain +fast):\n%s", seed, d)
		}
		if d := cmp.Diff(entries, tables.ranked, cmp.AllowUnexported(entry{})); d != "" && len(entries) > 0 {
			t.Fatalf("seed %d: builds differ from the plain search (-plain +fast):\n%s", seed, d)
		}
	}
	return tables.Feasible
}

// partIDs are the ids of a build's parts, with its number of motors.
func partIDs(b *constraints.Build) []string {
	ids := []string{fmt.Sprint(b.Motors())}
	for _, slot := range constraints.Slots() {
		id := ""
		if p := b.Part(slot); p != nil {
			id = p.ID
		}
		ids = append(ids, id)
	}
	return ids
}
