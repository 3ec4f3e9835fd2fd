package main

import (
	"fmt"
	"strconv"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/relax"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

func (p *program) relaxCommand() *cli.Command {
	return &cli.Command{
		Name:  "relax",
		Usage: "find the smallest concession on each target or limit that makes a build feasible",
		UsageText: `gearsearch relax --top-speed 38km/h --price-limit 500
gearsearch relax --brief demo:sunday --price-limit 1000 --builds 600
gearsearch relax --catalog my-board/parts.toml --brief my-board/brief.toml -o concessions.csv`,
		Description: `For each target and limit of the brief: how far it must give way, all else held, until a build is feasible (with --builds, until so many are). The value is one that a build of the catalog reaches. Where no single concession is enough, the cheapest pair is given; the cost of a concession is its change relative to what was asked. Other numbers of motors are tried too, in place of those asked for.

Where nothing is feasible, missing parts are looked for too: for each slot, a part with which a build is feasible under the brief as it stands. It is the one that differs least from a part in play, of those that could well be made: a pulley with other teeth, a pack with more in series, a motor wound anew.

Then each target and limit has its cost: how many more builds are feasible when it alone is dropped, all else held. A key that a brief may leave out is dropped as if it were left out: with climb_grade_pct go heat, belt-load and gear-torque, and with top_speed_kmh, under the rule at-speed, erpm; without erpm_ceiling the controllers' own ceilings hold, and where those no longer hold a board below top_speed_max_kmh the number may be below 0. erpm_headroom_pct and ground_clearance_mm are dropped to 0, mesh_teeth and heat_factor so that mesh and heat no longer reject. Limits of 0 ask for nothing and are left out.

JSON: feasible (as the brief stands), openings (each with cost, concessions with key, from, to and unit, feasible, which is how many builds are with another number of motors and else null, and the build that is feasible then, under the brief as conceded), helpless (keys that help too little alone), pairs, missing (null where it is not looked for; each with slot, part, like, difference, facts, price, mass_g, assumed, build), hopeless (slots in which no part helps), grip (null unless it is why no build climbs: thrust_n that the wheels hold and need_n, limited_by, which is grip or lift, friction, motors), wishes (each with key, value, unit and without, the builds that are feasible more without it). CSV has a row for each concession, for each missing part one with its slot as key and the part as to, and for each target and limit one with the column without.

Exit code: 0 answered (also where enough is feasible as it is), 1 no concession and no pair makes enough builds feasible, 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(append(ask.QuestionFlags(),
			&cli.StringFlag{Name: "builds", Category: ask.ThemeAnswer, Usage: "`K` how many builds should be feasible, at least", DefaultText: "1"},
		), ask.OutputFlags()...),
		Action: p.relax,
	}
}

// relax answers with the smallest concessions.
func (p *program) relax(c *cli.Context) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	builds := 1
	if text := c.String("builds"); c.IsSet("builds") {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			return outcome.Usage("write --builds 5", "--builds %s is no number of builds", say.Shown(text))
		}
		if n > search.MostOpened {
			return outcome.Usage(fmt.Sprintf("write --builds %d or less", search.MostOpened), "--builds %s is more builds than are looked for", say.Shown(text))
		}
		builds = n
	}
	a, q, problem, err := p.Inquire(c)
	if err != nil {
		return err
	}
	r := &relax.Answer{Question: q, Problem: problem, Builds: builds}
	return r.Give(c.Context, p.Desk, a)
}
