package field

import "strings"

// Rename gives the keys of a row other names: name is told a heading and its cell,
// and says the key and the unit that a bare number in it is in, "" for the key's own;
// a cell without a key is taken out. Places stay those of the cells.
func (s Section) Rename(name func(heading string, v Value) (key, unit string)) {
	t := s.tree
	section := t.at(s.n)
	k := section.child
	section.child, section.last, section.extra = 0, 0, 0
	t.renamed = true
	for k != 0 {
		key := *t.at(k)
		heading, value := string(t.name(&key)), key.child
		if to, unit := name(heading, Value{t, value}); to != "" {
			t.express(value, unit)
			n, cell := t.at(k), t.at(value)
			n.start, n.end, n.flags = cell.start, cell.end, n.flags&^literal
			n.next, n.extra = 0, t.named(to)
			t.put(s.n, k, value)
		}
		k = key.next
	}
}

// Derive puts a key into a row that has none of it, with a text made of the cell of
// another key; "" makes none. Its place is that cell's.
func (s Section) Derive(key, from string, text func(string) string) {
	t := s.tree
	k := t.find(s.n, []byte(from))
	if k == 0 || t.find(s.n, []byte(key)) != 0 {
		return
	}
	cell := *t.at(t.at(k).child)
	made := text(original(string(t.content(&cell))))
	if made == "" {
		return
	}
	cell.extra, cell.next = t.keep([]byte(made)), 0
	name := node{start: cell.start, end: cell.end, key: true, extra: t.named(key)}
	t.put(s.n, t.add(name), t.add(cell))
}

// express puts a unit behind a cell that ends in a digit.
func (t *tree) express(cell int32, unit string) {
	text := strings.TrimSpace(string(t.content(t.at(cell))))
	if unit == "" || !EndsInDigit(text) {
		return
	}
	t.at(cell).extra = t.keep([]byte(text + " " + unit))
}

// EndsInDigit reports whether a unit may be put behind a text.
func EndsInDigit(text string) bool {
	return text != "" && text[len(text)-1] >= '0' && text[len(text)-1] <= '9'
}

// named is a name as the decoded form of a key.
func (t *tree) named(name string) int32 {
	n, ok := t.names[name]
	if !ok {
		if t.names == nil {
			t.names = map[string]int32{}
		}
		n = t.keep([]byte(name))
		t.names[name] = n
	}
	return n
}
