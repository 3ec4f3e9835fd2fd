package main

import (
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Themes group the flags in help, in this order.
const (
	themeInput  = "Catalog and brief"
	themeTarget = "What the board must do (overrides the brief; defaults where it says nothing)"
	themeParts  = "Which parts, and what counts"
	themeAnswer = "The answer"
	themeOutput = "Output"
)

// briefFlag is a flag for one key of the brief that holds a number or a word.
type briefFlag struct {
	name, key   string
	placeholder string
	// read gives the value in SI units; nil: the brief reads the text itself.
	read func(text string) (float64, error)
}

var briefFlags = []briefFlag{
	{"top-speed", "target.top_speed_kmh", "SPEED", quantity.Speed.Parse},
	{"top-speed-max", "target.top_speed_max_kmh", "SPEED", quantity.Speed.Parse},
	{"climb-grade", "target.climb_grade_pct", "GRADE", quantity.Grade.Parse},
	{"climb-speed", "target.climb_speed_kmh", "SPEED", quantity.Speed.Parse},
	{"hill-torque", "target.hill_torque_nm", "TORQUE", quantity.Torque.Parse},
	{"range", "target.range_km", "DISTANCE", quantity.Distance.Parse},
	{"cruise", "target.cruise_kmh", "SPEED", quantity.Speed.Parse},
	{"rider", "rider.mass_kg", "MASS", quantity.Mass.Parse},
	{"motors", "board.motors", "N[,N]", nil},
	{"surface", "ground.surface", "WORD", nil},
	{"erpm-ceiling", "limit.erpm_ceiling", "RPM", quantity.Number},
	{"headroom", "limit.erpm_headroom_pct", "PERCENT", quantity.Percent},
	{"price-limit", "limit.price", "PRICE", quantity.Number},
}

// questionFlags are the flags that make a question: catalog, brief and what
// overrides it.
func questionFlags() []cli.Flag {
	flags := []cli.Flag{
		catalogFlag(),
		&cli.StringSliceFlag{Name: "brief", Category: themeInput, Usage: "`FILE` the brief; - is standard input, and demo:NAME an embedded one: " + strings.Join(demoBriefNames(), ", ") + "; rank --share takes more than one", DefaultText: "demo:harbour with the demo catalog, else nothing is asked for"},
		&cli.StringSliceFlag{Name: "set", Category: themeInput, Usage: "`KEY=VALUE` any key of the brief, as in limit.mass_kg=12; may be repeated"},
	}
	keys := map[string]constraints.BriefKey{}
	for _, k := range constraints.BriefKeys() {
		keys[k.Section+"."+k.Key] = k
	}
	for _, f := range briefFlags {
		k := keys[f.key]
		words := ""
		if len(k.Words) > 0 {
			words = ": " + strings.Join(k.Words, ", ")
		}
		flags = append(flags, &cli.StringFlag{
			Name: f.name, Category: themeTarget, DefaultText: defaultText(f, k), Usage: "`" + f.placeholder + "` " + k.Meaning + words,
		})
	}
	return append(flags,
		&cli.StringSliceFlag{Name: "keep", Category: themeParts, Usage: "`SLOT=ID[,ID]` only these parts in a slot; may be repeated. Slots: " + slotNames()},
		&cli.StringSliceFlag{Name: "avoid", Category: themeParts, Usage: "`SLOT=ID[,ID]` none of these; may be repeated"},
		&cli.StringSliceFlag{Name: "weight", Category: themeParts, Usage: "`NAME=VALUE` how much a criterion counts in the score; may be repeated"},
		&cli.BoolFlag{Name: "strict", Category: themeParts, Usage: "reject builds with a check that cannot be decided for lack of data"},
	)
}

// defaultText is a default of the brief as a flag would give it.
func defaultText(f briefFlag, k constraints.BriefKey) string {
	if k.Default == "" {
		return "not asked for"
	}
	text := strings.Trim(k.Default, `["]`)
	if _, err := strconv.ParseFloat(text, 64); err == nil && f.read != nil && k.Unit != "" && k.Unit != "rpm" {
		if k.Unit == "%" {
			return text + "%"
		}
		return text + k.Unit
	}
	return text
}

func slotNames() string {
	var names []string
	for _, s := range constraints.Slots() {
		names = append(names, s.String())
	}
	return strings.Join(names, ", ")
}

func catalogFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: "catalog", Category: themeInput, Usage: "`PATH` a catalog file, or a folder of CSV files; may be repeated", DefaultText: "the embedded demo catalog"}
}

// outputFlags are the flags of the answer's form.
func outputFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "format", Category: themeOutput, Usage: "`FORMAT` form of the answer: " + strings.Join(formatNames(), ", "), DefaultText: "by the ending of -o, else table"},
		fileFlag(),
		&cli.StringFlag{Name: "units", Category: themeOutput, Usage: "`SYSTEM` units in tables: metric or imperial; data is always metric", DefaultText: "metric"},
		quietFlag(),
	}
}

func quietFlag() cli.Flag {
	return &cli.BoolFlag{Name: "quiet", Category: themeOutput, Usage: "no notes and no progress on standard error"}
}

// placeholder splits a flag's usage into the name of its value and the rest.
func placeholder(usage string) (name, rest string) {
	if !strings.HasPrefix(usage, "`") {
		return "", usage
	}
	name, rest, _ = strings.Cut(usage[1:], "`")
	return name, strings.TrimSpace(rest)
}

// example shows how a flag is written.
func example(f cli.Flag) string {
	d, ok := f.(cli.DocGenerationFlag)
	if !ok {
		return ""
	}
	name, rest := placeholder(d.GetUsage())
	return "write " + dashed(f.Names()[0]) + " " + name + ": " + rest
}

func fileFlag() cli.Flag {
	return &cli.StringFlag{Name: "o", Category: themeOutput, Usage: "`FILE` file to write, whole or not at all; - is standard output", DefaultText: "-"}
}
