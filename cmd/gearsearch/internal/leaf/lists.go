package leaf

import "gearsearch/search"

// Costs is what each wish costs; nothing where that is not known.
func (d *Document) Costs() *Node {
	if len(d.Wishes) == 0 {
		return nil
	}
	return el("section", labelled("wishes-title"), class("gates wishes"),
		el("h2", id("wishes-title"), text("What each wish costs")),
		el("p", class("soft"), text("How many more builds would do it all if this wish alone were dropped.")),
		el("div", class("scroll"), focusable, attr{"role", "region"}, attr{"aria-label", "Table of wishes"}, el("table",
			el("thead", el("tr", el("th", scopeCol, text("wish")), el("th", scopeCol, class("number"), text("as asked")), el("th", scopeCol, class("number"), text("more builds without it")))),
			el("tbody", each(d.Wishes, func(_ int, w Wish) inside {
				return el("tr", when(w.None, class("none")), el("th", scopeRow, text(w.Name)), el("td", class("number"), text(w.Asked)), el("td", class("number"), text(w.Without)))
			})))))
}

// Rejected is what each check rejects of what a ranking looks at.
func Rejected(r *search.Result) *Node { return (&Document{Gates: gates(r)}).rejected() }

func (d *Document) rejected() *Node {
	return el("section", labelled("gates-title"), class("gates"),
		el("h2", id("gates-title"), text("What was rejected")),
		el("p", class("soft"), text("Combinations meet the checks in this order and are counted under the first that they fail. The bars show what is left, on a logarithmic scale.")),
		el("div", class("scroll"), focusable, attr{"role", "region"}, attr{"aria-label", "Table of checks"}, el("table",
			el("thead", el("tr", el("th", scopeCol, text("check")), el("th", scopeCol, class("roomy"), text("subject")), el("th", scopeCol, class("number"), text("rejected")),
				el("th", scopeCol, class("number"), text("left")), el("th", scopeCol, class("roomy"), said("left, as a bar")))),
			el("tbody", each(d.Gates, func(_ int, g Gate) inside {
				return el("tr", when(g.None, class("none")), el("th", scopeRow, text(g.Check)), el("td", class("roomy"), text(g.About)),
					el("td", class("number"), text(g.Rejected)), el("td", class("number"), text(g.Left)),
					el("td", class("roomy bar"), el("svg", attr{"viewBox", "0 0 100 8"}, attr{"preserveAspectRatio", "none"}, unseen, rect("rest", "0", "1", g.Width, "6"))))
			})))))
}

// Notes is what to beware of and what is assumed.
func (d *Document) Notes() *Node {
	return el("div",
		el("h3", text("Cautions")), list("", d.Cautions),
		el("h3", text("Assumed")), d.assumed())
}

func (d *Document) assumed() *Node {
	if len(d.Assumptions) == 0 {
		return el("p", text("Nothing."))
	}
	return list("dense", d.Assumptions)
}

// Drawn is a drawing as markup.
func (d *Drawing) Drawn() *Node {
	if d == nil {
		return nil
	}
	return drawn(0, *d).(*Node)
}

// SVG is a drawing of package plot, which escapes what it writes.
func SVG(text string) *Node { return &Node{drawn: text} }
