package field

import (
	"slices"

	"github.com/pelletier/go-toml/v2/unstable"
)

// header makes the section of a [header] or [[header]] the current one and
// returns where the header's last key ends.
//
// The rules are TOML's: a section may be made by its header once; sections
// implied by longer headers may get theirs later; sections made by dotted keys
// may not, though longer headers may go through them; a [[header]] begins one
// more item of a list that only [[headers]] made; inline values are closed.
func (p *tomlReader) header(e *unstable.Node) (end int) {
	array := e.Kind == unstable.ArrayTable
	section := root
	for it, depth := e.Key(), 1; it.Next(); depth++ {
		key := it.Node()
		at := p.place(key.Raw)
		end = int(at.end)
		if section == 0 {
			continue // reported; only the end is wanted
		}
		switch {
		case !p.room(at):
			section = 0
		case depth >= MaxDepth:
			p.report.Add(at, TooLarge, "", "nested deeper than %d levels", MaxDepth)
			section = 0
		case !it.IsLast():
			section = p.through(section, key, at)
		case array:
			section = p.item(section, key, at)
		case section == root && slices.Contains(p.lists, string(key.Data)):
			p.report.Add(at, WrongType, "write [["+string(key.Data)+"]], once for each", "[%s] must be [[%s]]", key.Data, key.Data)
			section = p.item(section, key, at)
		default:
			section = p.table(section, key, at)
		}
	}
	if section == 0 {
		// What follows belongs to a header that was refused: it is read, for
		// its own mistakes, into a section that nothing refers to.
		section = p.add(node{start: uint32(end), end: uint32(end), kind: KindSection})
	}
	p.current = section
	return end
}

// through finds or makes the section that a longer header goes through.
func (p *tomlReader) through(section int32, key *unstable.Node, at Place) int32 {
	k := p.find(section, key.Data)
	if k == 0 {
		return p.newSection(section, key, at, implied)
	}
	v := p.at(k).child
	switch n := p.at(v); {
	case n.kind == KindSection && n.flags&inline == 0:
		return v
	case n.kind == KindList && n.flags&headers != 0:
		return n.last
	}
	p.report.Add(at, GivenTwice, "", "%s is a value already, given on line %d", Quote(string(key.Data)), p.lineOf(k))
	return 0
}

// item begins one more item of a list of sections.
func (p *tomlReader) item(section int32, key *unstable.Node, at Place) int32 {
	k := p.find(section, key.Data)
	if k == 0 {
		if p.isFull(section, at) {
			return 0
		}
		k = p.key(key)
		p.put(section, k, p.add(node{start: at.start, end: at.end, kind: KindList, flags: headers}))
	}
	list := p.at(k).child
	if n := p.at(list); n.kind != KindList || n.flags&headers == 0 {
		p.report.Add(at, GivenTwice, "", "%s is not a list of tables, but what line %d gives", Quote(string(key.Data)), p.lineOf(k))
		return 0
	}
	v := p.add(node{start: at.start, end: at.end, kind: KindSection})
	p.push(list, v)
	return v
}

// table makes the section of a [header].
func (p *tomlReader) table(section int32, key *unstable.Node, at Place) int32 {
	k := p.find(section, key.Data)
	if k == 0 {
		return p.newSection(section, key, at, 0)
	}
	v := p.at(k).child
	n := p.at(v)
	if n.kind == KindSection && n.flags&implied != 0 {
		n.flags &^= implied
		n.start, n.end = at.start, at.end
		return v
	}
	what, hint := "is a value already, given", ""
	switch {
	case n.kind == KindList && n.flags&headers != 0:
		what, hint = "is a list of tables, begun", "write [["+visible(string(key.Data))+"]]"
	case n.kind == KindSection:
		what, hint = "is a table already, given", "put its keys in one place"
	}
	p.report.Add(at, GivenTwice, hint, "%s %s on line %d", Quote(string(key.Data)), what, p.lineOf(k))
	return 0
}

func (p *tomlReader) newSection(section int32, key *unstable.Node, at Place, f flags) int32 {
	if p.isFull(section, at) {
		return 0
	}
	k := p.key(key)
	v := p.add(node{start: at.start, end: at.end, kind: KindSection, flags: f})
	p.put(section, k, v)
	return v
}

func (p *tomlReader) lineOf(n int32) int {
	number, _, _ := p.text.line(int(p.at(n).start))
	return number
}
