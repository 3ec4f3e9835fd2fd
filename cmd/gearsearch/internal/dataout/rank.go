package dataout

import (
	"bufio"
	"io"
	"iter"
	"slices"

	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/search"
)

// Summary is a search's result without its builds: the counts, the assumptions, what
// to measure first (nil where that was not looked for), and what tells the builds
// apart.
func Summary(r *search.Result, used *constraints.Used, measures *search.Measures) Object {
	return append(Head(r.Problem, r.Complete),
		Member{"combinations", r.Combinations},
		Member{"feasible", r.Feasible},
		Member{"unknown", r.Unknown},
		Member{"rejected", Rejected(r.Rejections())},
		Member{"assumptions", some(say.Assumptions(used.Assumptions()))},
		Member{"measure", measure(measures)},
		Member{"apart", r.Apart.Names()},
	)
}

// measure is what to measure first; nil for nothing.
func measure(m *search.Measures) any {
	if m == nil || len(m.List) == 0 {
		return nil
	}
	first, of := m.List[0], "feasible"
	if m.Listed {
		of = "listed"
	}
	return Object{{"kind", first.Kind}, {"key", first.Key}, {"id", first.ID}, {"decides", first.Decides}, {"of", of}}
}

// Ranking is a ranking as a document.
func Ranking(r *search.Result, measures *search.Measures) Document {
	return Document{Head: Summary(r, Used(r.Problem, r.Builds()), measures), Lists: []List{{"builds", Builds(r.Builds(), r.Apart)}}}
}

// Used is what some builds of a problem are made of.
func Used(p *constraints.Problem, builds iter.Seq[search.Scored]) *constraints.Used {
	used := constraints.NewUsed(p)
	for s := range builds {
		used.Add(s.Build)
	}
	return used
}

// WriteRank writes a ranking as a JSON document, one build a line.
func WriteRank(w io.Writer, r *search.Result, measures *search.Measures) error {
	return Ranking(r, measures).Write(w)
}

// writeMembers writes the beginning of a document: its keys, one a line.
func writeMembers(out *bufio.Writer, o Object) {
	out.WriteString("{\n")
	for i, m := range o {
		if i > 0 {
			out.WriteString(",\n")
		}
		line := appendString([]byte("  "), m.Key)
		line = appendValue(append(line, ": "...), m.Value)
		out.Write(line) // an error is sticky, and Flush returns it
	}
}

// WriteSheet writes all about one build as a JSON document; why adds the
// formulas.
func WriteSheet(w io.Writer, s search.Scored, why bool, more ...Member) error {
	o := Object{
		{"schema", schema},
		{"brief", Brief(s.Build.Problem)},
		{"catalog", Catalog(s.Build.Problem.Catalog)},
		{"assumptions", some(say.Assumptions(s.Build.Assumptions()))},
		{"build", Build(s)},
	}
	if why {
		o = append(o, Member{"why", Why(s.Build)}, Member{"why_scores", WhyScores(s)})
	}
	return WriteObject(w, slices.Concat(o, AboutBuild(s.Build), more))
}

// AboutBuild is what a sheet has beside the build itself: what the controllers are set
// to, the parts to make and, where the brief has a route, how the build comes over it.
func AboutBuild(b *constraints.Build) []Member {
	out := []Member{{"settings", Settings(b)}, {"made", Makings(outfit.Makings(b))}}
	if b.Problem.HasRoute() {
		out = append(out, Member{"route", Story(b)})
	}
	return out
}

// WriteObject writes a JSON document, one key a line.
func WriteObject(w io.Writer, o Object) error {
	out := bufio.NewWriter(w)
	writeMembers(out, o)
	out.WriteString("\n}\n")
	return out.Flush()
}

// undecided lists the names of the checks of a build that could not be
// decided.
func undecided(b *constraints.Build) []string {
	var names []string
	for _, r := range b.Results() {
		if r.Verdict == constraints.Undecided {
			names = append(names, r.Name)
		}
	}
	return names
}
