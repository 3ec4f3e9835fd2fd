package leaf

import (
	"regexp"
	"strconv"
	"strings"
)

// Sheet is all about one build: a dead one with its drawings, a live one with
// places for what is asked for when it is opened (data-live).
func (c *Card) Sheet(m Manner) *Node {
	title := c.Title
	if title == "" {
		title = "No. " + strconv.Itoa(c.Number)
	}
	name := anchor(title)
	head := m.heads()
	return el("article", class("card"), id(name), attr{"tabindex", "-1"}, labelled("t-"+name),
		el("header",
			el(head[0], id("t-"+name), class("title"), text(title)),
			el("p", names(c.Chain, Part.long)),
			el("p", class("score"), text("score "), el("b", text(c.Score)), text(" of 100"), when(c.Differs != "", el("span", class("differs"), text("; other than No. 1: "+c.Differs))))),
		when(m == Live, el("p", class("deeds"), attr{"data-live", "deeds"})),
		c.deciding(),
		el("div", class("pair"),
			el("div", class("half"),
				el(head[1], text("Room to the limits")), c.margins(), c.fits(),
				when(len(c.Cautions) > 0, el(head[1], text("Cautions")), list("dense", c.Cautions)),
				el(head[1], text("Shopping list"), invented(c.Invented)), c.shopping(),
				when(len(c.Care) > 0, el(head[1], text("Building and riding it")), list("dense care", c.Care))),
			el("div", class("half"),
				when(m == Dead, el("div", class("drawings"), each(c.Drawings, drawn))),
				c.around(head[1]))),
		when(m == Live, el("div", attr{"data-live", "curves"})),
		when(len(c.More) > 0, el("details", class("more"),
			el("summary", text("More curves: climb, launch, what a little more or less does, teeth")),
			el("div", class("drawings"), each(c.More, drawn)))),
		when(m == Live, el("div", attr{"data-live", "asks"})),
		el("details", el("summary", text("Where the score comes from")), c.scores()),
		el("details", class("figures"), el("summary", text("All figures, with formulas and sources")), c.figures(head[1])),
		when(len(c.Meanings) > 0, el("details", el("summary", text("What each check asks")),
			el("ul", class("dense"), each(c.Meanings, func(_ int, x Meaning) inside {
				return el("li", el("b", text(x.Subject)), text(" passes when "+x.Text))
			})))),
		when(len(c.Assumed) > 0, el("details", el("summary", text("Assumed")), list("dense", c.Assumed))),
		el("details", el("summary", text("As a build file")), el("pre", focusable, el("code", text(c.File)))))
}

// heads are the elements of the heading of a sheet and of those in it: under the
// title of a screen, or of a part of a file.
func (m Manner) heads() [2]string {
	if m == Live {
		return [2]string{"h2", "h3"}
	}
	return [2]string{"h3", "h4"}
}

// anchor is a title as an id in the page.
func anchor(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	return strings.Join(words, "-")
}

// deciding are the figures that decide.
func (c *Card) deciding() *Node {
	return el("dl", class("deciding"), each(c.Key, func(_ int, f Figure) inside {
		return el("div", el("dt", text(f.Name)), el("dd", el("b", text(f.Value)), text(" "+f.Unit), when(f.Note != "", el("small", text(f.Note)))))
	}))
}

// margins is how far the build is from each limit.
func (c *Card) margins() *Node {
	return el("table", class("margins"),
		el("thead", el("tr", el("th", scopeCol, text("check")), el("th", scopeCol, class("number roomy"), text("value")), el("th", scopeCol, class("number"), text("limit")),
			el("th", scopeCol, class("scale"), said("room, as a bar from the limit: "), scale()), el("th", scopeCol, class("number"), text("room")))),
		el("tbody", each(c.Margins, func(_ int, x Margin) inside {
			return el("tr", when(x.Sign != "", class("thin")),
				el("th", scopeRow, text(x.About)), el("td", class("number roomy"), text(x.Value)), el("td", class("number"), text(x.Limit+" "+x.Unit)),
				el("td", class("bar"), x.bar()), el("td", class("number"), text(x.Margin), sign(x.Sign)))
		})))
}

func (x *Margin) bar() *Node {
	if !x.Bar.Shown {
		return el("span", class("soft"), text(x.Verdict))
	}
	return el("svg", attr{"viewBox", "0 0 120 10"}, attr{"preserveAspectRatio", "none"}, unseen,
		rect("track", "0", "4.6", "120", "0.8"), rect("rest", x.Bar.X, "2", x.Bar.Width, "6"), rect("limit", "19", "0", "2", "10"))
}

// fits are the checks without a number.
func (c *Card) fits() inside {
	return when(len(c.Fits) > 0, el("p", class("fits"), each(c.Fits, func(i int, f Check) inside {
		return all{when(i > 0, text(", ")), text(f.About + ": " + f.Verdict), sign(f.Sign)}
	})))
}

// shopping is the list of the build's own parts.
func (c *Card) shopping() *Node {
	return el("table", class("shopping"),
		shoppingHead("part", c.Currency),
		el("tbody", each(c.Items, func(_ int, i Item) inside { return i.row() })),
		el("tfoot", el("tr", el("th", scopeRow, attr{"colspan", "2"}, text("the build itself"), when(c.AtLeast, text(", at least")), invented(c.Invented)), el("td", class("number"), text(c.Price)))))
}

// around is the list of what else must be bought.
func (c *Card) around(head string) inside {
	return when(len(c.Around) > 0,
		el(head, text("And around it"), invented(c.Invented)),
		el("table", class("shopping around"),
			shoppingHead("part, or what it must be", c.Currency),
			el("tbody", each(c.Around, func(_ int, i Item) inside { return i.row() })),
			el("tfoot", el("tr", el("th", scopeRow, attr{"colspan", "2"}, text("with the build itself"), when(c.TotalAtLeast, text(", at least")), invented(c.Invented)), el("td", class("number"), text(c.Total))))))
}

func shoppingHead(part, currency string) *Node {
	return el("thead", el("tr", el("th", scopeCol, class("number"), text("pieces")), el("th", scopeCol, text(part)), el("th", scopeCol, class("number"), text(currency))))
}

// row is a line of a shopping list.
func (i Item) row() *Node {
	return el("tr", el("td", class("number"), text(i.Pieces)),
		el("th", scopeRow, el("span", class("for"), text(i.For)), text(" "),
			when(i.ID != "", el("bdi", class("id"), text(i.ID)), text(" ")), el("bdi", text(i.Name)), invented(i.Invented),
			when(i.Buy != "", el("small", text(i.Buy))), when(i.From != "", el("small", class("note"), el("bdi", text(i.From)))), when(i.Note != "", el("small", class("note"), el("bdi", text(i.Note)))), i.making(), i.link()),
		el("td", class("number"), text(i.Price)))
}

// making is how a part is to be made, nothing where it is bought.
func (i Item) making() inside {
	return when(i.Make != "", el("small", class("make"), el("b", text(i.Make)), text(": "+i.Figures)),
		each(i.Beware, func(_ int, care string) inside { return el("small", class("note"), text(care)) }))
}

// link is where a part is sold, as a link where it may be one.
func (i Item) link() inside {
	if i.Link == "" {
		return nil
	}
	if l := safeLink(i.Link); l != nil {
		return all{text(" "), el("a", attr{"href", l.Address}, attr{"rel", "noopener noreferrer nofollow"}, text(l.Words))}
	}
	return el("small", el("bdi", text(i.Link)))
}

func invented(is bool) inside {
	return when(is, text(", "), el("span", class("invented"), text("invented")))
}

// scores is what each criterion gives.
func (c *Card) scores() *Node {
	return el("table", class("scores"),
		el("thead", el("tr", el("th", scopeCol, text("criterion")), el("th", scopeCol, class("number"), text("gives")), el("th", scopeCol, said("as a bar")),
			el("th", scopeCol, class("number"), text("weight")), el("th", scopeCol, class("roomy"), text("for")))),
		el("tbody", each(c.Scores, func(_ int, s Score) inside {
			return el("tr", el("th", scopeRow, text(s.Name)), el("td", class("number"), text(s.Score)),
				el("td", class("bar"), el("svg", attr{"viewBox", "0 0 100 8"}, attr{"preserveAspectRatio", "none"}, unseen, rect("track", "0", "3.6", "100", "0.8"), rect("rest", "0", "1", s.Width, "6"))),
				el("td", class("number"), text(s.Weight)), el("td", class("roomy"), text(s.Meaning)))
		})))
}

// figures are all figures, group by group, each with where it comes from.
func (c *Card) figures(head string) inside {
	return each(c.Groups, func(_ int, g Group) inside {
		return el("section", el(head, text(g.Title)), el("div", class("spread"), each(g.Figures, func(_ int, f Explained) inside {
			return el("details", class("figure"), attr{"data-figure", f.Key},
				el("summary", el("span", class("label"), text(f.Name)), text(" "), el("b", text(f.Value)), when(f.Unit != "", text(" "+f.Unit))),
				el("dl",
					el("dt", text("meaning")), el("dd", text(f.Note)),
					el("dt", text("formula")), el("dd", class("formula"), text(f.Formula)),
					el("dt", text(f.NumbersTitle())), el("dd", class("formula"), text(f.Numbers)),
					el("dt", text("source")), el("dd", text(f.Source))))
		})))
	})
}

// NumbersTitle is what the formula's numbers are: what is missing where there is
// no value.
func (f *Explained) NumbersTitle() string {
	if f.Known {
		return "numbers"
	}
	return "why not"
}

// drawn is a drawing.
func drawn(_ int, d Drawing) inside {
	figure := "narrow"
	if d.Wide {
		figure = "broad"
	}
	svg := d.SVG
	if d.Scrolls {
		svg = el("div", class("scroll"), focusable, attr{"role", "group"}, attr{"aria-label", d.Title}, d.SVG)
	}
	return el("figure", class(figure), el("figcaption", text(d.Title)), svg)
}

func list(name string, items []string) *Node {
	return el("ul", class(name), each(items, func(_ int, s string) inside { return el("li", text(s)) }))
}

// Link is an address that may be followed, and the words for it.
type Link struct{ Address, Words string }

// webAddress is an http or https address of some host, which nobody signs in to.
var webAddress = regexp.MustCompile(`^(?i:https?)://([A-Za-z0-9.-]+(?::[0-9]+)?)(?:[/?#][^\s\x00-\x1f\x7f]*)?$`)

// safeLink is a link from a catalog: nil unless it is the address of a page on the
// web. The library of addresses takes more, and is large in the page's engine.
func safeLink(text string) *Link {
	m := webAddress.FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	scheme, rest, _ := strings.Cut(text, ":")
	address := strings.ToLower(scheme) + ":" + rest
	return &Link{strings.NewReplacer(`"`, "%22", "'", "%27", "<", "%3c", ">", "%3e").Replace(address), m[1]}
}
