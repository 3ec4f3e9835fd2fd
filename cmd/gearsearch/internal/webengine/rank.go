package webengine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
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
	Builds   []build   `json:"builds"`
	Cautions []caution `json:"cautions"` // of all builds

	Assumptions []string `json:"assumptions"` // likewise
}

// caution is one that some of the builds carry.
type caution struct {
	Ranks string `json:"ranks,omitempty"` // of these builds, "" for all
	Text  string `json:"text"`
}

// build is one build in a ranking.
type build struct {
	Rank     int       `json:"rank,omitempty"` // 0: of no ranking
	Score    string    `json:"score"`
	Alike    string    `json:"alike,omitempty"` // how many more are like it
	Parts    []line    `json:"parts"`
	Drive    string    `json:"drive"` // in short: teeth and profile, or gear drive and ratio
	Figures  []figure  `json:"figures"`
	HeldBy   string    `json:"heldBy"` // what limits the top speed
	Checks   []outcome `json:"checks"`
	Cautions []string  `json:"cautions"`
	Invented bool      `json:"invented,omitempty"` // some of the parts are, and with them the price
	File     string    `json:"file"`               // the build file
}

// line is one line of what a build is made of.
type line struct {
	Slot   string `json:"slot"`
	Pieces int    `json:"pieces"`
	ID     string `json:"id"`
	Name   string `json:"name,omitempty"`
	Price  string `json:"price"` // of all pieces; "?" for unknown
	Mass   string `json:"mass"`  // likewise, with its unit
	Owned  bool   `json:"owned,omitempty"`
	Note   string `json:"note,omitempty"`
	Link   string `json:"link,omitempty"` // as the catalog has it: any text

	Invented bool `json:"invented,omitempty"` // of the demo
}

// figure is a figure of a build: its value, or why it has none.
type figure struct {
	Name   string `json:"name"`
	Label  string `json:"label"`
	Text   string `json:"text"`
	Unit   string `json:"unit,omitempty"`
	Absent string `json:"absent,omitempty"`
}

func newFigure(f constraints.Figure, b *constraints.Build, system quantity.System) figure {
	text, unit, _ := say.Figure(f, b, system)
	return figure{f.Name, f.Of(b).Label, text, unit, say.Absent(f, b)}
}

// outcome is what a check says of a build.
type outcome struct {
	Name    string   `json:"name"`
	Subject string   `json:"subject"`
	Verdict string   `json:"verdict"`
	Sign    string   `json:"sign,omitempty"` // as in tables: ! thin, !! failed, ? undecided
	Demoted bool     `json:"demoted,omitempty"`
	Value   string   `json:"value,omitempty"`
	Limit   string   `json:"limit,omitempty"`
	Unit    string   `json:"unit,omitempty"`
	Margin  *float64 `json:"margin"` // percent of the limit; null for none
}

// rank finds the best builds.
func (e *Engine) rank(r *request) (*ranking, error) {
	e.supersede()
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	found, err := search.RankOnly(ctx, p, search.Options{Top: r.top(), Workers: 1, Strict: r.Strict, Apart: r.apart()})
	if err != nil {
		return nil, err
	}
	if !found.Complete || !found.Counted() {
		return nil, errCancelled
	}
	out := &ranking{Builds: []build{}, Cautions: []caution{}}
	for _, text := range say.Doubts(append(p.Brief.Doubts(), p.Doubts()...)) {
		out.Cautions = append(out.Cautions, caution{Text: text})
	}
	var cautions say.Cautions
	used := constraints.NewUsed(p)
	for s := range found.Builds() {
		used.Add(s.Build)
		b := newBuild(s, r.system)
		out.Builds = append(out.Builds, b)
		cautions.Add(s.Rank, s.Build.Cautions())
	}
	for _, c := range cautions.List(r.system) {
		out.Cautions = append(out.Cautions, caution(c))
	}
	ofAll := constraints.EveryBoard() // which the page says from its start
	for _, c := range p.GeneralCautions() {
		if !slices.Contains(ofAll, c) {
			out.Cautions = append(out.Cautions, caution{Text: string(say.AppendCaution(nil, c, r.system))})
		}
	}
	out.Assumptions = some(say.Assumptions(used.Assumptions()))
	return out, nil
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

// rowFigures are the figures that stand beside a build in a ranking.
var rowFigures = []string{"top_speed_kmh", "climb_limit_pct", "range_km", "launch_s", "price", "mass_kg"}

func newBuild(s search.Scored, system quantity.System) build {
	b := s.Build
	_, by := b.TopSpeed()
	out := build{
		Rank: s.Rank, Score: layout.Fixed(s.Score, 1), Alike: say.Alike(s.StandsFor), Parts: lines(b, system), Drive: driveInShort(b.Drive),
		HeldBy: say.Limit(by.String()), Checks: outcomes(b.Results(), b.Problem, system),
		Cautions: some(say.CautionsOf(b, system)), Invented: say.InventedIn(b), File: string(b.File().TOML()),
	}
	for _, name := range rowFigures {
		f, _ := constraints.FigureNamed(name)
		if f.Absence(b) != constraints.NotAsked {
			out.Figures = append(out.Figures, newFigure(f, b, system))
		}
	}
	return out
}

// driveInShort names a drive by its teeth and profile, or by its gear drive and
// ratio.
func driveInShort(d *constraints.Drive) string {
	if d.Gear != nil {
		return fmt.Sprintf("%s %s:1", d.Gear.ID, say.Short(d.Reduction))
	}
	return fmt.Sprintf("%d:%d %s", d.MotorPulley.Teeth, d.WheelPulley.Teeth, d.WheelPulley.Profile.ID)
}

func lines(b *constraints.Build, system quantity.System) []line {
	unit, factor := system.Show("kg")
	var out []line
	for _, l := range b.Lines() {
		x := line{
			Slot: l.Slot.String(), Pieces: l.Pieces, ID: l.Part.ID, Name: l.Part.Name, Owned: l.Part.Owned,
			Note: l.Part.Note, Link: l.Part.Link, Price: say.Money(l.Price), Mass: layout.Fixed(l.Mass*factor, 2),
			Invented: l.Part.Invented(),
		}
		if known(l.Mass) != nil {
			x.Mass += " " + unit
		}
		if known(l.Price) != nil {
			x.Price += " " + b.Problem.Catalog.Currency
		}
		out = append(out, x)
	}
	return out
}

func outcomes(results []constraints.Result, p *constraints.Problem, system quantity.System) []outcome {
	out := []outcome{}
	for _, r := range results {
		x := outcome{
			Name: r.Name, Subject: r.Shown().Subject, Verdict: r.Verdict.String(), Sign: say.Sign(r),
			Demoted: r.Demoted, Margin: known(say.Margin(r)),
		}
		x.Value, x.Limit, x.Unit = say.Outcome(r, p, system)
		out = append(out, x)
	}
	return out
}

// tally is what became of every combination.
type tally struct {
	Combinations string    `json:"combinations"`
	Feasible     string    `json:"feasible"`
	Unknown      string    `json:"unknown"` // "" for none
	None         bool      `json:"none"`    // nothing is feasible
	One          bool      `json:"one"`     // one build is
	Rejected     []rejects `json:"rejected"`
	Nearest      *miss     `json:"nearest,omitempty"`
}

// rejects is how many combinations a check rejected first.
type rejects struct {
	Check   string  `json:"check"`
	Subject string  `json:"subject"`
	Text    string  `json:"text"`
	Count   float64 `json:"count"`
	Left    float64 `json:"left"` // after this check and those before it

	LeftText string `json:"leftText"`
}

// miss is the nearest build where none is feasible.
type miss struct {
	Build  build     `json:"build"`
	Misses []outcome `json:"misses"`

	Assumptions []string `json:"assumptions"` // of it
}

// count counts what becomes of every combination.
func (e *Engine) count(r *request) (*tally, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	o := search.Options{Top: 1, Workers: 1, Strict: r.Strict}
	found, err := search.Rank(ctx, p, o)
	if err != nil {
		return nil, err
	}
	if !found.Complete {
		return nil, errCancelled
	}
	out := &tally{
		Combinations: layout.Count(found.Combinations), Feasible: layout.Count(found.Feasible),
		None: found.Feasible == 0, One: found.Feasible == 1, Rejected: []rejects{},
	}
	if found.Unknown > 0 {
		out.Unknown = layout.Count(found.Unknown)
	}
	left := found.Combinations
	for _, x := range found.Rejections() {
		left -= x.Count
		out.Rejected = append(out.Rejected, rejects{
			x.Check.Name, p.As(x.Check).Subject, layout.Count(x.Count), float64(x.Count), float64(left), layout.Count(left),
		})
	}
	if out.None {
		near, complete := search.Nearest(ctx, p, o)
		if !complete {
			return nil, errCancelled
		}
		if near != nil {
			out.Nearest = &miss{newBuild(search.ScoreBuild(near.Build), r.system), outcomes(near.Misses, p, r.system), some(say.Assumptions(near.Build.Assumptions()))}
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
	Openings []opening `json:"openings"`
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
	From    string `json:"from"`
	To      string `json:"to"`    // with its unit
	Value   string `json:"value"` // of the key, as a brief takes it
}

// relaxDigits is how many digits a concession is shown with, at least.
const relaxDigits = 3

// relax finds the least to give way on.
func (e *Engine) relax(r *request) (*relaxed, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	found := search.Relax(ctx, p, search.RelaxOptions{Options: search.Options{Workers: 1, Strict: r.Strict}, Digits: relaxDigits, Motors: true})
	if !found.Complete {
		return nil, errCancelled
	}
	out := &relaxed{Openings: []opening{}}
	for _, o := range found.Openings {
		x := opening{Build: newBuild(search.ScoreBuild(o.Relaxed), r.system)}
		for _, g := range o.Concessions {
			x.Gives = append(x.Gives, give{
				Key: g.Key, Meaning: g.Meaning, Value: field.FormatNumber(g.Short),
				From: quantityOf(g.Unit, g.From*g.PerSI, p, r.system), To: concededTo(g, p, r.system),
			})
		}
		out.Openings = append(out.Openings, x)
	}
	return out, nil
}

// concededTo is what a concession gives way to, with its unit, rounded so that
// it opens what it says.
func concededTo(g search.Given, p *constraints.Problem, system quantity.System) string {
	unit, factor := system.Show(g.Unit)
	if x, unit := system.Value(g.Short, g.Unit); unit == "°F" {
		return say.Whole(math.Ceil(x*10-1e-9)/10) + " " + unit
	}
	if g.Unit == "price" || factor == 1 {
		return strings.TrimSpace(say.Whole(g.Short) + " " + strings.Replace(unit, "price", p.Catalog.Currency, 1))
	}
	shown := g.Concession
	shown.PerSI *= factor
	return say.Whole(shown.Shown(g.To, relaxDigits)) + " " + unit
}

// quantityOf is a number with its unit as people read it.
func quantityOf(unit string, x float64, p *constraints.Problem, system quantity.System) string {
	if unit == "price" {
		return say.Money(x) + " " + p.Catalog.Currency
	}
	x, shown := system.Value(x, unit)
	return strings.TrimSpace(say.Short(x) + " " + shown)
}
