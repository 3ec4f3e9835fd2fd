package catalog

import (
	"bytes"
	"encoding/csv"
	"errors"
	"strconv"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"
)

func writeTOML(t rapid.TB, c *Catalog) Source {
	t.Helper()
	var b bytes.Buffer
	if err := c.WriteTOML(&b); err != nil {
		t.Fatal(err)
	}
	return Source{Name: "written.toml", Data: b.Bytes()}
}

// From TOML to CSV and back nothing is lost, and writing twice gives the same
// bytes.
func TestConvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := toTOML(genCatalog(t))
		title := genText(`[-A-Za-z0-9"'\\=+@;ä ]{1,12}`).Draw(t, "title")
		currency := rapid.SampledFrom([]string{"EUR", "GBP", "=X", "'€"}).Draw(t, "currency")
		head := "title = " + tomlValue(title) + "\ncurrency = " + tomlValue(currency) + "\n"
		c, err := Read(Source{Name: "a.toml", Data: append([]byte(head), src.Data...)})
		if err != nil {
			t.Fatal(err)
		}
		written := writeTOML(t, c)
		for why, files := range map[string][]Source{"TOML": {written}, "CSV": c.CSVFiles(), "a spreadsheet": spreadsheet(t, c.CSVFiles())} {
			again, err := Read(files...)
			if err != nil {
				t.Fatalf("%s: %v", why, err)
			}
			if diff := cmp.Diff(c, again, sameParts); diff != "" {
				t.Fatalf("%s loses something (-read +written and read):\n%s", why, diff)
			}
			if diff := cmp.Diff(string(written.Data), string(writeTOML(t, again).Data)); diff != "" {
				t.Fatalf("TOML after %s differs:\n%s", why, diff)
			}
		}
	})
}

// spreadsheet is CSV files as a spreadsheet writes them where the comma is the
// decimal mark.
func spreadsheet(t *rapid.T, files []Source) []Source {
	mark := rapid.SampledFrom([]rune{';', '\t'}).Draw(t, "separator")
	var out []Source
	for _, f := range files {
		rows, err := csv.NewReader(bytes.NewReader(f.Data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		numeric := map[string]bool{}
		for _, k := range Kinds() {
			for _, in := range k.Fields {
				numeric[k.Name+"."+in.Key] = in.Type == field.TypeNumber
			}
		}
		for _, row := range rows[1:] {
			for i := range row {
				if numeric[strings.TrimSuffix(f.Name, ".csv")+"."+rows[0][i]] {
					row[i] = strings.Replace(row[i], ".", ",", 1)
				}
				row[i] = strings.ReplaceAll(strings.ReplaceAll(row[i], "true", "TRUE"), "false", "FALSE")
			}
		}
		var b bytes.Buffer
		b.WriteString("\xef\xbb\xbf")
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = mark, true
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		out = append(out, Source{Name: f.Name, Data: b.Bytes()})
	}
	return out
}

// What WriteTOML writes is TOML for another reader too, with the same values.
func TestWrittenTOML(t *testing.T) {
	demo, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := toml.Unmarshal(writeTOML(t, demo).Data, &doc); err != nil {
		t.Fatal(err)
	}
	if doc["schema"] != int64(1) || doc["title"] != demo.Title || doc["currency"] != "EUR" {
		t.Errorf("head: %v %v %v", doc["schema"], doc["title"], doc["currency"])
	}
	read := 0
	for _, k := range Kinds() {
		list, _ := doc[k.Name].([]any)
		for _, item := range list {
			read++
			table := item.(map[string]any)
			for in, want := range demo.Values(k.Name, table["id"].(string)) {
				got := decoded(table[in.Key])
				if in.Key == "sold_in" && got == "" {
					continue // as many as for any part of the kind
				}
				if want := field.Cell(want); got != want {
					t.Errorf("%s of %s: %v, want %v", in.Key, table["id"], got, want)
				}
			}
		}
	}
	total := 0
	for range demo.Parts() {
		total++
	}
	if read != total {
		t.Errorf("%d parts are written of %d", read, total)
	}
}

// decoded is a value of another TOML reader as a CSV cell.
func decoded(v any) string {
	switch v := v.(type) {
	case int64:
		return strconv.FormatInt(v, 10)
	case []any:
		var items []string
		for _, item := range v {
			items = append(items, decoded(item))
		}
		return strings.Join(items, field.ListSeparator)
	}
	return field.Cell(v)
}

// A catalog reads as it is written, to the last byte.
func TestWriteTOML(t *testing.T) {
	c := read(t, `
title = 'My "own" \ parts'
# a comment
[[wheel]]
id = "w"
diameter_mm = [97, 107.50]
hub = ["five", "eight"]
sold_in = 4
tyre = "urethane"
[[motor]]
id = "m"
kv = 190
resistance_mohm = 48.5
shaft_mm = 0x8
sold_in = 2
sensored = false
owned = false
note = '=1+1'
[[gear_drive]]
id = "g"
driver_teeth = 13
driven_teeth = 36
fits_wheels = "w-97"
[[wire]]
id = "lead"
awg = 10
`)
	want := `schema = 1
title = "My \"own\" \\ parts"
currency = "EUR"

[[motor]]
id = "m"
sold_in = 2
note = "=1+1"
kv = 190
resistance_mohm = 48.5
shaft_mm = 8
sensored = false

[[gear_drive]]
id = "g"
driver_teeth = 13
driven_teeth = 36
fits_wheels = ["w-97"]

[[wheel]]
id = "w-107.5"
diameter_mm = 107.5
hub = ["five", "eight"]
tyre = "urethane"

[[wheel]]
id = "w-97"
diameter_mm = 97
hub = ["five", "eight"]
tyre = "urethane"

[[wire]]
id = "lead"
awg = 10
`
	if diff := cmp.Diff(want, string(writeTOML(t, c).Data)); diff != "" {
		t.Errorf("TOML (-want +got):\n%s", diff)
	}
	var names []string
	for _, f := range c.CSVFiles() {
		names = append(names, f.Name)
	}
	if diff := cmp.Diff([]string{"catalog.csv", "motor.csv", "gear_drive.csv", "wheel.csv", "wire.csv"}, names); diff != "" {
		t.Errorf("CSV files (-want +got):\n%s", diff)
	}
	if motor := c.CSVFiles()[1].Data; !bytes.Contains(motor, []byte(",'=1+1,")) {
		t.Errorf("a formula is written as it is:\n%s", motor)
	}
}

// A catalog that was made in memory is written so that it can be read, or not
// at all: nothing in a text can end it.
func TestWriteTOMLOfStrangeText(t *testing.T) {
	for _, text := range []string{"a\"b", "a\nb", "a\\", "\x00\x1b[2J", "\u202e", "\xff"} {
		c := &Catalog{Remotes: []*Remote{{Part: Part{ID: "r", Note: text, SoldIn: 1}}}}
		var doc map[string]any
		if err := toml.Unmarshal(writeTOML(t, c).Data, &doc); err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		want := strings.ToValidUTF8(text, "\ufffd")
		if got := doc["remote"].([]any)[0].(map[string]any)["note"]; got != want {
			t.Errorf("%s is written as %q", strconv.Quote(text), got)
		}
	}
}

// brokenPipe takes a number of bytes and then no more.
type brokenPipe struct{ room int }

var errBroken = errors.New("broken pipe")

func (w *brokenPipe) Write(b []byte) (int, error) {
	if w.room -= len(b); w.room < 0 {
		return 0, errBroken
	}
	return len(b), nil
}

func TestWriteErrors(t *testing.T) {
	demo, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{0, 10, 5000} {
		if err := demo.WriteTOML(&brokenPipe{room}); !errors.Is(err, errBroken) {
			t.Errorf("TOML into %d bytes: %v", room, err)
		}
	}
	if err := demo.WriteCSV(&brokenPipe{10}, "motor"); !errors.Is(err, errBroken) {
		t.Errorf("CSV into 10 bytes: %v", err)
	}
	if err := demo.WriteCSV(&bytes.Buffer{}, "bolt"); err == nil || !strings.Contains(err.Error(), `no kind of parts "bolt"`) {
		t.Errorf("CSV of no kind: %v", err)
	}
}
