package webengine

import (
	"math"
	"slices"
	"sync/atomic"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// defaultTop is how many builds are ranked unless asked for otherwise, and
// mostTop how many at most: each stands in the page.
const (
	defaultTop = 20
	mostTop    = 200
)

// ranking is the builds that do it, best first.
type ranking struct {
	Table    *leaf.Node `json:"table"` // of the builds; "" for none
	Data     leaf.Data  `json:"data"`  // what goes with the table
	Builds   []build    `json:"builds"`
	Cautions []caution  `json:"cautions"` // of all builds

	Assumptions []string `json:"assumptions"` // likewise

	Incomplete string `json:"incomplete,omitempty"` // the search was stopped: says so
}

// caution is one that some of the builds carry.
type caution struct {
	Ranks string `json:"ranks,omitempty"` // of these builds, "" for all
	Text  string `json:"text"`
}

// build is one build in a ranking.
type build struct {
	Rank  int      `json:"rank"`
	Score string   `json:"score"`
	Parts []string `json:"parts"` // their ids
	File  string   `json:"file"`  // the build file
}

// rank finds the best builds.
func (e *Engine) rank(r *request) (*ranking, error) {
	e.supersede()
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	o := search.Options{Top: r.top(), Workers: 1, Strict: r.Strict, Apart: r.apart()}
	r.follow(&o, p)
	found, err := search.RankOnly(ctx, p, o)
	if err != nil {
		return nil, err
	}
	if (!found.Complete || !found.Counted()) && !stopped(ctx) {
		return nil, errCancelled
	}
	out := newRanking(found, p, r)
	if !found.Complete {
		out.Incomplete = say.BestSofar(0, p)
	}
	return out, nil
}

// follow has a search for the best builds tell how far it is, and what it has found
// where that is other than what it told before.
func (r *request) follow(o *search.Options, p *constraints.Problem) {
	if r.tell == nil {
		return
	}
	var done atomic.Uint64 // combinations, as the bits of a number
	o.Progress = func(n, _ float64) { done.Store(math.Float64bits(n)) }
	var told []float64 // score and price of each build
	o.Sofar = func(found *search.Result) {
		far := newProgress(math.Float64frombits(done.Load()), p.Combinations(), p)
		var now []float64
		for s := range found.Builds() {
			now = append(now, s.Score, s.Build.Price().Known)
		}
		if !slices.Equal(now, told) {
			far.Best, told = newRanking(found, p, r), now
		}
		r.tell(far)
	}
}

// newRanking lists the builds that were found.
func newRanking(found *search.Result, p *constraints.Problem, r *request) *ranking {
	out := &ranking{Builds: []build{}, Cautions: []caution{}}
	for _, text := range say.Doubts(append(p.Brief.Doubts(), p.Doubts()...)) {
		out.Cautions = append(out.Cautions, caution{Text: text})
	}
	var cautions say.Cautions
	for s := range found.Builds() {
		out.Builds = append(out.Builds, newBuild(s))
		cautions.Add(s.Rank, s.Build.Cautions())
	}
	d := leaf.New(leaf.Input{Result: found, Strict: r.Strict, System: r.system, Live: true})
	out.Table, out.Data = d.Table(leaf.Live), d.Data
	for _, c := range cautions.List(r.system) {
		out.Cautions = append(out.Cautions, caution(c))
	}
	ofAll := constraints.EveryBoard() // which the page says from its start
	for _, c := range p.GeneralCautions() {
		if !slices.Contains(ofAll, c) {
			out.Cautions = append(out.Cautions, caution{Text: string(say.AppendCaution(nil, c, r.system))})
		}
	}
	out.Assumptions = some(d.Assumptions)
	return out
}

// question puts the request's brief to the catalog; a brief that asks for
// nothing is an error, and so are more combinations than can be numbered.
func (e *Engine) question(r *request) (*constraints.Problem, error) {
	p, err := r.problem(e.parts())
	if err != nil {
		return nil, err
	}
	if p.Brief.AimsAtNothing() {
		return nil, aimless()
	}
	if err := search.Numberable(p); err != nil {
		return nil, field.Problems{{Message: err.Error(), Hint: "keep fewer parts"}}
	}
	return p, nil
}

func newBuild(s search.Scored) build {
	out := build{Rank: s.Rank, Score: layout.Fixed(s.Score, 1), File: string(s.Build.File().TOML())}
	for _, l := range s.Build.Lines() {
		out.Parts = append(out.Parts, l.Part.ID)
	}
	return out
}

// tally is what became of every combination.
type tally struct {
	Combinations string     `json:"combinations"`
	Feasible     string     `json:"feasible"`
	Unknown      string     `json:"unknown"` // "" for none
	None         bool       `json:"none"`    // nothing is feasible
	One          bool       `json:"one"`     // one build is
	Sieve        *leaf.Node `json:"sieve"`   // what each check rejects
	Nearest      *miss      `json:"nearest,omitempty"`

	Incomplete string `json:"incomplete,omitempty"` // counting was stopped: says so
}

// miss is the nearest build where none is feasible.
type miss struct {
	sheet
	Misses string `json:"misses"` // in words

	Assumptions []string `json:"assumptions"` // of it
}

// count counts what becomes of every combination.
func (e *Engine) count(r *request) (*tally, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	o := search.Options{Top: 1, Workers: 1, Strict: r.Strict, Progress: r.progress(p)}
	found, err := search.Rank(ctx, p, o)
	if err != nil {
		return nil, err
	}
	if !found.Complete && !stopped(ctx) {
		return nil, errCancelled
	}
	out := &tally{
		Combinations: layout.Count(found.Combinations), Feasible: layout.Count(found.Feasible),
		None: found.Feasible == 0 && found.Complete, One: found.Feasible == 1, Sieve: leaf.Rejected(found),
	}
	if !found.Complete {
		out.Incomplete = say.CountedSofar(found.Feasible, found.Combinations, p)
	}
	if found.Unknown > 0 {
		out.Unknown = layout.Count(found.Unknown)
	}
	if out.None {
		near, complete := search.Nearest(ctx, p, o)
		if !complete {
			return nil, errCancelled
		}
		if near != nil {
			out.Nearest = &miss{
				*newSheet(search.ScoreBuild(near.Build), "The nearest build", r.system),
				say.Misses(near.Misses, p, r.system), some(say.Assumptions(near.Build.Assumptions())),
			}
		}
	}
	return out, nil
}

// some is a list that is written as [] when it is empty.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// relaxed is what to give way on where nothing is feasible.
type relaxed struct {
	Shown    *leaf.Node `json:"shown"` // all of it
	Openings []opening  `json:"openings"`
	Axes     []titled   `json:"axes"` // figures that its drawing may show
	X        string     `json:"x"`    // those that it shows
	Y        string     `json:"y"`
}

// opening is a concession that makes a build feasible.
type opening struct {
	Gives []give `json:"gives"` // one, or two together
	Build build  `json:"build"` // that is feasible then
}

// give is one key of the brief with what it would have to be.
type give struct {
	Key     string `json:"key"`
	Meaning string `json:"meaning"`
	To      string `json:"to"`    // with its unit
	Value   string `json:"value"` // of the key, as a brief takes it
}

// relax finds the least to give way on.
func (e *Engine) relax(r *request) (*relaxed, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	o := search.Options{Workers: 1, Strict: r.Strict, Progress: r.progress(p)}
	found := search.Relax(ctx, p, search.RelaxOptions{Options: o, Digits: say.ConcededDigits, Motors: true})
	near, complete := search.Nearest(ctx, p, o)
	if !found.Complete || !complete {
		return nil, errCancelled
	}
	shown := &leaf.Conceded{Relaxed: found, Problem: p, System: r.system}
	if near != nil {
		shown.Near = near.Build
	}
	shown.X, shown.Y = r.axes()
	x, y := shown.Figures()
	out := &relaxed{Shown: shown.Node(leaf.Live), Openings: []opening{}, Axes: axesOf(p), X: x.Name, Y: y.Name}
	for _, o := range found.Openings {
		x := opening{Build: newBuild(search.ScoreBuild(o.Relaxed))}
		for _, g := range o.Concessions {
			_, to := say.ConcessionEnds(g, p.Catalog.Currency, r.system)
			x.Gives = append(x.Gives, give{Key: g.Key, Meaning: g.Meaning, Value: field.FormatNumber(g.Short), To: to})
		}
		out.Openings = append(out.Openings, x)
	}
	return out, nil
}
