package ask

import (
	"context"
	"slices"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// WhyFlag asks how each number comes about.
func WhyFlag() cli.Flag {
	return &cli.BoolFlag{Name: "why", Category: ThemeAnswer, Usage: "show how each number comes about: the formula, the same with the build's numbers put in, its source"}
}

// BuildArgument is the build file that a command is given.
func BuildArgument(c *cli.Context) (string, error) {
	if n := c.Args().Len(); n != 1 {
		hint := "gearsearch rank --save 1=build.toml writes one"
		if n > 1 {
			hint = "to compare it with others, name their parts: gearsearch vary " + say.Typed(c.Args().First()) + " --use motor=ID --use wheel=ID --all"
		}
		return "", outcome.Usage(hint, "%s takes one build file, not %d", c.Command.Name, n)
	}
	return c.Args().First(), nil
}

// BuildFile reads a build file.
func (d *Desk) BuildFile(ctx context.Context, name string) (*constraints.BuildFile, error) {
	src, err := d.source(ctx, name)
	if err != nil {
		return nil, err
	}
	return constraints.ReadBuild(src)
}

// Build reads a build file and makes its build under the question that the
// flags ask.
func (d *Desk) Build(c *cli.Context, name string) (*constraints.Build, *Question, error) {
	file, q, err := d.BuildQuestion(c, name)
	if err != nil {
		return nil, nil, err
	}
	q.Brief = file.With(q.Brief)
	problem, err := constraints.NewBuildProblem(q.Catalog, q.Brief)
	if err != nil {
		return nil, nil, err
	}
	b, err := problem.Find(file)
	return b, q, d.Elsewhere(q, err)
}

// BuildQuestion reads a build file and what the flags ask of it.
func (d *Desk) BuildQuestion(c *cli.Context, name string) (*constraints.BuildFile, *Question, error) {
	file, err := d.BuildFile(c.Context, name)
	if err != nil {
		return nil, nil, err
	}
	q, err := d.AskOf(c, name, file)
	return file, q, err
}

// Elsewhere passes on what is wrong with a build, after a word on where its
// parts were looked for if nobody said where.
func (d *Desk) Elsewhere(q *Question, err error) error {
	problems, _ := err.(field.Problems)
	stranger := slices.ContainsFunc(problems, func(x field.Problem) bool { return x.Code == field.UnknownID })
	if stranger && q.sources.DemoParts() && q.sources.catalogBy == byNobody {
		d.Note("the parts are looked for in the demo catalog, as no --catalog is given")
	}
	return err
}
