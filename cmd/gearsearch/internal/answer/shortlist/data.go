package shortlist

import (
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (s *Answer) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text:     func() *layout.Text { return s.text(a.System) },
		Document: s.document,
		Table:    s.table,
		Complete: s.complete,
	}
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	return dataout.Document{
		Head: append(dataout.Head(s.Problem, s.complete),
			dataout.Member{Key: "slot", Value: s.Slot},
			dataout.Member{Key: "combinations", Value: s.combinations()},
			dataout.Member{Key: "feasible", Value: s.feasible()},
		),
		Lists: []dataout.List{{Key: "parts", Items: func(yield func(dataout.Object) bool) {
			for _, c := range s.given() {
				if !yield(s.object(&c)) {
					return
				}
			}
		}}},
	}
}

// combinations is how many combinations have one of the parts.
func (s *Answer) combinations() uint64 {
	n := uint64(0)
	for _, x := range s.parts {
		n += x.Combinations
	}
	return n
}

// object is one part as data.
func (s *Answer) object(c *search.Candidate) dataout.Object {
	rejected := []search.Rejection{}
	for i, check := range s.Problem.Checks() {
		rejected = append(rejected, search.Rejection{Check: check, Count: c.Rejected[i]})
	}
	var stopped, score, build any
	if c.Furthest != nil {
		stopped = c.Furthest.Name
	}
	if c.Best != nil {
		score, build = c.Best.Score, dataout.Build(*c.Best)
	}
	reaches, spans := dataout.Object{}, dataout.Object{}
	for i, f := range search.TargetFigures(s.Problem) {
		reaches = append(reaches, dataout.Member{Key: f.Name, Value: c.Figures[i]})
	}
	for _, x := range s.spans() {
		low, high := x.bounds(c)
		spans = append(spans, dataout.Member{Key: x.key + "_min", Value: low}, dataout.Member{Key: x.key + "_max", Value: high})
	}
	return dataout.Object{
		{Key: "id", Value: c.ID},
		{Key: "name", Value: s.name(c.ID)},
		{Key: "combinations", Value: c.Combinations},
		{Key: "feasible", Value: c.Feasible},
		{Key: "unknown", Value: c.Unknown},
		{Key: "rejected", Value: dataout.Rejected(rejected)},
		{Key: "stopped_by", Value: stopped},
		{Key: "unchosen", Value: unchosenText(c)},
		{Key: "score", Value: score},
		{Key: "reaches", Value: reaches},
		{Key: "spans", Value: spans},
		{Key: "build", Value: build},
	}
}

// name is the name of a part, nil if it has none, as a whole drive has.
func (s *Answer) name(id string) any {
	if _, part, ok := s.Problem.Catalog.Find(id); ok && part.Name != "" {
		return part.Name
	}
	return nil
}

// unchosenText is why no drive chooses a belt, nil for all other parts.
func unchosenText(c *search.Candidate) any {
	if c.Unchosen == nil {
		return nil
	}
	return say.Unchosen(c.Unchosen)
}

// table is the answer as rows.
func (s *Answer) table() (header []string, rows [][]any) {
	header = []string{"id", "combinations", "feasible", "unknown", "stopped_by", "unchosen", "score"}
	flat := []string{"reaches", "spans"}
	for i, c := range s.given() {
		o := s.object(&c)
		var row []any
		for _, key := range header[:7] {
			row = append(row, o.Get(key))
		}
		for _, key := range flat {
			for _, m := range o.Get(key).(dataout.Object) {
				if i == 0 {
					name := m.Key
					if key == "reaches" {
						name = "best_" + name
					}
					header = append(header, name)
				}
				row = append(row, m.Value)
			}
		}
		build, _ := o.Get("build").(dataout.Object)
		ids, _ := build.Get("parts").(dataout.Object)
		for _, key := range dataout.PartKeys() {
			row = append(row, ids.Get(key))
		}
		rows = append(rows, row)
	}
	return append(header, dataout.PartKeys()...), rows
}

// stopped groups the parts that open nothing by the check that stops them, the
// furthest first.
func (s *Answer) stopped() (checks []string, ids map[string][]string) {
	ids = map[string][]string{}
	for _, x := range s.parts[len(s.opening()):] {
		if x.Unchosen != nil {
			continue
		}
		name := ""
		if x.Furthest != nil {
			name = x.Furthest.Name
		}
		if !slices.Contains(checks, name) {
			checks = append(checks, name)
		}
		ids[name] = append(ids[name], x.ID)
	}
	return checks, ids
}
