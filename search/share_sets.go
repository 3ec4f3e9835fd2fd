package search

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// places name a set: a choice, and for each problem the position in the list
// of its builds.
type places struct {
	level level
	lists [][]entry
	at    []int
}

// frontier is the sets that are next in order, the best on top.
//
// A choice's sets are a tree: the first of each list at its root, and a step
// down one list, or one behind the list that was stepped down last, to each
// child. So every set has one parent, which is at least as good.
type frontier []places

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].level.compare(f[j].level) > 0 }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(places)) }
func (f *frontier) Pop() any {
	last := len(*f) - 1
	x := (*f)[last]
	*f = (*f)[:last]
	return x
}

// ranked is a set with all that its place depends on.
type ranked struct {
	level level
	price int64
	ids   []uint64
}

func (r ranked) compare(o ranked) int {
	return cmp.Or(o.level.compare(r.level), cmp.Compare(r.price, o.price), slices.Compare(r.ids, o.ids))
}

// sets lists the best sets of a choice, made of these builds. A set's price
// counts only among equals, so sets are taken from the frontier until all that
// tie with the last are there.
func (s *shareSearch) sets(ctx context.Context, lists [][]entry) []ranked {
	f := frontier{s.placed(lists, make([]int, len(lists)))}
	lines := make([]map[int][]constraints.Line, len(lists))
	for i := range lines {
		lines[i] = map[int][]constraints.Line{}
	}
	n := s.options.Top
	var found []ranked
	for len(f) > 0 && ctx.Err() == nil {
		next := heap.Pop(&f).(places)
		if s.below(next.level) || len(found) >= n && next.level.compare(found[n-1].level) < 0 {
			break
		}
		found = append(found, s.rank(next, lines))
		if len(found) >= 2*n+surplus(n) {
			found = bestSets(found, n)
		}
		s.children(next, func(p places) { heap.Push(&f, p) })
	}
	return bestSets(found, n)
}

func bestSets(list []ranked, n int) []ranked {
	slices.SortFunc(list, ranked.compare)
	return list[:min(n, len(list))]
}

// placed is the set at some places of lists.
func (s *shareSearch) placed(lists [][]entry, at []int) places {
	scores := make([]int64, len(lists))
	for i, list := range lists {
		scores[i] = list[at[i]].score
	}
	return places{s.level(scores), lists, at}
}

// children gives the sets one step down from a set.
func (s *shareSearch) children(p places, give func(places)) {
	last := 0 // the list that was stepped down last
	for i, at := range p.at {
		if at > 0 {
			last = i
		}
	}
	for i := last; i < len(p.at); i++ {
		if p.at[i]+1 < len(p.lists[i]) {
			at := slices.Clone(p.at)
			at[i]++
			give(s.placed(p.lists, at))
		}
	}
}

// rank adds the price and the numbers of a set's builds. lines are those of the
// builds by place, made when they are first needed.
func (s *shareSearch) rank(p places, lines []map[int][]constraints.Line) ranked {
	r := ranked{level: p.level}
	all := make([][]constraints.Line, len(p.at))
	for i, at := range p.at {
		id := p.lists[i][at].id
		r.ids = append(r.ids, id)
		if lines[i][at] == nil {
			lines[i][at] = walk.Assemble(s.problems[i], id).Lines()
		}
		all[i] = lines[i][at]
	}
	r.price = micro(priceOf(constraints.Together(all...)))
	return r
}

// set makes a set.
func (s *shareSearch) set(rank int, r ranked) Set {
	out := Set{Rank: rank, Worst: math.Inf(1)}
	var lines [][]constraints.Line
	for i, id := range r.ids {
		scored := s.scorers[i].scored(walk.Assemble(s.problems[i], id))
		out.Builds = append(out.Builds, scored)
		out.Mean += scored.Score
		out.Worst = math.Min(out.Worst, scored.Score)
		lines = append(lines, scored.Build.Lines())
	}
	out.Mean /= float64(len(r.ids))
	out.Lines = constraints.Together(lines...)
	out.Price = priceOf(out.Lines)
	return out
}

// priceOf is the price of all lines; NaN where that of one is not known.
func priceOf(lines []constraints.Line) float64 {
	sum := 0.0
	for _, l := range lines {
		sum += l.Price
	}
	return sum
}
