package leaf

import (
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"maps"
	"slices"
	"strings"
	"unicode"
)

// Node is an element, a text, or several of these in turn. It is written as HTML
// by String, all texts escaped, and as a tree by MarshalJSON, for a page that
// makes elements of it without ever reading markup.
type Node struct {
	name   string // "" for a text, or for what is inside in turn
	attrs  []attr
	inside []*Node
	text   string
	drawn  string // markup that is written as it is: a drawing of package plot, which escapes what it writes, a style or a script
}

// inside is what an element can hold: nodes, texts, attributes.
type inside interface{ into(n *Node) }

func (x *Node) into(n *Node) {
	if x != nil {
		n.inside = append(n.inside, x)
	}
}

// text is a text.
type text string

func (t text) into(n *Node) {
	if t != "" {
		n.inside = append(n.inside, &Node{text: plain(string(t))})
	}
}

// attr is an attribute; one without a value stands by its name.
type attr struct{ name, value string }

func (a attr) into(n *Node) { n.attrs = append(n.attrs, attr{a.name, plain(a.value)}) }

// all is several things, which an element holds in turn.
type all []inside

func (a all) into(n *Node) {
	for _, x := range a {
		if x != nil {
			x.into(n)
		}
	}
}

// Attributes that stand often.
func class(names string) attr       { return attr{"class", names} }
func id(name string) attr           { return attr{"id", name} }
func labelled(by string) attr       { return attr{"aria-labelledby", by} }
func textf(s string, a ...any) text { return text(fmt.Sprintf(s, a...)) }

var (
	hidden     = attr{name: "hidden"}
	unseen     = attr{"aria-hidden", "true"}
	focusable  = attr{"tabindex", "0"}
	scopeCol   = attr{"scope", "col"}
	scopeRow   = attr{"scope", "row"}
	typeButton = attr{"type", "button"}
)

// void are the elements without an end.
var void = map[string]bool{"input": true, "meta": true, "link": true}

// el is an element with what it holds; nil is left out.
func el(name string, content ...inside) *Node {
	n := &Node{name: name}
	all(content).into(n)
	return n
}

// String is the node as HTML.
func (x *Node) String() string {
	var b strings.Builder
	x.write(&b)
	return b.String()
}

func (x *Node) write(b *strings.Builder) {
	if x == nil {
		return
	}
	b.WriteString(html.EscapeString(x.text))
	b.WriteString(x.drawn)
	if x.name != "" {
		b.WriteString("<" + x.name)
		for _, a := range x.attrs {
			b.WriteString(" " + a.name)
			if a.value != "" {
				b.WriteString(`="` + html.EscapeString(a.value) + `"`)
			}
		}
		b.WriteString(">")
	}
	for _, y := range x.inside {
		y.write(b)
	}
	if x.name != "" && !void[x.name] {
		b.WriteString("</" + x.name + ">")
	}
}

// MarshalJSON writes the node as a tree: a text as a string, an element as
// [name, attributes, what is inside …], what stands in turn under the name "". It is
// written in one go: encoding/json would look at what is inside once for each element
// around it.
func (x *Node) MarshalJSON() ([]byte, error) { return x.appendJSON(nil), nil }

func (x *Node) appendJSON(b []byte) []byte {
	if x == nil {
		return append(b, `""`...)
	}
	if x.name == "" && len(x.inside) == 0 {
		return appendString(b, x.text)
	}
	b = appendString(append(b, '['), x.name)
	b = append(b, ",{"...)
	byName := slices.Clone(x.attrs) // as UnmarshalJSON has them
	slices.SortStableFunc(byName, func(a, b attr) int { return strings.Compare(a.name, b.name) })
	for i, a := range byName {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendString(append(appendString(b, a.name), ':'), a.value)
	}
	b = append(b, '}')
	for _, y := range x.inside {
		b = y.appendJSON(append(b, ','))
	}
	return append(b, ']')
}

// appendString adds a text as JSON has it, with <, > and & written out.
func appendString(b []byte, s string) []byte {
	const hex = "0123456789abcdef"
	b = append(b, '"')
	from := 0
	for i := range len(s) {
		c := s[i]
		if c >= ' ' && c != '"' && c != '\\' && c != '<' && c != '>' && c != '&' {
			continue
		}
		b = append(b, s[from:i]...)
		b = append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		from = i + 1
	}
	return append(append(b, s[from:]...), '"')
}

// UnmarshalJSON reads what MarshalJSON writes.
func (x *Node) UnmarshalJSON(data []byte) error {
	*x = Node{}
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, &x.text)
	}
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	const head = 2 // the name and the attributes
	if len(list) < head {
		return errors.New("an element is a name, attributes, and what is inside")
	}
	attrs := map[string]string{}
	if err := errors.Join(json.Unmarshal(list[0], &x.name), json.Unmarshal(list[1], &attrs)); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(attrs)) {
		x.attrs = append(x.attrs, attr{name, attrs[name]})
	}
	for _, text := range list[head:] {
		y := &Node{}
		if err := y.UnmarshalJSON(text); err != nil {
			return err
		}
		x.inside = append(x.inside, y)
	}
	return nil
}

// when is what an element holds where a condition is met.
func when(condition bool, content ...inside) inside {
	if condition {
		return all(content)
	}
	return all(nil)
}

// each is what an element holds for each of a list.
func each[T any](list []T, of func(i int, x T) inside) inside {
	var out all
	for i, x := range list {
		out = append(out, of(i, x))
	}
	return out
}

// said is text for those who hear the page; it is not seen.
func said(s string) *Node { return el("span", class("hidden"), text(s)) }

// plain writes out the characters that control or turn a text, so that none is
// in the page.
func plain(s string) string {
	if strings.IndexFunc(s, unruly) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if unruly(r) {
			fmt.Fprintf(&b, "⟨U+%04X⟩", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// unruly reports whether a character controls or turns a text: controls but
// those of layout, directional marks and isolates, line separators, and those
// that cannot be seen.
func unruly(r rune) bool {
	switch {
	case r == '\n', r == '\t':
		return false
	case unicode.IsControl(r), r == '\ufffd':
		return true
	case r == '\u061c', r == '\u200e', r == '\u200f', r == '\u2028', r == '\u2029', r == '\ufeff':
		return true
	}
	return r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' || r >= 0xE0000 && r <= 0xE007F
}
