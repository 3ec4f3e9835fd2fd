package reference

import (
	"fmt"
	"slices"
	"strings"
)

// A Shape is a kind of JSON object that answers have.
type Shape struct {
	Name    string // as rows name it
	Meaning string
	Title   string // that it stands under, where it is an answer by itself
	Keys    []Key
}

// Key is a key of a shape.
type Key struct {
	Name, Meaning string
	Of            string // the shape of its value, or of each item of it; "": a bare value
}

// Rows are the keys that stand at the head of most answers.
func head(more ...Key) []Key {
	return append([]Key{
		{"schema", "the version of the document: 1", ""},
		{"complete", "false where an interrupt cut the answer short", ""},
		{"brief", "the brief as resolved, every default filled in", "brief"},
		{"catalog", "what was read", "catalog"},
	}, more...)
}

// Shapes lists the shapes: first those of whole answers, then what these are made
// of.
func Shapes() []Shape {
	return append(answers(), pieces()...)
}

func answers() []Shape {
	return []Shape{
		{"rank", "Each of `front` to `tolerance` is there with its flag only. JSON lines have one build a line and, last, the rest.", "gearsearch rank", head(
			Key{"apart", "the choices by which listed builds differ; empty with `none`", ""},
			Key{"combinations", "how many there are after keep and avoid", ""},
			Key{"feasible", "how many of them fail no check; null with `--no-count`", ""},
			Key{"unknown", "how many of the feasible have a check that is unknown", ""},
			Key{"rejected", "the others, each counted once, under the first check that it fails", "rejection"},
			Key{"assumptions", "values that stand in for missing ones, of the builds listed", ""},
			Key{"measure", "the missing key that decides most builds", "measure"},
			Key{"front", "the figures of `--front`", ""},
			Key{"front_size", "how many builds are on it", ""},
			Key{"stability", "what `--stability` finds", "stability"},
			Key{"tolerance", "how `--tolerance` drew", "draws"},
			Key{"builds", "the builds listed, best first", "build"},
		)},
		{"share", "", "gearsearch rank --share", []Key{
			{"schema", "the version of the document: 1", ""},
			{"complete", "false where an interrupt cut the answer short", ""},
			{"briefs", "the briefs, in the order given", "asked"},
			{"catalog", "what was read", "catalog"},
			{"share", "the slots that the builds of a set have in common", ""},
			{"order", "`mean` or `worst`: the score that sets are ranked by", ""},
			{"sets", "the sets, best first", "set"},
		}},
		{"chart", "", "gearsearch rank --chart teeth", head(
			Key{"chart", "its kind", ""},
			Key{"held", "the parts that all cells have", "parts"},
			Key{"chosen", "the slots that the best build chose", ""},
			Key{"cells", "one for each pair of teeth, and for each gear drive", "cell"},
		)},
		{"sheet", "`why` and `why_scores` are there with `--why`, `tolerance` with that flag.", "gearsearch sheet", []Key{
			{"schema", "the version of the document: 1", ""},
			{"brief", "the brief as resolved", "brief"},
			{"catalog", "what was read", "catalog"},
			{"assumptions", "values that stand in for missing ones", ""},
			{"build", "the build", "build"},
			{"why", "each figure with its formula", "reason"},
			{"why_scores", "each criterion with its formula", "score reason"},
			{"settings", "what to set the controllers to", "setting"},
			{"made", "the parts to make, with the figures to make them by", "making"},
			{"route", "how it comes over the route, with a route in the brief; null where that cannot be told", "crossing"},
			{"tolerance", "how the build does when parts and rider vary", "spread"},
		}},
		{"swap", "`never_fit` and `broken` are null without `--all`.", "gearsearch swap", head(
			Key{"change", "what is freed: slots, or the number of motors", ""},
			Key{"in_turn", "true where each is changed by itself", ""},
			Key{"combinations", "how many changes there are", ""},
			Key{"feasible", "how many of them pass every check", ""},
			Key{"rejected", "the others, by the first check that fails", "rejection"},
			Key{"base", "the build as it is", "build"},
			Key{"never_fit", "how many changes can never be put together", "misfits"},
			Key{"swaps", "the changes that pass, best first", "swap"},
			Key{"broken", "the others", "swap"},
		)},
		{"vary", "`tells_more` is empty for the build of a file.", "gearsearch vary", head(
			Key{"assumptions", "values that stand in for missing ones", ""},
			Key{"tells_more", "flags that would tell more of bare numbers", ""},
			Key{"base", "the build itself", "varied build"},
			Key{"rows", "its variants", "variant"},
		)},
		{"shortlist", "", "gearsearch shortlist", head(
			Key{"slot", "the slot", ""},
			Key{"combinations", "how many there are", ""},
			Key{"feasible", "how many of them fail no check", ""},
			Key{"parts", "the parts of the slot, those with the best builds first", "candidate"},
		)},
		{"relax", "", "gearsearch relax", head(
			Key{"builds_wanted", "how many feasible builds are wanted", ""},
			Key{"feasible", "how many there are", ""},
			Key{"pairs", "true where pairs of concessions were tried", ""},
			Key{"helpless", "keys that open nothing alone, however far they give way", ""},
			Key{"hopeless", "what no key of the brief mends", ""},
			Key{"grip", "true where grip alone is in the way", ""},
			Key{"openings", "the concessions that open a build, smallest first", "opening"},
			Key{"missing", "for each slot the part that would do it; null where builds are feasible", "missing"},
			Key{"wishes", "what each target and limit costs", "wish"},
		)},
		{"ideal", "", "gearsearch ideal", head(
			Key{"bounds", "within which values were tried", "bounds"},
			Key{"frames", "the motor frames, best first", "frame"},
		)},
		{"route", "", "gearsearch route", []Key{
			{"schema", "the version of the document: 1", ""},
			{"route", "the name of its file", ""},
			{"legs", "how many legs it is ridden in", ""},
			{"length_m", "along the road", ""},
			{"climb_m", "all that goes up", ""},
			{"descent_m", "all that goes down", ""},
			{"start_m", "where it begins, above the sea", ""},
			{"end_m", "where it ends, above the sea", ""},
			{"lowest", "its lowest place, the first of equals", "place"},
			{"highest", "its highest place, likewise", "place"},
			{"steepest_up", "over 100 m, or all of a shorter route; null where nothing goes up", "stretch"},
			{"steepest_down", "likewise; null where nothing goes down", "stretch"},
			{"stops", "how often the board stands", ""},
			{"slowest_kmh", "the lowest speed that is wanted, null where none is", ""},
			{"fastest_kmh", "the highest, likewise", ""},
			{"cruise_m", "on which the brief's cruise speed is wanted", ""},
			{"surfaces", "what it leads over, the longest first", "ground"},
		}},
		{"fit", "", "gearsearch fit", head(
			Key{"parts", "the build", "parts"},
			Key{"rolling_resistance", "the rolling-resistance coefficient", "fitted value"},
			Key{"drag_area_m2", "the drag area", "fitted value"},
			Key{"correlation", "of the two; null where one is held", ""},
			Key{"slope_pct", "of the road, up the way out; null where no runs go both ways", ""},
			Key{"coast_scatter_kmh", "by which the speeds of coast-downs scatter; null without any", ""},
			Key{"ride_scatter_pct", "by which the metered energies of rides scatter; null without any", ""},
			Key{"ride_scatter_told", "true where the rides tell it, else it is assumed", ""},
			Key{"residual_correlation", "of the speeds' residuals from one to the next; 0 where there is none to speak of", ""},
			Key{"corners", "true where a range stands in for keys of the motor", ""},
			Key{"freewheel", "true where the motors are not turned", ""},
			Key{"cautions", "what to beware of", ""},
			Key{"logs", "what was read", "log"},
			Key{"coast_downs", "the coast-downs beside their fit", "coast-down"},
			Key{"rides", "the rides beside their fit", "metered ride"},
		)},
		{"ride", "CSV has the legs.", "gearsearch plot BUILD.toml route", head(
			Key{"build", "the parts of the build", "parts"},
			Key{"route", "the name of the file of the route", ""},
			Key{"length_m", "of the route", ""},
			Key{"at_best", "true where the ride is that of the best corner, since nothing is known of the worst", ""},
			Key{"stalled", "true where the board stalls after the legs", ""},
			Key{"start_pct", "of the usable charge, at the start", ""},
			Key{"left_pct", "likewise, at the end or where the board stalls", ""},
			Key{"legs", "those that are ridden", "ridden leg"},
		)},
		{"parts", "", "gearsearch parts", head(
			Key{"build", "the build", "build"},
			Key{"total", "what it costs", "total"},
			Key{"settings", "what to set the controllers to", "setting"},
			Key{"sketch", "how the cells lie in the box, line by line", ""},
			Key{"assumptions", "values that stand in for missing ones", ""},
			Key{"cautions", "what to beware of", ""},
			Key{"list", "the shopping list", "list line"},
			Key{"made", "the parts to make, with the figures to make them by", "making"},
			Key{"needs", "what the drivetrain needs around it", "need"},
			Key{"checks", "of the parts around the drivetrain", "fit"},
			Key{"figures", "currents, braking and descents", "outfit figure"},
			Key{"tools", "tools and small parts", "tool"},
		)},
	}
}

func pieces() []Shape {
	return []Shape{
		{"fitted value", "", "", []Key{
			{"value", "as fitted, or as the brief has it", ""},
			{"low", "the lower end of the 95 % interval; null where it is held", ""},
			{"high", "the upper end", ""},
			{"pct", "half the interval in percent of the value, rounded up; null where it is not told", ""},
			{"verdict", "`told`, `held` (at the brief's value), `tangled` (with the other), `wide` (beyond ± 50 %), `out-of-range`", ""},
			{"brief", "what the brief has", ""},
		}},
		{"log", "", "", []Key{
			{"file", "its name", ""},
			{"kind", "`coast-down` or `ride`", ""},
			{"rows", "how many it has", ""},
			{"columns", "those that are read", "column"},
			{"notes", "what it was read in spite of", ""},
		}},
		{"column", "", "", []Key{
			{"quantity", "as `--column` names it", ""},
			{"heading", "as it stands in the log", ""},
		}},
		{"coast-down", "", "", []Key{
			{"name", "of the log, and which of its runs", ""},
			{"direction", "`out`, `back` or null", ""},
			{"samples", "how many speeds", ""},
			{"seconds", "how long it is", ""},
			{"start_kmh", "the speed at which it begins, as fitted", ""},
			{"end_kmh", "the last speed", ""},
			{"residual_kmh", "how far the speeds are off, root of the mean square", ""},
		}},
		{"metered ride", "", "", []Key{
			{"name", "of the log", ""},
			{"speed_kmh", "the mean while it moves", ""},
			{"stops_per_km", "of the log", ""},
			{"ascent_m_per_km", "on slopes above 5 %; null where the log has no heights", ""},
			{"rise_m_per_km", "of the end above the start", ""},
			{"wh_per_km", "metered at the pack", ""},
			{"fitted_wh_per_km", "computed with the fitted values", ""},
			{"off_pct", "the second less the first", ""},
		}},
		{"brief", "Section by section, with the keys of [the brief](brief.md); lists always as lists, what is not asked for null.", "", nil},
		{"catalog", "", "", []Key{
			{"files", "their names", ""},
			{"currency", "of all prices", ""},
			{"parts", "how many of each kind, before keep and avoid", "kinds"},
		}},
		{"place", "", "", []Key{{"at_m", "from the start", ""}, {"height_m", "above the sea", ""}}},
		{"stretch", "", "", []Key{{"from_m", "from the start", ""}, {"length_m", "along the road", ""}, {"grade_pct", "rise over length, negative down", ""}}},
		{"ground", "", "", []Key{{"surface", "null for the brief's", ""}, {"length_m", "on it", ""}}},
		{"kinds", "By the names of the kinds: see [the catalog](catalog.md).", "", nil},
		{"rejection", "", "", []Key{{"check", "its name", ""}, {"count", "how many fall to it first", ""}}},
		{"measure", "", "", []Key{
			{"kind", "of the part", ""},
			{"key", "that it lacks", ""},
			{"id", "of the part", ""},
			{"decides", "how many builds knowing it decides", ""},
			{"of", "`feasible` or `listed` builds", ""},
		}},
		{"build", "", "", []Key{
			{"rank", "its place, null in answers that do not rank", ""},
			{"score", "0 to 100", ""},
			{"stands_for", "how many feasible builds have the same choices, itself included", ""},
			{"parts", "what it is made of", "parts"},
			{"figures", "each [figure](figures.md) by its name; null where it cannot be computed", "figures"},
			{"figures_best", "those that differ at the better end of what is likely", "figures"},
			{"scores", "each criterion that applies, 0 to 1", "scores"},
			{"checks", "each check that applies, in order", "outcome"},
			{"cautions", "what to beware of", ""},
			{"tolerance", "with `--tolerance`", "spread"},
		}},
		{"parts", "The id of each slot, null where the build has none; `controllers` and `motors` are their numbers.", "", nil},
		{"figures", "By their names: see [the figures](figures.md).", "", nil},
		{"scores", "By the names of the criteria: see [the score](figures.md#the-score).", "", nil},
		{"outcome", "", "", []Key{
			{"name", "of the check", ""},
			{"verdict", "`pass`, `fail` or `unknown`", ""},
			{"value", "null for a yes-or-no check", ""},
			{"limit", "that it is held to", ""},
			{"unit", "of both", ""},
			{"margin_pct", "room to the limit, in percent of it", ""},
		}},
		{"stability", "", "", []Key{
			{"draws", "random weightings", ""},
			{"ranges", "how far each weight may move before another build leads", "weight range"},
			{"wins", "how often each of the first wins", ""},
		}},
		{"weight range", "", "", []Key{
			{"criterion", "its name", ""},
			{"weight", "as it is", ""},
			{"low", "down to which the best leads", ""},
			{"high", "up to which, null for any", ""},
			{"below", "the build that leads below", "parts"},
			{"above", "the build that leads above", "parts"},
		}},
		{"draws", "", "", []Key{{"draws", "how many", ""}, {"by", "`score` or `robust`: the order", ""}}},
		{"spread", "", "", []Key{
			{"draws", "how many", ""},
			{"share", "of draws that pass every check", ""},
			{"checks", "the share that passes each", "check share"},
			{"figures", "each with `p5`, `p50`, `p95` and the share in which it is `known`", "figures"},
		}},
		{"check share", "", "", []Key{{"name", "of the check", ""}, {"share", "of draws that pass it", ""}}},
		{"asked", "", "", []Key{
			{"name", "of the brief", ""},
			{"brief", "as resolved", "brief"},
			{"combinations", "as in `rank`", ""},
			{"feasible", "likewise", ""},
			{"unknown", "likewise", ""},
			{"rejected", "likewise", "rejection"},
			{"assumptions", "likewise", ""},
		}},
		{"set", "", "", []Key{
			{"rank", "its place", ""},
			{"mean", "of the scores", ""},
			{"worst", "of the scores", ""},
			{"price", "shared parts counted once", ""},
			{"lines", "all its parts", "line"},
			{"changes", "from one ride to the next", "change"},
			{"builds", "one for each brief: a build with `for`, the name of its brief", "set build"},
		}},
		{"set build", "", "", append([]Key{{"for", "the name of its brief", ""}}, buildKeys()...)},
		{"line", "", "", []Key{{"slot", "its slot", ""}, {"id", "of the part", ""}, {"pieces", "how many", ""}, {"price", "of all of them", ""}}},
		{"change", "", "", []Key{
			{"from", "the name of a brief", ""}, {"to", "the name of another", ""}, {"off", "what comes off", "piece"}, {"on", "what goes on", "piece"},
		}},
		{"piece", "", "", []Key{{"slot", "its slot", ""}, {"id", "of the part", ""}, {"pieces", "how many", ""}}},
		{"cell", "", "", []Key{
			{"profile", "of the teeth, null for a gear drive", ""},
			{"motor_teeth", "of the motor pulley", ""},
			{"wheel_teeth", "of the wheel pulley", ""},
			{"reduction", "motor turns per wheel turn", ""},
			{"top_speed_kmh", "as the figure", ""},
			{"verdict", "`pass`, `fail` or `unknown`", ""},
			{"fails", "the checks that fail", ""},
			{"score", "null where a check fails", ""},
			{"parts", "of the best build with these teeth", "parts"},
		}},
		{"reason", "", "", []Key{
			{"figure", "its name", ""},
			{"value", "in this unit", ""},
			{"unit", "", ""},
			{"meaning", "in a line", ""},
			{"formula", "", ""},
			{"numbers", "the same with the build's numbers", ""},
			{"source", "of the formula", ""},
		}},
		{"score reason", "", "", []Key{
			{"criterion", "its name", ""}, {"score", "0 to 1", ""}, {"weight", "", ""}, {"meaning", "in a line", ""}, {"formula", "", ""}, {"numbers", "the same with the build's numbers", ""},
		}},
		{"setting", "", "", []Key{
			{"setting", "its name", ""},
			{"value", "in this unit", ""},
			{"unit", "", ""},
			{"set_by", "the part or key that decides", ""},
			{"meaning", "in a line", ""},
			{"numbers", "how it comes about", ""},
			{"source", "of the rule", ""},
		}},
		{"swap", "A build, and:", "", append(buildKeys(), []Key{
			{"changes", "differences from the base", "differences"},
			{"price_to_pay", "for the parts that are new", ""},
			{"buys", "what is bought", "line"},
			{"leaves", "what comes off", "line"},
			{"breaks", "the checks that fail", "outcome"},
			{"adds", "those of them that the build in hand does not fail", ""},
			{"cures", "checks that the build in hand fails and the swap does not", ""},
			{"never_fits", "the check by which its parts can never be put together, else null", ""},
			{"changed", "the words for what changes", ""},
		}...)},
		{"misfits", "", "", []Key{{"change", "the words for what changes", ""}, {"check", "by which its parts never fit", ""}, {"count", "how many do not", ""}}},
		{"variant", "", "", []Key{
			{"change", "what is other", "variation"},
			{"build", "the build with it", "varied build"},
			{"cured", "checks that the build itself fails, and this one not", "outcome"},
			{"added", "checks that this one fails, and the build itself not", "outcome"},
		}},
		{"variation", "By its key: `kv`, `series`, `teeth`, `ratio`, `wheel_mm`, `motors`, `charge`, or a slot.", "", nil},
		{"varied build", "A build, and:", "", append(buildKeys(), []Key{
			{"erpm_nominal", "electrical rpm at the pack's nominal volts, wheels off the ground", ""},
			{"thrust_n_per_a", "newtons of all motors for each ampere of motor current", ""},
		}...)},
		{"differences", "Of score, figures and margins, in their own units.", "", nil},
		{"ridden leg", "", "", []Key{
			{"from_m", "from the start of the route", ""},
			{"to_m", "likewise", ""},
			{"height_m", "above the sea, at its end", ""},
			{"grade_pct", "rise over length", ""},
			{"wanted_kmh", "the speed that is wanted", ""},
			{"speed_kmh", "the speed that is ridden", ""},
			{"load_n", "what the road asks of the drive; below 0 downhill", ""},
			{"braking_n", "by the motors", ""},
			{"unheld", "true where the motors do not hold the wanted speed downhill; null: not known", ""},
			{"pack_a", "out of the pack, below 0 into it", ""},
			{"pack_v", "at its terminals", ""},
			{"motor_a", "of each motor, DC-equivalent, driving or braking", ""},
			{"left_pct", "of the usable charge, at its end and before its stop", ""},
			{"winding_c", "at its end; null: not known, or hotter than can be told", ""},
			{"stop", "true where the board stands at its end", ""},
		}},
		{"candidate", "", "", []Key{
			{"id", "of the part", ""},
			{"name", "of the part", ""},
			{"combinations", "that have it", ""},
			{"feasible", "of these", ""},
			{"unknown", "of the feasible", ""},
			{"rejected", "the others, by the first check that fails", "rejection"},
			{"stopped_by", "the check that stops those that get furthest", ""},
			{"unchosen", "why no drive chooses the belt", ""},
			{"score", "of its best build", ""},
			{"reaches", "the best of each that a feasible build reaches", "reaches"},
			{"spans", "what its feasible builds have, least to most", "spans"},
			{"build", "its best build", "build"},
		}},
		{"reaches", "", "", []Key{{"top_speed_kmh", "most", ""}, {"climb_margin_pct", "most", ""}, {"range_km", "most", ""}, {"price", "least", ""}}},
		{"spans", "", "", []Key{
			{"reduction_min", "", ""}, {"reduction_max", "", ""}, {"wheel_mm_min", "", ""}, {"wheel_mm_max", "", ""}, {"pack_v_min", "", ""}, {"pack_v_max", "", ""},
		}},
		{"opening", "", "", []Key{
			{"cost", "sum of the relative concessions", ""}, {"concessions", "one key, or a pair", "concession"}, {"feasible", "builds that it opens, where counted", ""}, {"build", "the best of these", "build"},
		}},
		{"concession", "", "", []Key{{"key", "of the brief", ""}, {"from", "as asked", ""}, {"to", "as it must be", ""}, {"unit", "of both", ""}}},
		{"missing", "", "", []Key{
			{"slot", "its slot", ""},
			{"part", "what it is, in words", ""},
			{"like", "the part that it is closest to", ""},
			{"difference", "how far from it", ""},
			{"facts", "what it would have", "fact"},
			{"price", "assumed", ""},
			{"mass_g", "assumed", ""},
			{"assumed", "how", ""},
			{"build", "a build with it", "build"},
		}},
		{"fact", "", "", []Key{{"key", "of the part", ""}, {"value", "of the key", ""}, {"changed", "true where it differs from the like part", ""}}},
		{"wish", "", "", []Key{{"key", "of the brief", ""}, {"value", "as asked", ""}, {"unit", "of it", ""}, {"without", "how many more builds are feasible without it alone", ""}}},
		{"bounds", "Each a list of two, least and most.", "", []Key{{"kv", "rpm/V", ""}, {"reduction", "", ""}, {"wheel_mm", "", ""}}},
		{"frame", "", "", []Key{
			{"motors", "the windings of one frame", ""},
			{"feasible", "true where some kv, reduction and wheel do it", ""},
			{"kv", "the best", ""},
			{"reduction", "the best", ""},
			{"wheel_mm", "the best", ""},
			{"score", "with these", ""},
			{"gap", "above the best build of catalog parts", ""},
			{"bases", "builds tried as a base", ""},
			{"bases_left", "that were not", ""},
			{"catalog_feasible", "true where a build of catalog parts does it", ""},
			{"catalog", "the best of these", "build"},
			{"moves", "what one change gains", "move"},
			{"nearest", "the nearest parts", "nearest"},
			{"build", "the ideal", "build"},
		}},
		{"move", "", "", []Key{{"quantity", "kv, reduction or wheel", ""}, {"from", "as it is", ""}, {"to", "the best", ""}, {"gain", "of score", ""}, {"feasible", "true where the result does it", ""}}},
		{"nearest", "", "", []Key{{"motor", "its id", ""}, {"drives", "their teeth or ids", ""}, {"wheel", "its id", ""}}},
		{"total", "", "", []Key{{"known", "the sum of the known prices", ""}, {"leaves_out", "what has no price", ""}}},
		{"list line", "", "", []Key{
			{"slot", "its slot, or what it is needed for", ""},
			{"id", "of the part", ""},
			{"name", "of the part", ""},
			{"state", "`chosen`, `open` or `missing`", ""},
			{"pieces", "needed", ""},
			{"sold_in", "pieces a pack", ""},
			{"packs", "to buy", ""},
			{"unit_price", "of a pack", ""},
			{"total", "of all packs", ""},
			{"owned", "true: there already", ""},
			{"link", "of the part", ""},
			{"note", "of the part", ""},
			{"priced", "the day of the price", ""},
			{"source", "where price and values are from", ""},
			{"made", "how it is made; null: it is bought", ""},
		}},
		{"making", "", "", []Key{
			{"slot", "its slot, or what it is needed for", ""},
			{"id", "of the part", ""},
			{"made", "`printed`, `cut` or `built`", ""},
			{"pieces", "how many", ""},
			{"figures", "to make it by", "making figure"},
			{"cautions", "what to beware of", ""},
		}},
		{"making figure", "", "", []Key{{"figure", "its name", ""}, {"value", "a number or a text, null where it is not known", ""}, {"unit", "", ""}}},
		{"crossing", "", "", []Key{
			{"name", "of the file of the route", ""},
			{"corner", "`worst`; `best` where nothing is known of the worst", ""},
			{"stalled", "true where the ride ends before the route does", ""},
			{"hottest_km", "from the start, where the windings are hottest; null: not known", ""},
			{"lowest_volts_km", "from the start, where the volts are lowest", ""},
			{"pieces", "stretches of the route, one after the other", "route piece"},
			{"events", "what happens on the way", "route event"},
		}},
		{"route piece", "", "", []Key{
			{"from_km", "from the start", ""},
			{"to_km", "likewise", ""},
			{"rise_m", "from one end to the other", ""},
			{"min", "that it takes", ""},
			{"slowest_kmh", "the least speed", ""},
			{"wh", "that it takes, without stops", ""},
			{"charge_pct", "of the pack's charge, at its end", ""},
			{"winding_c", "at its end; null: not known", ""},
			{"stops", "how many", ""},
		}},
		{"route event", "`speed_kmh`, `wanted_kmh`, `limited_by` and `pack_full` are not of a `stall`.", "", []Key{
			{"what", "`slow`: slower than wanted; `loose`: the motors do not hold the board; `stall`: the ride ends", ""},
			{"from_km", "from the start", ""},
			{"to_km", "likewise", ""},
			{"steepest_pct", "the steepest grade there", ""},
			{"speed_kmh", "that is ridden", ""},
			{"wanted_kmh", "that is wanted", ""},
			{"limited_by", "what limits it; null: nothing", ""},
			{"pack_full", "true where the pack is too full to brake into", ""},
		}},
		{"need", "", "", []Key{
			{"need", "what it is", ""},
			{"kind", "of parts that meet it", ""},
			{"state", "as in the list", ""},
			{"id", "of the chosen part", ""},
			{"words", "what to look for", ""},
			{"pieces", "how many", ""},
			{"price", "of all", ""},
			{"notes", "what to know", ""},
			{"demands", "what a part must do", "demand"},
			{"turned_away", "parts that do not, with the reason", "turned away"},
		}},
		{"demand", "", "", []Key{
			{"key", "of the part", ""}, {"what", "it is", ""}, {"unit", "", ""}, {"least", "", ""}, {"most", "", ""}, {"open", "why a bound is not known", ""}, {"numbers", "how it comes about", ""}, {"source", "of the rule", ""},
		}},
		{"turned away", "", "", []Key{{"id", "of the part", ""}, {"why", "it does not do", ""}, {"unsure", "true where that is for lack of data", ""}}},
		{"fit", "", "", []Key{
			{"check", "its name", ""},
			{"verdict", "`pass`, `fail` or `unknown`", ""},
			{"caution_only", "true: it never fails a build", ""},
			{"value", "", ""},
			{"limit", "", ""},
			{"unit", "", ""},
			{"margin_pct", "room to the limit, in percent of it", ""},
			{"words", "what it says", ""},
			{"source", "of the rule", ""},
		}},
		{"tool", "", "", []Key{{"tool", "its name", ""}, {"words", "what to have", ""}, {"for", "the parts of the build that it is for", ""}, {"notes", "what to know beside it", ""}, {"source", "of the facts", ""}}},
		{"outfit figure", "", "", []Key{{"figure", "its name", ""}, {"value", "", ""}, {"unit", "", ""}, {"meaning", "in a line", ""}, {"numbers", "how it comes about", ""}, {"source", "of the formula", ""}}},
	}
}

// buildKeys are the keys of a build.
func buildKeys() []Key {
	return []Key{
		{"rank", "as in a build", ""},
		{"score", "likewise", ""},
		{"parts", "likewise", "parts"},
		{"figures", "likewise", "figures"},
		{"figures_best", "likewise", "figures"},
		{"scores", "likewise", "scores"},
		{"checks", "likewise", "outcome"},
		{"cautions", "likewise", ""},
	}
}

// data is the page of data out.
func data() string {
	var b strings.Builder
	b.WriteString(dataHead)
	made := false
	for _, s := range Shapes() {
		if s.Title == "" && !made {
			made = true
			b.WriteString("\n# What the answers are made of\n")
		}
		title := s.Title
		if title == "" {
			title = s.Name
		}
		fmt.Fprintf(&b, "\n## %s\n", title)
		if s.Meaning != "" {
			b.WriteString("\n" + s.Meaning + "\n")
		}
		if len(s.Keys) > 0 {
			writeKeys(&b, s.Keys)
		}
	}
	return b.String()
}

func writeKeys(b *strings.Builder, keys []Key) {
	b.WriteString("\n| key | meaning | made of |\n| --- | --- | --- |\n")
	for _, k := range keys {
		of := ""
		if k.Of != "" {
			of = "[" + k.Of + "](#" + anchor(k.Of) + ")"
		}
		fmt.Fprintf(b, "| `%s` | %s | %s |\n", k.Name, cell(k.Meaning), of)
	}
}

// anchor is the place of a heading in a page. Of two headings of one text the
// first is the answer's, whose title begins with the program's name.
func anchor(name string) string { return strings.ReplaceAll(name, " ", "-") }

// ShapeNamed finds a shape; answers is where whole answers are meant.
func ShapeNamed(name string, whole bool) (Shape, bool) {
	list := Shapes()
	i := slices.IndexFunc(list, func(s Shape) bool { return s.Name == name && (s.Title != "") == whole })
	if i < 0 {
		return Shape{}, false
	}
	return list[i], true
}
