package catalog

import (
	"encoding/csv"
	"io"
	"slices"

	"gearsearch/catalog/field"
)

// WriteSheet writes the catalog as one sheet whose column kind says what each row is,
// with what separates its cells, a comma or a tab. It reads back as the same catalog:
// kinds in the order of the format, parts by id, and a column for each key that a
// part gives. A title, and a currency other than the usual one, have a row of their
// own, of kind catalog.
func (c *Catalog) WriteSheet(w io.Writer, comma rune) error {
	out := csv.NewWriter(w)
	out.Comma = comma
	keys := c.givenKeys()
	if c.head() {
		keys = append([]string{"title", "currency"}, keys...)
	}
	columns := map[string]int{}
	for i, key := range keys {
		columns[key] = i + 1
	}
	row := append([]string{KindColumn}, keys...)
	if err := out.Write(row); err != nil {
		return err
	}
	if c.head() {
		clear(row)
		row[0], row[1], row[2] = headName, field.Cell(c.Title), field.Cell(c.currency())
		if err := out.Write(row); err != nil {
			return err
		}
	}
	for _, k := range registry {
		for values := range writtenRows(k, c, true) {
			clear(row)
			row[0] = k.info().Name
			for in, v := range values {
				if at, ok := columns[in.Key]; ok {
					row[at] = field.Cell(v)
				}
			}
			if err := out.Write(row); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

// head reports whether the catalog has a title, or another currency than the usual.
func (c *Catalog) head() bool { return c.Title != "" || c.currency() != defaultCurrency }

// givenKeys are the keys that a part gives, those that all kinds have first.
func (c *Catalog) givenKeys() []string {
	var keys []string
	given := map[string]bool{}
	for _, k := range registry {
		for values := range writtenRows(k, c, true) {
			for in, v := range values {
				given[in.Key] = given[in.Key] || v != nil && !implied(in, v)
			}
		}
	}
	for _, key := range allKeys() {
		if given[key] && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}
