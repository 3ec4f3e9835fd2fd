package begin

import (
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/audit"
)

// Least names the file with the smallest catalog, what each further key brings,
// and the next steps.
func Least(src catalog.Source) (*layout.Text, error) {
	c, err := catalog.Read(src)
	if err != nil {
		return nil, err
	}
	out := &layout.Text{}
	out.Heading("Wrote " + say.Shown(src.Name) + ", the smallest catalog that answers")
	out.Paragraph("The numbers are invented: put your own in their place. Each further key decides checks, and makes their figures known; a check counts where the brief asks for it.")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "key"}, {Title: "of", Wrap: true, Least: 10}, {Title: "decides", Wrap: true, Least: say.ProseWidth},
	}}
	for _, line := range bringing(audit.Gaps(c)) {
		t.Add(line.key, strings.Join(line.kinds, ", "), line.text)
	}
	out.Table(t)
	out.Heading("Next")
	rank, check := ask.NewWords(src.Name, "")
	out.Verbatim(rank+" --top-speed 30km/h --save 1=build.toml", "gearsearch sheet build.toml --top-speed 30km/h", check)
	return out, nil
}

// bring is what a key brings to parts of some kinds.
type bring struct {
	key, text string
	kinds     []string
}

// bringing is what each missing key would bring; kinds for which a key brings the
// same are together.
func bringing(gaps []audit.Gap) []bring {
	var out []bring
	for _, g := range gaps {
		text := brings(g)
		at := slices.IndexFunc(out, func(b bring) bool { return b.key == g.Key && b.text == text })
		switch {
		case text == "":
		case at >= 0:
			out[at].kinds = append(out[at].kinds, g.Kind)
		default:
			out = append(out, bring{g.Key, text, []string{g.Kind}})
		}
	}
	return out
}

// brings are the checks that a key decides, and the figures that these hold to a
// limit, unless the check has the figure's name.
func brings(g audit.Gap) string {
	var figures []string
	for _, check := range constraints.Registry() {
		f, ok := constraints.FigureNamed(check.Figure)
		if ok && slices.Contains(g.Checks, check.Name) && !slices.Contains(figures, f.Label) && !slices.Contains(g.Checks, strings.ReplaceAll(f.Label, " ", "-")) {
			figures = append(figures, f.Label)
		}
	}
	text := strings.Join(g.Checks, ", ")
	if len(figures) > 0 {
		text += "; figure: " + strings.Join(figures, ", ")
	}
	return text
}
