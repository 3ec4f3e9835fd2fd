// Package reference answers with the reference pages in Markdown. They are made of
// the rows of keys, checks, figures and criteria, and say nothing that these do
// not.
package reference

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/search"
)

// Page is a reference page.
type Page struct {
	Name    string // by which it is asked for
	Meaning string // one line
	Text    func() string
}

// Pages lists the pages, in the order in which a reader needs them.
func Pages() []Page {
	return []Page{
		{"catalog", "every kind of part and its keys", catalog.Reference},
		{"brief", "every key of a brief", brief},
		{"checks", "what a build must pass, in order", checks},
		{"figures", "every figure, its formula and its source, and the score", figures},
		{"data", "every key of the answers to programs", data},
	}
}

// Named finds a page by its name; ok is false where there is none.
func Named(name string) (p Page, ok bool) {
	list := Pages()
	i := slices.IndexFunc(list, func(p Page) bool { return p.Name == name })
	if i < 0 {
		return p, false
	}
	return list[i], true
}

// Names lists the names of the pages.
func Names() []string {
	var names []string
	for _, p := range Pages() {
		names = append(names, p.Name)
	}
	return names
}

// brief is the page of a brief's keys.
func brief() string {
	var b strings.Builder
	b.WriteString(briefHead)
	keys := constraints.BriefKeys()
	for len(keys) > 0 {
		section := keys[0].Section
		end := slices.IndexFunc(keys, func(k constraints.BriefKey) bool { return k.Section != section })
		if end < 0 {
			end = len(keys)
		}
		fmt.Fprintf(&b, "\n## [%s]\n\n", section)
		if text := sectionWords[section]; text != "" {
			b.WriteString(text + "\n\n")
		}
		if of := keys[:end]; ids(of) {
			writeSlots(&b, of)
		} else {
			var infos []field.Info
			for _, k := range of {
				infos = append(infos, k.Info)
			}
			field.WriteKeys(&b, infos, unlessAsked)
		}
		keys = keys[end:]
	}
	b.WriteString(routeHead)
	field.WriteKeys(&b, route.Columns(constraints.Surfaces()), unlessAsked)
	return b.String()
}

// ids reports whether the keys of a section are slots that take ids of parts.
func ids(keys []constraints.BriefKey) bool {
	return !slices.ContainsFunc(keys, func(k constraints.BriefKey) bool { return !k.ID })
}

// writeSlots lists the keys of a section of slots.
func writeSlots(b *strings.Builder, keys []constraints.BriefKey) {
	var names []string
	for _, k := range keys {
		names = append(names, "`"+k.Key+"`")
	}
	fmt.Fprintf(b, "Keys: %s.\n", strings.Join(names, ", "))
}

// unlessAsked says what the absence of a key without a default means.
func unlessAsked(in *field.Info) string {
	if in.Asks {
		return "not asked for"
	}
	return "none"
}

// checks is the page of the checks.
func checks() string {
	var b strings.Builder
	b.WriteString(checksHead)
	b.WriteString("| check | passes when | unknown without | eased by |\n| --- | --- | --- | --- |\n")
	for _, c := range constraints.Registry() {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", c.Name, cell(c.Meaning), missing(c), eased(c))
	}
	return b.String()
}

// missing lists the keys of parts without which a check is undecided.
func missing(c *constraints.Check) string {
	var kinds []string
	keys := map[string][]string{}
	for _, n := range c.Needs {
		if !slices.Contains(kinds, n.Kind) {
			kinds = append(kinds, n.Kind)
		}
		if key := "`" + n.Key + "`"; !slices.Contains(keys[n.Kind], key) {
			keys[n.Kind] = append(keys[n.Kind], key)
		}
	}
	var out []string
	for _, kind := range kinds {
		out = append(out, strings.ReplaceAll(kind, "_", " ")+": "+strings.Join(keys[kind], ", "))
	}
	return strings.Join(out, "; ")
}

// eased lists the keys of a brief that a check gives way to.
func eased(c *constraints.Check) string {
	var out []string
	for _, e := range c.Eased {
		if key := "`" + e.Key + "`"; !slices.Contains(out, key) {
			out = append(out, key)
		}
	}
	return strings.Join(out, ", ")
}

// figures is the page of the figures and of the criteria of the score.
func figures() string {
	var b strings.Builder
	b.WriteString(figuresHead)
	group := ""
	for _, f := range constraints.Figures() {
		if f.Group != group {
			group = f.Group
			fmt.Fprintf(&b, "\n## %s\n\n| figure | unit | meaning | formula | source |\n| --- | --- | --- | --- | --- |\n", group)
		}
		unit := f.Unit
		switch {
		case f.Word != nil:
			unit = "a word"
		case unit == "price":
			unit = "the currency"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", f.Name, cmp.Or(unit, "–"), cell(f.Meaning), cell(f.Formula), cell(f.Source))
	}
	b.WriteString(scoreHead)
	defaults := constraints.DefaultBrief()
	for _, c := range search.Criteria() {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", c.Name, field.FormatNumber(*c.Weight(&defaults.Weights)), cell(c.Meaning), cell(c.Formula))
	}
	return b.String()
}

// cell is a text in a cell of a Markdown table.
func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }
