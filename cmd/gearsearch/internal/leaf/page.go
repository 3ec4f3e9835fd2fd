package leaf

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// Style is the one stylesheet of what is shown, live and dead, on a screen and
// on paper.
//
//go:embed leaf.css
var Style string

var (
	//go:embed leaf.js
	behaviour string
	//go:embed laid.js
	curves string
)

// Script is the behaviour of what is shown: order, filter, weights, builds side by side
// and their curves.
func Script() string { return behaviour + strings.TrimPrefix(curves, "'use strict';\n") }

// begin is the line of the page's own script that starts the behaviour of what
// is on it.
const begin = "leaf(document.querySelector('.designs'), JSON.parse(document.getElementById('data').textContent))?.among(document.querySelector('.field'));\n"

// PageScript is the script of a file: the behaviour, and what begins it.
func PageScript() string { return Script() + begin }

// Write writes the document as one HTML file that needs nothing but itself. The
// content security policy must allow Style and PageScript.
func Write(w io.Writer, d *Document, policy string) error {
	data, err := json.Marshal(d.Data) // which writes <, > and & out
	if err != nil {
		return err
	}
	head := el("head",
		el("meta", attr{"charset", "utf-8"}),
		el("meta", attr{"http-equiv", "Content-Security-Policy"}, attr{"content", policy}),
		el("meta", attr{"name", "viewport"}, attr{"content", "width=device-width, initial-scale=1"}),
		el("meta", attr{"name", "color-scheme"}, attr{"content", "light dark"}),
		el("meta", attr{"name", "referrer"}, attr{"content", "no-referrer"}),
		el("meta", attr{"name", "generator"}, attr{"content", "gearsearch report"}),
		el("title", text(fmt.Sprintf("%s: %d of %s feasible %s", d.Title, len(d.Builds), d.Feasible, d.plural("build", "builds")))),
		el("link", attr{"rel", "icon"}, attr{"href", "data:,"}),
		el("style", &Node{drawn: Style}))
	body := el("body", class("paper"),
		el("a", class("skip"), attr{"href", "#main"}, text("To what was found")),
		d.header(),
		el("main", id("main"), attr{"tabindex", "-1"}, d.opening(), d.builds(), d.Costs(), d.rejected(), d.origin()),
		el("footer", el("p", class("soft"), text("Computed figures of parts as a catalog describes them, not a promise of safety."))),
		el("script", attr{"type", "application/json"}, id("data"), &Node{drawn: plain(string(data))}),
		el("script", &Node{drawn: PageScript()}))
	_, err = io.WriteString(w, "<!doctype html>\n"+el("html", attr{"lang", "en"}, head, body).String()+"\n")
	return err
}

// plural is the word for as many builds as are feasible.
func (d *Document) plural(one, many string) string {
	if d.Feasible == "1" {
		return one
	}
	return many
}

// header says what was found, and what is to be known of it first.
func (d *Document) header() *Node {
	put := "combinations of the catalog’s parts were"
	if d.Combinations == "1" {
		put = "combination of the catalog’s parts was"
	}
	alarm := func(word, s string) inside {
		return when(s != "", el("p", class("alarm"), attr{"role", "note"}, el("strong", text(word)), text(" "+s)))
	}
	return el("header",
		el("h1", text(d.Title)),
		el("p", class("lead"), text(d.Combinations+" "+put+" put through the checks. "), d.found()),
		alarm("Invented.", d.Invented), alarm("Incomplete.", d.Incomplete),
		el("p", class("made"), text("Made "+d.Made)))
}

// found says how many builds do what was asked.
func (d *Document) found() inside {
	if d.Feasible == "0" {
		return text("None does what was asked.")
	}
	here := "It is here."
	if d.Feasible != "1" {
		here = fmt.Sprintf("The best %d are here, best first", len(d.Builds))
		if d.Apart != "" {
			here += ": one for each choice of " + d.Apart
		}
		here += "."
	}
	return all{
		el("strong", text(d.Feasible)), text(" " + d.plural("does", "do") + " what was asked"),
		when(d.Undecided != "", text(", "+d.Undecided+" of these with a check that could not be decided for lack of data")), text(". " + here),
	}
}

// opening is what was asked, and where the builds stand among all.
func (d *Document) opening() *Node {
	return el("div", class("opening"),
		el("section", labelled("asked-title"), class("asked"),
			el("h2", id("asked-title"), text("What was asked")),
			each(d.Asked, func(_ int, s string) inside { return el("p", text(s)) }),
			el("details", el("summary", text("Key by key")),
				el("dl", class("keys"), each(d.Keys, func(_ int, k Key) inside { return el("div", el("dt", text(k.Name)), el("dd", text(k.Value))) })))),
		when(d.Field != nil, el("section", labelled("field-title"), class("plane"), el("h2", id("field-title"), text("Where they stand among all")), d.Field)))
}

// builds are the table and the cards.
func (d *Document) builds() inside {
	return all{
		when(len(d.Builds) > 0, el("section", labelled("list-title"), id("list"),
			el("h2", id("list-title"), text("The builds")),
			el("noscript", el("p", class("soft"), text("Sorting, filtering, other weights and builds side by side need JavaScript; all else is here without it."))),
			d.Table(Dead))),
		d.nearest(),
		when(len(d.Cards) > 0, el("section", labelled("cards-title"), class("cards"),
			el("h2", id("cards-title"), textf("The first %d, one by one", len(d.Cards))),
			each(d.Cards, func(_ int, c *Card) inside { return c.Sheet(Dead) }))),
	}
}

// nearest is the build that misses the least.
func (d *Document) nearest() inside {
	if d.Nearest == nil {
		return nil
	}
	return el("section", labelled("near-title"),
		when(d.Gives != nil, el("h2", text("What to give way on")), d.Gives),
		el("h2", id("near-title"), text("The nearest build")),
		el("p", text("This one misses the least. Its bars to the left of the limit say by how much.")),
		d.Nearest.Sheet(Dead))
}

// origin is what to beware of, what is assumed, and how the page came to be.
func (d *Document) origin() *Node {
	made := "by this command, which makes the page again"
	if d.Origin != "" {
		made = d.Origin
	}
	return el("section", labelled("notes-title"), class("notes"),
		el("h2", id("notes-title"), text("Cautions, assumptions and origin")),
		d.Notes(),
		el("h3", text("Made by")),
		el("p", text("Made "+d.Made+" "+made+":")),
		el("pre", focusable, el("code", text(d.Command))),
		when(len(d.Next) > 0, el("p", text("What to type next:")), el("pre", focusable, el("code", text(strings.Join(d.Next, "\n")+"\n")))))
}
