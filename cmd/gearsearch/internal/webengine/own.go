package webengine

import (
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/quantity"
)

// OwnName is the name of the file that the parts make which the reader fills in.
const OwnName = "own.toml"

// partKeys are the keys of a kind in the order of a table: what tells a part from
// others before what every kind has.
func partKeys(c *catalog.Catalog, kindName string) []partKey {
	k, ok := catalog.KindNamed(kindName)
	if !ok {
		return []partKey{}
	}
	used := map[string]bool{}
	for e := range c.Entries(kindName) {
		for in, v := range e.Values() {
			used[in.Key] = used[in.Key] || v != nil && in.Key != "sold_in"
		}
	}
	var out []partKey
	for _, in := range tableKeys(k) {
		out = append(out, partKey{
			Key: in.Key, Label: quantity.Label(in.Key, in.Unit), Unit: in.Unit, Is: string(in.Type), Words: in.Words, Range: in.Range(),
			Meaning: in.Meaning, Default: in.Default, Required: in.Required, Number: in.Numeric(), Used: used[in.Key],
		})
	}
	return out
}

// tableKeys are the keys of a kind: id, name and price, its own, and the others of
// every kind.
func tableKeys(k catalog.KindInfo) []field.Info {
	first := []string{"id", "name", "price"}
	var out, rest []field.Info
	for _, in := range catalog.EntryKeys(k) {
		if slices.Contains(first, in.Key) {
			out = append(out, in)
		} else {
			rest = append(rest, in)
		}
	}
	return slices.Concat(out, rest)
}

// ownParts is how drafts are read.
type ownParts struct {
	Rows []ownRow `json:"rows"`
	File *file    `json:"file"` // of those in which nothing is wrong; null for none
}

// ownRow is how one draft is read.
type ownRow struct {
	ID    string            `json:"id"`
	Said  map[string]string `json:"said"` // how a cell is read, where not as it stands
	Wrong []wrongCell       `json:"wrong"`

	Copied bool `json:"copied,omitempty"` // from the demo, and as invented
}

// wrongCell is something wrong with a cell, or with the part where key is "".
type wrongCell struct {
	Key     string `json:"key"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
}

// beside are the files of the request but for the reader's own parts.
func (r *request) beside() []field.Source {
	return slices.DeleteFunc(r.sources(), func(s field.Source) bool { return s.Name == OwnName })
}

// own reads drafts beside the files of the request.
func own(r *request) *ownParts {
	list, made := catalog.CheckDrafts(OwnName, r.Drafts, r.beside()...)
	out := &ownParts{Rows: newOwnRows(list)}
	if made.Data != nil {
		out.File = &file{made.Name, made.Data}
	}
	return out
}

func newOwnRows(list []catalog.Checked) []ownRow {
	out := []ownRow{}
	for _, c := range list {
		row := ownRow{ID: c.ID, Said: c.Said, Wrong: []wrongCell{}, Copied: c.Copied}
		for _, w := range c.Wrong {
			row.Wrong = append(row.Wrong, wrongCell{w.Key, w.Problem.Message, w.Problem.Hint})
		}
		out = append(out, row)
	}
	return out
}

// saveOwn is the drafts in which nothing is wrong as a file.
func saveOwn(r *request) (*saved, error) {
	_, made := catalog.CheckDrafts(OwnName, r.Drafts, r.beside()...)
	if made.Data == nil {
		return nil, field.Problems{{Message: "there is no part of your own without a mistake", Hint: "put right what is marked in the tables"}}
	}
	if r.What == "own" {
		return &saved{OwnName, string(made.Data)}, nil
	}
	text, err := catalog.SheetOf(made, r.Kind)
	return &saved{r.Kind + ".csv", string(text)}, err
}
