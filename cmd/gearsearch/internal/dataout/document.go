package dataout

import (
	"bufio"
	"io"
	"iter"

	"gearsearch/constraints"
	"gearsearch/search"
)

// Document is a JSON document of some keys and, after them, some lists.
type Document struct {
	Head  Object
	Lists []List
}

// List is a list of a document, each item on a line of its own. Without Items
// it is null: nobody asked for it.
type List struct {
	Key   string
	Items iter.Seq[Object]
}

// Write writes the document.
func (d Document) Write(w io.Writer) error {
	out := bufio.NewWriter(w)
	writeMembers(out, d.Head)
	var line []byte
	for _, l := range d.Lists {
		line = append(appendString(append(line[:0], ",\n  "...), l.Key), ": "...)
		out.Write(line) // an error is sticky, and Flush returns it
		if l.Items == nil {
			out.WriteString("null")
			continue
		}
		end := "]"
		separator := "[\n    "
		for o := range l.Items {
			if _, err := out.Write(o.Append(append(line[:0], separator...))); err != nil { // a list may be long
				return err
			}
			separator, end = ",\n    ", "\n  ]"
		}
		if end == "]" {
			out.WriteByte('[')
		}
		out.WriteString(end)
	}
	out.WriteString("\n}\n")
	return out.Flush()
}

// WriteLines writes the document as JSON lines: the items of all lists, and
// last the head.
func (d Document) WriteLines(w io.Writer) error {
	out := bufio.NewWriter(w)
	var line []byte
	write := func(o Object) error {
		line = append(o.Append(line[:0]), '\n')
		_, err := out.Write(line)
		return err
	}
	for _, l := range d.Lists {
		if l.Items == nil {
			continue
		}
		for o := range l.Items {
			if err := write(o); err != nil {
				return err
			}
		}
	}
	if err := write(d.Head); err != nil {
		return err
	}
	return out.Flush()
}

// Head is how every document begins: its schema, whether the answer is
// complete, and what was asked of which catalog.
func Head(p *constraints.Problem, complete bool) Object {
	return Object{
		{"schema", schema},
		{"complete", complete},
		{"brief", Brief(p)},
		{"catalog", Catalog(p.Catalog)},
	}
}

// Build is a scored build as in a ranking. Its rank is null where there is
// none.
func Build(s search.Scored) Object { return newBuilder(s.Build.Problem).build(s) }

// Builds turns scored builds into objects: the best of designs, where these are
// told apart.
func Builds(list iter.Seq[search.Scored], a search.Apart) iter.Seq[Object] {
	return func(yield func(Object) bool) {
		for s := range list {
			m := newBuilder(s.Build.Problem)
			m.apart = !a.None()
			if !yield(m.build(s)) {
				return
			}
		}
	}
}

// Parts are the ids of a build, with the numbers of controllers and motors;
// nil for no build.
func Parts(b *constraints.Build) any {
	if b == nil {
		return nil
	}
	return parts(b)
}

// PartKeys are the keys of Parts in the order of the columns of CSV.
func PartKeys() []string { return csvParts() }

// Rejected are the counts of combinations by the check that rejects them.
func Rejected(list []search.Rejection) []Object {
	out := []Object{}
	for _, x := range list {
		out = append(out, Object{{"check", x.Check.Name}, {"count", x.Count}})
	}
	return out
}
