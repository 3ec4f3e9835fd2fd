package leaf

import (
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/say"
)

// Manner is how a leaf is used: dead on paper and in a file, or live, where an
// engine stands behind it and answers what is asked of a build.
type Manner bool

// The manners.
const (
	Dead Manner = false
	Live Manner = true
)

// Table is the builds as a table, with what sorts, filters and compares them.
// Nothing for no builds.
func (d *Document) Table(m Manner) *Node {
	if len(d.Builds) == 0 {
		return nil
	}
	return el("div", class("designs"),
		when(m == Dead, d.weights()), tools(), // an engine ranks all builds anew, not only those here
		el("p", class("soft found"), attr{"role", "status"}),
		el("div", class("scroll"), focusable, attr{"role", "region"}, attr{"aria-label", "Table of builds"},
			el("table", class("builds"), d.heads(), each(d.Builds, func(_ int, b Build) inside { return b.row(m) }))),
		d.legend(),
		el("section", class("bench"), attr{"aria-label", "Builds side by side"}, hidden,
			el("h2", text("Side by side")),
			el("div", class("scroll"), focusable, attr{"role", "region"}, attr{"aria-label", "Table of builds side by side"}, el("table", class("beside"))),
			el("p", class("soft"), el("b", text("▲")), text(" the best of them. Rows in which all are alike are pale.")),
			laid()),
	)
}

// weights are the sliders of the criteria.
func (d *Document) weights() *Node {
	return el("details", class("weights"),
		el("summary", text("What counts, and how much")),
		el("p", class("soft"), text("A score is the weighted mean of what the criteria give. "),
			el("span", class("live"), hidden, text("Move a weight, and the builds on this page are ranked anew by the same score."))),
		el("div", class("scales"), each(d.Weights, func(i int, w Weight) inside {
			n := strconv.Itoa(i)
			value := strconv.FormatFloat(w.Value, 'g', -1, 64)
			return el("div", class("weight"),
				el("label", attr{"for", "w" + n}, text(w.Name)),
				el("output", attr{"for", "w" + n}, id("v"+n), text(value)),
				el("input", attr{"type", "range"}, id("w"+n), attr{"min", "0"}, attr{"max", strconv.FormatFloat(w.Most, 'g', -1, 64)}, attr{"step", "0.1"},
					attr{"value", value}, attr{"aria-describedby", "m" + n}, hidden),
				el("p", class("soft"), id("m"+n), text(w.Meaning)))
		})),
		el("p", class("live"), hidden, el("button", typeButton, class("reset"), text("Back to the brief’s weights"))),
		el("p", class("soft live again"), hidden, text("Builds that are not on this page may do better under other weights. All are ranked by: "), el("code", class("command"))))
}

// tools filter the table.
func tools() *Node {
	return el("div", class("tools"), hidden,
		el("label", attr{"for", "filter"}, text("Show builds with")),
		el("input", attr{"type", "search"}, id("filter"), attr{"placeholder", "a part’s id or name"}, attr{"autocomplete", "off"}, attr{"spellcheck", "false"}),
		el("label", class("tick"), el("input", attr{"type", "checkbox"}, id("roomy")), text(" nothing thin or undecided")))
}

// heads is the head of the table.
func (d *Document) heads() *Node {
	return el("thead", el("tr",
		el("th", scopeCol, class("pin live"), hidden, text("beside")),
		el("th", scopeCol, attr{"aria-sort", "ascending"}, attr{"data-key", "place"}, el("span", text("place"))),
		el("th", scopeCol, attr{"data-key", "score"}, attr{name: "data-down"}, el("span", text("score"))),
		each(d.Columns, func(_ int, c Column) inside {
			return el("th", scopeCol, attr{"data-key", c.Key}, when(c.Down, attr{name: "data-down"}), roomy(c.Wide, ""),
				el("span", text(c.Title)), when(c.Unit != "", text(" "), el("small", text(c.Unit))))
		}),
		el("th", scopeCol, class("roomy strip"), text("room to the limits "), scale())))
}

// scale names the marks of a scale of margins.
func scale() *Node {
	return el("span", class("marks"), unseen, el("span", text("limit")), el("span", text("5")), el("span", text("25")), el("span", text("100 %")))
}

// roomy is the class of what is left out where the page is narrow, beside others.
func roomy(is bool, others string) inside {
	switch {
	case is:
		return class(strings.TrimSpace(others + " roomy"))
	case others != "":
		return class(others)
	}
	return nil
}

// row is a build in the table: what it is made of, then its figures.
func (b *Build) row(m Manner) *Node {
	n := strconv.Itoa(b.Number)
	place := el("small", text("No. "+n))
	switch {
	case m == Live:
		place = el("button", typeButton, class("look"), attr{"aria-expanded", "false"}, text("Open"), said(" No. "+n))
	case b.HasCard:
		place = el("a", attr{"href", "#no-" + n}, text("No. "+n))
	}
	return el("tbody", attr{"data-number", n}, attr{"data-find", b.Find}, when(b.Sign != "" || len(b.Watch) > 0, attr{name: "data-thin"}),
		el("tr", class("made-of"),
			el("td", attr{"rowspan", "2"}, class("pin live"), hidden, el("label", el("input", attr{"type", "checkbox"}, attr{"aria-label", "No. " + n + " side by side"}))),
			el("th", attr{"rowspan", "2"}, attr{"scope", "rowgroup"}, class("place"), el("span", attr{name: "data-place"}, text(n)), text(" "), place),
			el("td", attr{"colspan", strconv.Itoa(len(b.Cells) + 2)}, names(b.Chain, Part.short), b.like(m))),
		el("tr", class("numbers"),
			el("td", attr{name: "data-score"}, text(b.Score)),
			each(b.Cells, func(_ int, c Cell) inside {
				return el("td", attr{"data-v", c.Sort}, roomy(c.Wide, ""), text(c.Text), sign(c.Sign))
			}),
			el("td", class("roomy strip"), b.strip())))
}

// strip is the margins of a build on one scale, the least first, and what it is.
func (b *Build) strip() inside {
	marks := each(b.Marks, func(_ int, x Mark) inside {
		name, y, height := "room", "4", "8"
		if x.First {
			name, y, height = "least", "1", "14"
		}
		return el("rect", class(name), attr{"x", x.X}, attr{"y", y}, attr{"width", "1.6"}, attr{"height", height})
	})
	tight := all{text(b.Tight), sign(b.Sign), each(b.Watch, func(i int, w string) inside {
		if i > 0 || b.Tight != "" {
			w = "; " + w
		}
		return text(w)
	})}
	return all{
		el("svg", attr{"viewBox", "0 0 120 16"}, attr{"preserveAspectRatio", "none"}, unseen,
			rect("track", "0", "7.6", "120", "0.8"), rect("limit", "19", "0", "2", "16"), marks),
		el("details", class("tight"), el("summary", tight),
			el("ul", each(b.Limits, func(_ int, l string) inside { return el("li", text(l)) }))),
	}
}

func rect(name, x, y, width, height string) *Node {
	return el("rect", class(name), attr{"x", x}, attr{"y", y}, attr{"width", width}, attr{"height", height})
}

// sign is the sign of a margin, with its words for those who hear the page.
func sign(s string) inside {
	switch s {
	case say.NoSign:
		return nil
	case say.ThinSign:
		return all{el("span", class("sign"), unseen, text(s)), said(" thin")}
	case say.OpenSign:
		return all{el("span", class("sign"), unseen, text(s)), said(" not decided")}
	}
	return all{el("span", class("sign"), unseen, text(s)), said(" beyond its limit")}
}

// legend says what the columns and signs mean.
func (d *Document) legend() *Node {
	return el("p", class("soft legend"),
		each(d.Columns, func(_ int, c Column) inside { return all{el("b", text(c.Title)), text(": " + c.About + "; ")} }),
		el("b", text("% spare")), textf(": how far the limit is away, in percent of it; "),
		el("b", text("!")), textf(" less than %v %%, ", say.ThinMargin), el("b", text("!!")), text(" beyond it, only a caution in this brief, "),
		el("b", text("?")), text(" not decided for lack of data."))
}
