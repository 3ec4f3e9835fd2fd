package ask

import (
	"strconv"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

// defaultDraws is how many draws stability and tolerance take: the share of
// builds that pass is then known to about one point in a hundred.
const defaultDraws = 2000

// Seed of all draws: the same question has the same answer.
const Seed = 1

// Flags that rank shares with sheet.
func ToleranceFlag() cli.Flag {
	return &cli.BoolFlag{Name: "tolerance", Category: ThemeAnswer, Usage: "vary parts and rider within the brief's [tolerance]: how often checks pass, and how figures spread"}
}

// DrawsFlag is how many draws are taken.
func DrawsFlag() cli.Flag {
	return &cli.StringFlag{Name: "draws", Category: ThemeAnswer, Usage: "`N` random draws for --stability and --tolerance", DefaultText: strconv.Itoa(defaultDraws)}
}

// DrawsOf reads --draws, which must have a use.
func DrawsOf(c *cli.Context, used bool) (int, error) {
	text := c.String("draws")
	switch n, err := strconv.Atoi(text); {
	case !c.IsSet("draws"):
		return defaultDraws, nil
	case !used && c.Command.Name == "rank":
		return 0, outcome.Usage("add --stability or --tolerance", "--draws: nothing is drawn")
	case !used:
		return 0, outcome.Usage("add --tolerance", "--draws: nothing is drawn")
	case err != nil, n < 1, n > search.MostDraws:
		return 0, outcome.Usage("write --draws 2000", "--draws %s is no number of draws from 1 to %d", say.Shown(text), search.MostDraws)
	default:
		return n, nil
	}
}
