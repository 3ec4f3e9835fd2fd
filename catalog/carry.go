package catalog

import (
	"bytes"
	"fmt"
	"iter"
	"maps"
	"slices"

	"gearsearch/catalog/field"
)

// A build file can carry its parts: a catalog below [parts], so that it is read without
// any other file. Read takes such a file for the catalog that it carries.

// carriedKey is the key below which a build file carries its parts, and buildKey the one
// by which it is known.
const (
	carriedKey = "parts"
	buildKey   = "build"
)

// Carries reports whether a file is a build file that carries its parts.
func Carries(src Source) bool {
	if isSheet(src) || !bytes.Contains(src.Data, []byte(carriedKey)) {
		return false
	}
	var r field.Report
	_, ok := carried(field.Parse(src, &r).Root())
	return ok
}

// carried is the catalog that a build file carries.
func carried(root field.Section) (s field.Section, ok bool) {
	if root.Value(buildKey).Kind() == field.KindAbsent {
		return s, false
	}
	return root.Value(carriedKey).Section()
}

// Carried is the parts of those ids, with what they refer to, as a build file carries
// them.
func (c *Catalog) Carried(ids ...string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "\n[%s]\n", carriedKey)
	c.writeSome(&b, carriedKey+".", c.closed(ids))
	return b.Bytes()
}

// Only is the parts of those ids as a file of a name.
func (c *Catalog) Only(name string, ids []string) Source {
	var b bytes.Buffer
	wanted := map[string]bool{}
	for _, id := range ids {
		wanted[id] = true
	}
	c.writeSome(&b, "", wanted)
	return Source{Name: name, Data: b.Bytes()}
}

// Referred yields ids and those of all parts that they refer to.
func (c *Catalog) Referred(ids ...string) iter.Seq[string] { return maps.Keys(c.closed(ids)) }

// writeSome writes the parts of those ids below headers with a prefix.
func (c *Catalog) writeSome(b *bytes.Buffer, prefix string, wanted map[string]bool) {
	fmt.Fprintf(b, "schema = 1\ncurrency = %s\n", field.TOML(c.currency()))
	for e := range c.Entries() {
		if !wanted[e.Part.ID] {
			continue
		}
		fmt.Fprintf(b, "\n[[%s%s]]\n", prefix, e.Kind)
		for in, v := range e.Values() {
			if v != nil && !implied(in, v) {
				fmt.Fprintf(b, "%s = %s\n", in.Key, field.TOML(v))
			}
		}
	}
}

// closed is ids with those of all parts that they refer to.
func (c *Catalog) closed(ids []string) map[string]bool {
	wanted := map[string]bool{}
	for open := slices.Clone(ids); len(open) > 0; {
		var next []string
		for _, id := range open {
			wanted[id] = true
		}
		for e := range c.Entries() {
			if slices.Contains(open, e.Part.ID) {
				next = append(next, referred(e)...)
			}
		}
		open = slices.DeleteFunc(next, func(id string) bool { return wanted[id] })
	}
	return wanted
}

// referred are the ids that a part refers to.
func referred(e Entry) []string {
	var out []string
	for in, v := range e.Values() {
		if !in.ID || in.Key == "id" {
			continue
		}
		switch v := v.(type) {
		case string:
			out = append(out, v)
		case []string:
			out = append(out, v...)
		}
	}
	return out
}
