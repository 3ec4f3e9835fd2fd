// Package add answers catalog add: one part more in a catalog file.
package add

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Answer is a part for a catalog, whose last file it goes to.
type Answer struct {
	Kind  catalog.KindInfo
	Paths []string // of the catalog

	desk  *ask.Desk
	files map[string][]byte // as they were read
	read  *catalog.Catalog
	keys  []catalog.Entered // that are known
}

// file is the file that the part goes to.
func (a *Answer) file() string { return a.Paths[len(a.Paths)-1] }

// Open reads the catalog.
func (a *Answer) Open(ctx context.Context, d *ask.Desk) error {
	a.desk = d
	var err error
	a.read, a.files, err = d.Files.LoadKept(ctx, a.Paths)
	return err
}

// Set sets the keys from what flags give them, and the id where none does.
func (a *Answer) Set(given []catalog.Entered) error {
	a.put("id", field.TOML(a.freeID())) // of a part without one no reference is looked up
	for i := range a.Kind.Fields {
		in := &a.Kind.Fields[i]
		at := slices.IndexFunc(given, func(e catalog.Entered) bool { return e.Key == in.Key })
		if at < 0 {
			continue
		}
		text := given[at].TOML
		flag := "--" + ask.KeyFlag(a.Kind, in) + " " + say.Shown(text)
		if ask.Bare(a.Kind, in, text) {
			return outcome.Usage("write "+text+in.Unit+"; "+in.Kind.Known(), "%s: without a unit", flag)
		}
		if wrong := a.enter(in, text); wrong != nil {
			return outcome.Usage(wrong.Hint, "%s: %s", flag, wrong.Message)
		}
	}
	for i := range a.Kind.Fields {
		if in := &a.Kind.Fields[i]; in.Required && !a.has(in.Key) {
			return outcome.Usage(in.Meaning, "a %s needs --%s", a.Kind.Name, ask.KeyFlag(a.Kind, in))
		}
	}
	return nil
}

// Give writes the part into its file and the answer.
func (a *Answer) Give(ctx context.Context, out *ask.Answer, quiet bool) error {
	if err := a.write(ctx); err != nil {
		return err
	}
	if quiet {
		return nil
	}
	return out.Text(a.text())
}

// write writes the part into its file, once the whole catalog is read with it.
func (a *Answer) write(ctx context.Context) error {
	file := a.file()
	grown := a.Kind.With(catalog.Source{Name: file, Data: a.files[file]}, a.keys)
	after := maps.Clone(a.files)
	after[file] = grown
	_, err := files.LoadAgain(a.Paths, after)
	if err == nil {
		err = ctx.Err()
	}
	if err == nil {
		return a.desk.Files.Grow(file, a.files[file], grown)
	}
	return err
}

// enter reads a value of a key from what somebody enters, and keeps it where the
// catalog takes it beside the keys that are known.
func (a *Answer) enter(in *field.Info, text string) *field.Problem {
	text = catalog.AsCell(in, text)
	before := slices.Clone(a.keys)
	value, err := catalog.ReadEntered(a.Kind.Name, in.Key, text)
	var wrong *field.Problem
	if errors.As(err, &wrong) {
		return wrong
	}
	if in.Key == "id" { // which Read tells only of a part that is whole
		if p := a.holder(text); p != nil {
			at := field.Position(p.Pos.File, p.Pos.Line, p.Pos.Column)
			return &field.Problem{Code: field.DuplicateID, Message: "id " + field.Quote(p.ID) + " is given twice, first at " + at}
		}
	}
	a.put(in.Key, value)
	if wrong = a.wrong(); wrong != nil {
		a.keys = before
	}
	return wrong
}

// put keeps a value of a key, "" for none.
func (a *Answer) put(key, toml string) {
	a.keys = slices.DeleteFunc(a.keys, func(e catalog.Entered) bool { return e.Key == key })
	if toml != "" {
		a.keys = append(a.keys, catalog.Entered{Key: key, TOML: toml})
	}
}

func (a *Answer) has(key string) bool {
	return slices.ContainsFunc(a.keys, func(e catalog.Entered) bool { return e.Key == key })
}

// newPart is the name of the part in a file of its own.
const newPart = "the new part"

// wrong is what is wrong with the keys of the part, as far as it is known, where
// it is read with the whole catalog; nil for nothing. What is still missing is
// not.
func (a *Answer) wrong() *field.Problem {
	const header = 2 // the line of the part's header, where missing keys are reported
	text := append([]string{"schema = 1"}, a.Kind.Table(a.keys)...)
	_, err := files.LoadAgain(a.Paths, a.files, catalog.Source{Name: newPart, Data: []byte(strings.Join(text, "\n") + "\n")})
	problems, _ := err.(field.Problems)
	for i := range problems {
		if p := &problems[i]; p.File == newPart && p.Line > header {
			return p
		}
	}
	return nil
}

// holder is the part that has an id; nil for none.
func (a *Answer) holder(id string) *catalog.Part {
	for _, p := range a.read.Parts() {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// freeID is an id that no part has: its kind and a number.
func (a *Answer) freeID() string {
	base := strings.ReplaceAll(a.Kind.Name, "_", "-")
	for n := 1; ; n++ {
		if id := base + "-" + strconv.Itoa(n); a.holder(id) == nil {
			return id
		}
	}
}

// text says what was written, and what comes next.
func (a *Answer) text() *layout.Text {
	out := &layout.Text{}
	id := ""
	for _, e := range a.keys {
		if e.Key == "id" {
			id = strings.Trim(e.TOML, `"`)
		}
	}
	out.Heading("Added " + id + " to " + say.Shown(a.file()))
	out.Verbatim(a.Kind.Table(a.keys)...)
	out.Heading("Next")
	out.Verbatim("gearsearch catalog check"+ask.PathWords(a.Paths), ask.RankWords(a.Paths, nil))
	return out
}
