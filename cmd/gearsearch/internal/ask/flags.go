package ask

import (
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Themes group the flags in help, in this order.
const (
	ThemeInput  = "Catalog and brief"
	ThemeTarget = "What the board must do (overrides the brief; defaults where it says nothing)"
	ThemeParts  = "Which parts, and what counts"
	ThemeAnswer = "The answer"
	ThemeOutput = "Output"
)

// BriefFlag is a flag for one key of the brief that holds a number or a word.
type BriefFlag struct {
	Name, Key   string
	placeholder string
	// read holds the text to the units that the flag asks for, which in a file may
	// be left out; nil: to nothing. The brief reads the text itself.
	read func(text string) (float64, error)
}

// BriefFlags are the flags for single keys of the brief, in the order of help.
var BriefFlags = []BriefFlag{
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
	{"route", routeKey, "FILE", nil},
	{"erpm-ceiling", "limit.erpm_ceiling", "RPM", quantity.Number},
	{"headroom", "limit.erpm_headroom_pct", "PERCENT", quantity.Percent},
	{"erpm-rule", "limit.erpm_rule", "WORD", nil},
	{"price-limit", "limit.price", "PRICE", quantity.Number},
}

// QuestionFlags are the flags that make a question: catalog, brief and what
// overrides it.
func QuestionFlags() []cli.Flag {
	flags := []cli.Flag{
		CatalogFlag(),
		BriefFileFlag(),
		&cli.StringSliceFlag{Name: "set", Category: ThemeInput, Usage: "`KEY=VALUE` any key of the brief, as in limit.mass_kg=12; may be repeated"},
	}
	for _, f := range BriefFlags {
		k, _ := constraints.BriefKeyAt(f.Key)
		words := ""
		if len(k.Words) > 0 {
			words = ": " + strings.Join(k.Words, ", ")
		}
		flags = append(flags, &cli.StringFlag{
			Name: f.Name, Category: ThemeTarget, DefaultText: defaultText(f, k), Usage: "`" + f.placeholder + "` " + k.Meaning + words,
		})
	}
	return append(flags,
		&cli.StringSliceFlag{Name: "keep", Category: ThemeParts, Usage: "`SLOT=ID[,ID]` only these parts in a slot, or those of a family by its id; may be repeated. Slots: " + slotNames()},
		&cli.StringSliceFlag{Name: "avoid", Category: ThemeParts, Usage: "`SLOT=ID[,ID]` none of these; may be repeated"},
		&cli.StringSliceFlag{Name: "weight", Category: ThemeParts, Usage: "`NAME=VALUE` how much a criterion counts in the score; may be repeated"},
		&cli.BoolFlag{Name: "strict", Category: ThemeParts, Usage: "reject builds with a check that cannot be decided for lack of data"},
	)
}

// RiderFlags are the flags of a question that makes nothing of targets and limits: about
// the rider, the ground and the build alone.
func RiderFlags() []cli.Flag {
	return slices.DeleteFunc(QuestionFlags(), func(f cli.Flag) bool {
		return !slices.Contains([]string{"catalog", "brief", "set", "rider"}, f.Names()[0])
	})
}

// defaultText is a default of the brief in the form of a flag's value.
func defaultText(f BriefFlag, k constraints.BriefKey) string {
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

// CatalogFlag names the catalog.
func CatalogFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: "catalog", Category: ThemeInput, Usage: "`PATH` a catalog file, or a folder of CSV files; may be repeated; demo is the embedded catalog", DefaultText: "parts.toml or the folder parts of this folder, else the demo"}
}

// BriefFileFlag names the brief.
func BriefFileFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: "brief", Category: ThemeInput, Usage: "`FILE` the brief; - is standard input, and demo:NAME an embedded one: " + strings.Join(demoBriefNames(), ", ") + "; rank --share takes more than one", DefaultText: "brief.toml of this folder; without one demo:harbour with the demo catalog, else nothing is asked for"}
}

// OutputFlags are the flags of the answer's form.
func OutputFlags() []cli.Flag {
	return []cli.Flag{
		FormatFlag("by the ending of -o, else table"),
		FileFlag(),
		&cli.StringFlag{Name: "units", Category: ThemeOutput, Usage: "`SYSTEM` units in tables: metric or imperial; data is always metric", DefaultText: "metric"},
		QuietFlag(),
	}
}

// FormatFlag names the form of the answer.
func FormatFlag(unless string) cli.Flag {
	return &cli.StringFlag{Name: "format", Category: ThemeOutput, Usage: "`FORMAT` form of the answer: " + strings.Join(FormatNames(), ", ") + " (a fragment of a page)", DefaultText: unless}
}

// FullFlag asks for more than the first page.
func FullFlag() cli.Flag {
	return &cli.BoolFlag{Name: "full", Category: ThemeAnswer, Usage: "show everything, in place of a first page that fits a terminal of 80 columns and 24 lines; Markdown, HTML and data have everything in any case"}
}

// QuietFlag keeps stderr quiet.
func QuietFlag() cli.Flag {
	return &cli.BoolFlag{Name: "quiet", Category: ThemeOutput, Usage: "no notes and no progress on standard error"}
}

// FileFlag names the file to write.
func FileFlag() cli.Flag {
	return &cli.StringFlag{Name: "o", Category: ThemeOutput, Usage: "`FILE` file to write, whole or not at all; - is standard output", DefaultText: "-"}
}
