package catalog

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"

	"gearsearch/catalog/field"
)

// What is written here reads back as the same catalog: the same title,
// currency and parts, every number to the last bit. It is not the same text:
// the comments of TOML files are not kept, nor is the order of parts, which
// are written by id, and a family is written out as the parts that it stands
// for. A table with ranges is written as it was, if all its parts are there and
// none was changed.

// WriteTOML writes the catalog as one TOML file: kinds in the order of the
// catalog format, parts by id, keys in the order of their kind, each number in
// as few digits as read back the same. Comments are not kept, and families
// are written out part by part, unless they have ranges.
func (c *Catalog) WriteTOML(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintln(out, "schema = 1")
	if c.Title != "" {
		fmt.Fprintf(out, "title = %s\n", field.TOML(c.Title))
	}
	fmt.Fprintf(out, "currency = %s\n", field.TOML(c.currency()))
	for _, k := range registry {
		name := k.info().Name
		for row := range writtenRows(k, c, false) {
			fmt.Fprintf(out, "\n[[%s]]\n", name)
			for in, v := range row {
				if v != nil && !implied(in, v) {
					fmt.Fprintf(out, "%s = %s\n", in.Key, field.TOML(v))
				}
			}
		}
	}
	return out.Flush()
}

// currency is the catalog's, also of one that was made without.
func (c *Catalog) currency() string {
	if c.Currency == "" {
		return defaultCurrency
	}
	return c.Currency
}

// implied reports whether absence means the same as the value: a part knows
// how many pieces its price buys even where that is not given.
func implied(in *field.Info, v any) bool {
	n, ok := v.(int)
	return ok && in.Key == "sold_in" && strconv.Itoa(n) == in.Default
}

// CSVFiles is the catalog as the files of a directory: catalog.csv with the
// title and the currency, and for each kind that has parts one file, as
// WriteCSV writes it.
func (c *Catalog) CSVFiles() []Source {
	head := [][]string{{"title", "currency"}, {field.Cell(c.Title), field.Cell(c.currency())}}
	files := []Source{csvSource(headName, slices.Values(head))}
	for _, k := range registry {
		if k.count(c) > 0 {
			files = append(files, csvSource(k.info().Name, rows(c, k)))
		}
	}
	return files
}

// csvSource is rows as a file in memory, where writing does not fail.
func csvSource(name string, rows iter.Seq[[]string]) Source {
	var b bytes.Buffer
	_ = writeRows(&b, rows)
	return Source{Name: name + ".csv", Data: b.Bytes()}
}

// WriteCSV writes the parts of a kind as a CSV file (RFC 4180, decimal points)
// that reads back as the same parts: a header row with all keys of the kind,
// then the parts by id, a table with ranges in one row. A text that a spreadsheet would run as a formula has an
// apostrophe put before it, which reading takes away (field.Cell). An unknown
// kind is an error.
func (c *Catalog) WriteCSV(w io.Writer, kindName string) error {
	k, ok := kindNamed(kindName)
	if !ok {
		return fmt.Errorf("no kind of parts %s", field.Quote(kindName))
	}
	return writeRows(w, rows(c, k))
}

// rows yields the keys of a kind and below them its parts. A row is good until
// the next.
func rows(c *Catalog, k kind) iter.Seq[[]string] {
	return func(yield func([]string) bool) {
		var row []string
		for _, f := range k.info().Fields {
			row = append(row, f.Key)
		}
		if !yield(row) {
			return
		}
		for values := range writtenRows(k, c, true) {
			row = row[:0]
			for _, v := range values {
				row = append(row, field.Cell(v))
			}
			if !yield(row) {
				return
			}
		}
	}
}

func writeRows(w io.Writer, rows iter.Seq[[]string]) error {
	out := csv.NewWriter(w)
	for row := range rows {
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
