package reference

const briefHead = `# The brief

A brief is a TOML file: what the board must do. It begins with ` + "`schema = 1`" + `, each
section stands under its name in brackets, and everything may be left out but one
thing to aim at. A flag overrides its key, and ` + "`--set section.key=value`" + ` any key.

A number stands in the unit that is said at its key, or in quotes with another of
the same kind: ` + "`top_speed_kmh = \"25mph\"`, `mass_kg = \"190lb\"`" + `.
`

// sectionWords are what there is to say of a section beyond its keys.
var sectionWords = map[string]string{
	"weights":   "How much each criterion of the score counts; 0 leaves it out.",
	"keep":      "Only these parts, or families of them, of a slot: an id or a list of ids. A slot that is not named keeps all of its parts.",
	"avoid":     "All parts of a slot but these, likewise.",
	"tolerance": "How far each number may be off, for `--tolerance`.",
}

const routeHead = `
## A way to ride

` + "`[ride] route`" + ` names a GPX file, or a CSV file with these columns and a row for each
place where the slope changes. Between two rows the route is straight; it is ridden in legs
of at most 25 m. The columns with a star must be there. ` + "`gearsearch route FILE`" + ` says
what a route is like.

`

const checksHead = `# The checks

A combination is counted once: as feasible, or under the first check in this order
that it fails. A check applies where the brief sets its target or limit, or the
parts call for it. What a part does not say leaves a check *unknown*, unless
both ends of what is likely decide alike; ` + "`--strict`" + ` counts unknown as failed. Values
within 10⁻⁹ of a limit are equal to it, and equal passes. A check under
` + "`limit.demote`" + ` only cautions.

`

const figuresHead = `# The figures

Each figure stands under its name in JSON and CSV, in this unit. ` + "`gearsearch sheet\nBUILD.toml --why`" + ` puts the numbers of a build into these formulas. Where something
is not known the figure is that of the worse end of what is likely, and
` + "`figures_best`" + ` has the better one; a figure that cannot be computed is null.
`

const scoreHead = `
## The score

The score is 100 × Σ w s / Σ w over the criteria that apply, each s held between 0
and 1. A criterion that applies but cannot be computed gives 0. Among equal scores the lower price comes
first, then the ids.

| criterion | weight | meaning | s |
| --- | --- | --- | --- |
`

const dataHead = `# Data out

` + "`--format json`, `jsonl`, `csv`, `markdown` and `html`" + ` give an answer to programs and
documents; HTML is a fragment of a page, what stands in a body, without styles.
` + "`-o FILE`" + ` takes the format from the ending and writes the file whole or not at all.
Data goes to standard output, everything else to standard error.

Numbers have ten digits at most and stand in metric units, each in the unit that
its name ends in. What is not known is null; NaN never appears. CSV has a column for
each key, ` + "`NAME_best`" + ` for a better end that may differ, and lists with ` + "`|`" + ` between
their items.

Exit codes: 0 answered, 1 nothing is feasible, 2 wrong usage, 3 wrong catalog, brief
or build, 4 input or output failed, 130 interrupted: the best so far, marked
incomplete.
`
