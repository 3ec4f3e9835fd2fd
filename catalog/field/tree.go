package field

import "bytes"

// Limits of a document. They are far above any real catalog or brief.
const (
	MaxSize       = 8 << 20 // bytes of a document
	MaxExpression = 1 << 20 // bytes of one key and value, or of one line
	MaxValues     = 2 << 20 // values of a document, keys included: 60 MB of nodes
	MaxKeys       = 200     // keys of a section
	MaxItems      = 10_000  // items of a list
	MaxDepth      = 16      // levels of sections, lists and parts of a dotted key
)

// Kind is the type of a value as written.
type Kind uint8

// The kinds of values.
const (
	KindAbsent  Kind = iota
	KindText         // a TOML string
	KindInteger      // a TOML integer
	KindFloat        // a TOML float, inf and nan included
	KindFlag         // true or false
	KindDate         // any TOML date or time
	KindList         // a TOML array; arrays of tables too
	KindSection      // a TOML table, standard or inline
	KindCell         // untyped text: a CSV cell, or a value on the command line
)

// node is one key, value or section of a tree. Nodes are numbered from 1 and
// hold no pointers, so that a large document costs little and the garbage
// collector has nothing to trace.
type node struct {
	start, end uint32 // where it stands in the text
	next       int32  // the sibling after it
	child      int32  // a key's value; a section's first key; a list's first item
	last       int32  // a section's last key; a list's last item
	extra      int32  // of a text or key: index from 1 of its decoded form, 0: as it stands; of a section: its number of keys
	kind       Kind
	key        bool // a key: its kind is KindAbsent
	flags      flags
}

type flags uint8

const (
	implied flags = 1 << iota // a section made by a longer header only: its own header may follow
	dotted                    // a section made by a dotted key: no header may follow
	inline                    // an inline section: closed
	headers                   // a list made by [[headers]]: more may follow
	damaged                   // a section with a syntax error in it: what is missing may be there
	full                      // a section with too many keys
	literal                   // a text or key that stands between quotes in the source
)

// tree is a document's nodes and the decoded form of the texts that had escapes.
type tree struct {
	text      *text
	nodes     []node
	decoded   [][]byte
	header    int32  // of a CSV file: the section of its header row; 0: TOML
	separator string // of the items in a cell
	localised bool   // a CSV file of which the numbers may have a decimal comma
	commas    bool   // … and of which one has
	bare      []bareQuantity
	renamed   bool             // the rows of a sheet have other keys than its headings
	names     map[string]int32 // of keys that were renamed, in decoded
}

const root int32 = 1

// at is node n; the pointer is good until the next add.
func (t *tree) at(n int32) *node { return &t.nodes[n-1] }

// add makes a node and returns its number.
func (t *tree) add(n node) int32 {
	t.nodes = append(t.nodes, n)
	return int32(len(t.nodes))
}

// name is the decoded key n.
func (t *tree) name(n *node) []byte { return t.content(n) }

// content is the decoded text of a key or value: without quotes, escapes
// resolved.
func (t *tree) content(n *node) []byte {
	switch {
	case n.extra > 0 && (n.key || n.kind == KindText || n.kind == KindCell):
		return t.decoded[n.extra-1]
	case n.flags&literal != 0:
		return t.text.data[n.start+1 : n.end-1]
	}
	return t.text.data[n.start:n.end]
}

// keep stores a decoded form that is not a stretch of the text.
func (t *tree) keep(b []byte) int32 {
	t.decoded = append(t.decoded, b)
	return int32(len(t.decoded))
}

// find returns the key of that name in section s, 0 if there is none.
func (t *tree) find(s int32, name []byte) int32 {
	for k := t.at(s).child; k != 0; {
		n := t.at(k)
		if n.extra == 0 && n.flags&literal == 0 { // a bare key, nearly always: its length tells most apart
			if int(n.end-n.start) == len(name) && bytes.Equal(t.text.data[n.start:n.end], name) {
				return k
			}
		} else if bytes.Equal(t.name(n), name) {
			return k
		}
		k = n.next
	}
	return 0
}

// put appends key to section s, with its value.
func (t *tree) put(s, key, value int32) {
	t.at(key).child = value
	section := t.at(s)
	section.extra++
	t.link(section, key)
}

// push appends an item to a list.
func (t *tree) push(list, item int32) { t.link(t.at(list), item) }

func (t *tree) link(parent *node, n int32) {
	if parent.last == 0 {
		parent.child = n
	} else {
		t.at(parent.last).next = n
	}
	parent.last = n
}
