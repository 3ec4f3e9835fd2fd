package catalog

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// spreadOut is a part with ranges and lists in some of its keys: written as it is, and
// written part by part.
type spreadOut struct {
	written
	ranges  map[string]string    // key: the range
	several map[string][]float64 // key: what its range or list stands for
	single  []written            // the parts that it stands for, in order
}

// genRanges turns some numeric keys of a part into ranges, and some into lists, from
// their value on.
func genRanges(t *rapid.T, k KindInfo, w written) spreadOut {
	out := spreadOut{written: w, ranges: map[string]string{}, several: map[string][]float64{}}
	lists := rapid.SampledFrom([]int{0, 0, 2, 3}).Draw(t, "lists")
	total := 1
	for _, key := range w.keys {
		in := k.Field(key)
		x, number := w.values[key].(float64)
		if !number || !in.Family || tied(w.kind, key) || !rapid.Bool().Draw(t, key+" spreads") {
			continue
		}
		step := 1.0
		if in.Type == field.TypeNumber {
			step = rapid.SampledFrom([]float64{0.01, 0.25, 1, 0.125}).Draw(t, "step")
		}
		listed := lists > 0 && rapid.Bool().Draw(t, "a list")
		n := rapid.IntRange(1, 3).Draw(t, "n")
		if listed {
			n = lists
		}
		round := func(x float64) float64 {
			y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', 3, 64), 64)
			return y
		}
		var xs []float64
		for i := range n {
			xs = append(xs, round(round(x)+float64(i)*step))
		}
		if xs[0] <= in.Min || xs[n-1] > in.Max || !listed && total*n > 40 {
			continue
		}
		out.several[key] = xs
		if !listed {
			total *= n
			out.ranges[key] = fmt.Sprintf("%s..%s/%s", plain(xs[0]), plain(xs[n-1]), plain(step))
		}
	}
	out.expand(w)
	return out
}

// tied are keys that others must agree with.
func tied(kind, key string) bool {
	switch kind + "." + key {
	case "battery.series", "battery.nominal_v", "battery.full_v", "battery.cutoff_v", "cell.cutoff_v", "cell.nominal_v", "cell.full_v",
		"mount.centre_min_mm", "mount.centre_max_mm", "bms.cell_full_v", "bms.cell_cutoff_v", "fuse.rated_a", "fuse.breaking_a":
		return true
	}
	return false
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// expand writes the parts out one by one: nested loops over the keys in the order
// written, all lists in one loop where the first of them stands.
func (s *spreadOut) expand(w written) {
	parts := []written{w}
	listed := false
	for _, key := range w.keys {
		xs, spread := s.several[key]
		_, ranged := s.ranges[key]
		if !spread || !ranged && listed {
			continue
		}
		listed = listed || !ranged
		var next []written
		for _, p := range parts {
			for i := range xs {
				q := written{p.kind, p.keys, map[string]any{}}
				for k, v := range p.values {
					q.values[k] = v
				}
				q.values[key] = xs[i]
				if !ranged {
					for other, ys := range s.several {
						if _, r := s.ranges[other]; !r {
							q.values[other] = ys[i]
						}
					}
				}
				next = append(next, q)
			}
		}
		parts = next
	}
	s.single = parts
}

// text is the part as a table of TOML.
func (s *spreadOut) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "[[%s]]\n", s.kind)
	for _, key := range s.keys {
		switch xs, spread := s.several[key]; {
		case s.ranges[key] != "":
			fmt.Fprintf(&b, "%s = %q\n", key, s.ranges[key])
		case spread:
			var items []string
			for _, x := range xs {
				items = append(items, plain(x))
			}
			fmt.Fprintf(&b, "%s = [%s]\n", key, strings.Join(items, ", "))
		default:
			fmt.Fprintf(&b, "%s = %s\n", key, tomlValue(s.values[key]))
		}
	}
	return b.String()
}

// A catalog written as ranges is the same written part by part; and what is written of
// it has its ranges again, as TOML, as CSV and as drafts.
func TestRangesArePartByPart(t *testing.T) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		kinds := Kinds()
		var asRanges, asTables bytes.Buffer
		asRanges.WriteString("schema = 1\n")
		ranges := 0
		ids := map[string][]string{}
		for n := range rapid.IntRange(1, 4).Draw(t, "tables") {
			k := rapid.SampledFrom(kinds).Draw(t, "kind")
			w := genPart(t, k, fmt.Sprintf("part-%d", n), ids)
			if w.values["fits_motors"] != nil || w.values["fits_wheels"] != nil {
				continue
			}
			s := genRanges(t, k, w)
			ranges += len(s.ranges)
			asRanges.WriteString(s.text())
			for i, p := range s.single {
				if len(s.several) > 0 {
					p.values["id"] = fmt.Sprintf("single-%d-%05d", n, i)
				}
				asTables.WriteString(strings.TrimPrefix(string(toTOML([]written{p}).Data), "schema = 1\n"))
			}
		}
		seen += ranges
		c, err := Read(Source{Name: "ranges.toml", Data: asRanges.Bytes()})
		if err != nil {
			t.Fatalf("%v\n%s", err, asRanges.Bytes())
		}
		single, err := Read(Source{Name: "single.toml", Data: append([]byte("schema = 1\n"), asTables.Bytes()...)})
		if err != nil {
			t.Fatalf("%v\n%s", err, asTables.Bytes())
		}
		sameButIDs(t, c, single, asRanges.Bytes())
		writtenAgain(t, c, ranges)
	})
	if seen < 10 {
		t.Errorf("only %d ranges were drawn", seen)
	}
}

// sameButIDs holds the parts of two catalogs to the same values: those of one sorted
// by id, which grew something, those of the other numbered in the order of the tables.
func sameButIDs(t *rapid.T, c, single *Catalog, text []byte) {
	values := func(e Entry) string {
		var b strings.Builder
		fmt.Fprintf(&b, "%s:", e.Kind)
		for in, v := range e.Values() {
			if in.Key != "id" && v != nil {
				fmt.Fprintf(&b, " %s=%s", in.Key, field.TOML(v))
			}
		}
		return b.String()
	}
	ordered := func(c *Catalog, key func(p *Part) string) map[string]string {
		out := map[string]string{}
		for e := range c.Entries() {
			out[key(e.Part)] = values(e)
		}
		return out
	}
	got := ordered(c, func(p *Part) string {
		if p.Family == "" {
			return p.ID
		}
		return fmt.Sprintf("single-%s-%05d", strings.TrimPrefix(p.Family, "part-"), p.member)
	})
	want := ordered(single, func(p *Part) string { return p.ID })
	if d := cmp.Diff(want, got); d != "" {
		t.Fatalf("ranges differ from parts one by one (-single +ranges):\n%s\n%s", d, text)
	}
}

// writtenAgain holds what is written of a catalog to the same parts, families and
// ranges.
func writtenAgain(t *rapid.T, c *Catalog, ranges int) {
	var toml, sheets bytes.Buffer
	if err := c.WriteTOML(&toml); err != nil {
		t.Fatal(err)
	}
	files := c.CSVFiles()
	for _, f := range files {
		sheets.Write(f.Data)
	}
	if n := strings.Count(toml.String(), `..`); n < ranges {
		t.Fatalf("%d of %d ranges are written:\n%s", n, ranges, toml.String())
	}
	src := Source{Name: "written.toml", Data: toml.Bytes()}
	drafts, err := Drafts(src)
	if err != nil {
		t.Fatal(err)
	}
	list, own := CheckDrafts("own.toml", drafts)
	for _, d := range list {
		if len(d.Wrong) > 0 {
			t.Fatalf("a draft is wrong: %v\n%s", d.Wrong[0].Problem, toml.Bytes())
		}
	}
	for why, files := range map[string][]Source{"TOML": {src}, "CSV": files, "drafts": {own}} {
		again, err := Read(files...)
		if err != nil {
			t.Fatalf("%s: %v\n%s\n%s", why, err, toml.Bytes(), sheets.Bytes())
		}
		// Drafts have numbers in as many digits as people are shown.
		if diff := cmp.Diff(c, again, sameParts); diff != "" && why != "drafts" {
			t.Fatalf("%s loses something (-read +written and read):\n%s\n%s", why, diff, toml.Bytes())
		}
		if diff := cmp.Diff(rangedFamilies(c, why != "TOML"), rangedFamilies(again, why != "TOML")); diff != "" {
			t.Fatalf("%s loses families:\n%s\n%s", why, diff, toml.Bytes())
		}
	}
}

// rangedFamilies are the ids of the parts of tables with ranges with those of their
// families; but for those numbered, which columns may take apart.
func rangedFamilies(c *Catalog, columns bool) map[string]string {
	out := map[string]string{}
	for _, p := range c.Parts() {
		if numbered := p.ID == fmt.Sprintf("%s-%d", p.Family, p.member+1); p.table != nil && !(columns && numbered) {
			out[p.ID] = p.Family
		}
	}
	return out
}

// TestRangesWritten: what stands in the file stands in what is written.
func TestRangesWritten(t *testing.T) {
	const text = `schema = 1
currency = "EUR"

[[cell]]
id = "c"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 3
capacity_ah = 4

[[battery]]
id = "pack"
cell = "c"
series = "8..14"
parallel = "2..6"

[[pulley]]
id = "printed"
side = "wheel"
profile = "htd-5m"
hub = ["five", "six"]
width_mm = [9, 15]
bore_mm = [8, 10]
teeth = "12..80"

[[wheel]]
id = "w"
width_mm = 50
diameter_mm = "80..90/5"
price = "20..30/5"

[[wheel]]
id = "x"
width_mm = 50
diameter_mm = "80..100/5"
`
	c, err := Read(Source{Name: "parts.toml", Data: []byte(text)})
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"pack-8s2p", "pack-14s6p", "printed-1", "printed-138", "w-1", "w-9", "x-80", "x-100"} {
		if _, _, ok := c.Find(id); !ok {
			t.Errorf("there is no %s", id)
		}
	}
	if d := cmp.Diff(text, string(writeTOML(t, c).Data)); d != "" {
		t.Errorf("written differently (-read +written):\n%s", d)
	}
	sheets := map[string]string{}
	for _, f := range c.CSVFiles() {
		sheets[f.Name] = string(f.Data)
	}
	for name, want := range map[string]string{
		"battery.csv": ",8..14,2..6,c,",
		"wheel.csv":   "\nw-1,,20,", // the columns stand in another order, and its ids are numbers
	} {
		if !strings.Contains(sheets[name], want) {
			t.Errorf("%s has no %q:\n%s", name, want, sheets[name])
		}
	}
	drafts, err := Drafts(Source{Name: "parts.toml", Data: []byte(text)})
	if err != nil {
		t.Fatal(err)
	}
	if len(drafts) != 1+1+138+9+1 { // the keys of a draft stand in the order of the kind
		t.Errorf("%d drafts", len(drafts))
	}
	if got := drafts[1].Cells["series"] + " " + drafts[1].Cells["parallel"]; got != "8..14 2..6" {
		t.Errorf("the pack's draft has %s", got)
	}

	// A part that was changed, or taken out, takes the table apart.
	c.Pulleys[3].Price = 12
	c.Batteries = c.Batteries[:len(c.Batteries)-1]
	out := string(writeTOML(t, c).Data)
	if strings.Contains(out, "12..80") || strings.Contains(out, "8..14") || !strings.Contains(out, "80..90/5") {
		t.Errorf("a table that is no longer whole is written as ranges:\n%s", out)
	}
	if n := strings.Count(out, "[[pulley]]"); n != 138 {
		t.Errorf("%d pulleys are written", n)
	}
}

// TestRangePlaces: a part of a range stands where the range does, and its item of a
// list where that does.
func TestRangePlaces(t *testing.T) {
	c, err := Read(Source{Name: "p.toml", Data: []byte("schema = 1\n[[wheel]]\nid = \"w\"\nwidth_mm = [50, 60]\ndiameter_mm = \"80..100/10\"\nprice = 3\n")})
	if err != nil {
		t.Fatal(err)
	}
	places := c.Places()
	for _, tt := range []struct {
		id, key      string
		line, column int
	}{
		{"w-1", "diameter_mm", 5, 15}, {"w-3", "width_mm", 4, 13}, {"w-4", "width_mm", 4, 17}, {"w-6", "width_mm", 4, 17}, {"w-5", "price", 6, 9},
	} {
		if _, line, column := places.At(tt.id, tt.key).Position(); line != tt.line || column != tt.column {
			t.Errorf("%s of %s is at %d:%d, want %d:%d", tt.key, tt.id, line, column, tt.line, tt.column)
		}
	}
}
