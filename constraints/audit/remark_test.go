package audit_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints/audit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Nothing in the starter is unlikely or idle, and it leaves no check open;
// with all that stands behind a "#" nothing is unlikely either.
func TestStarterIsSound(t *testing.T) {
	parts, _ := catalog.Starter()
	c, err := catalog.Read(parts)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range append(audit.Doubts(c), audit.Idle(c)...) {
		t.Error(r.Kind, r.IDs, found(r))
	}
	for _, g := range audit.Gaps(c) {
		if len(g.Checks) > 0 {
			t.Errorf("%s of %v leaves %v open", g.Key, g.IDs, g.Checks)
		}
	}
	for _, r := range audit.Doubts(readParts(t, strings.Join(allTaught(), "\n"))) {
		t.Error(r.Kind, r.IDs, found(r))
	}
}

// allTaught are the lines of the starter with those behind a "#" taken in.
func allTaught() []string {
	taught := regexp.MustCompile(`^#(\[\[|[a-z_0-9]+ = )`)
	parts, _ := catalog.Starter()
	var out []string
	for line := range strings.Lines(strings.Replace(string(parts.Data), "schema = 1", "", 1)) {
		line = strings.TrimSpace(line)
		if taught.MatchString(line) {
			line = line[1:]
		}
		out = append(out, line)
	}
	return out
}

// drawTables draws parts: those of the starter with all keys, some optional keys
// left out, and some numbers anywhere in their ranges.
func drawTables(t *rapid.T) (head string, tables []string) {
	fields := map[string]field.Info{}
	for _, k := range catalog.Kinds() {
		for _, f := range k.Fields {
			fields[k.Name+"."+f.Key] = f
		}
	}
	kind, last := "", -1
	for _, line := range allTaught() {
		if header, ok := strings.CutPrefix(line, "[["); ok {
			kind, last = strings.Trim(header, "[] "), last+1
			tables = append(tables, line+"\n")
			continue
		}
		key, value, ok := strings.Cut(line, " = ")
		f := fields[kind+"."+key]
		switch {
		case !ok:
			continue
		case last < 0:
			head += line + "\n"
			continue
		case f.Required || strings.Contains(value, "[") || slices.Contains([]string{"cell", "ratio", "driver_teeth", "driven_teeth", "awg", "area_mm2", "nominal_v", "full_v", "cutoff_v", "rated_a", "breaking_a", "discharge_a", "balance", "balance_ma", "cell_full_v", "cell_cutoff_v"}, key):
		case rapid.IntRange(0, 4).Draw(t, key) == 0:
			continue
		case f.Type == field.TypeNumber && rapid.IntRange(0, 3).Draw(t, key) == 0:
			line = fmt.Sprintf("%s = %.5g", key, f.Min+rapid.Float64Range(0.0001, 1).Draw(t, key)*(f.Max-f.Min))
		}
		tables[last] += line + "\n"
	}
	return head, tables
}

// Whatever is allowed can be remarked on: in order, with places and numbers, and
// the same in whatever order the parts stand.
func TestRemarks(t *testing.T) {
	codes := map[audit.Code]bool{}
	rapid.Check(t, func(t *rapid.T) {
		head, tables := drawTables(t)
		said := func(tables []string) (out []string) {
			c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte("schema = 1\n" + head + strings.Join(tables, ""))})
			if err != nil {
				t.Fatal(err)
			}
			for _, list := range [][]audit.Remark{audit.Doubts(c), audit.Idle(c)} {
				last := 0
				for _, r := range list {
					_, line, _ := r.At.Position()
					if line < last || line < 1 || len(r.IDs) == 0 || r.Basis == "" || r.Code == "" {
						t.Fatalf("out of order, or without a place: %+v", r)
					}
					last = line
					codes[r.Code] = true
					if wrong := unsound(r); wrong != "" {
						t.Fatal(wrong)
					}
					out = append(out, r.Kind+" "+strings.Join(r.IDs, " ")+" "+r.Key+": "+found(r))
				}
			}
			for _, g := range audit.Gaps(c) {
				out = append(out, fmt.Sprint(g.Kind, g.Key, g.IDs, g.Checks, g.Instead.Stand, g.Instead.Number, g.Instead.Word))
			}
			slices.Sort(out)
			return out
		}
		shuffled := rapid.Permutation(tables).Draw(t, "order")
		if diff := cmp.Diff(said(tables), said(shuffled)); diff != "" {
			t.Fatalf("the order of parts changes what is said:\n%s", diff)
		}
	})
	if len(codes) < 15 {
		t.Errorf("only %d codes: %v", len(codes), codes)
	}
}

// found is what a remark says: its code and its quantities.
func found(r audit.Remark) string {
	out := string(r.Code)
	for _, q := range r.Quantities {
		if q.Names != nil {
			out += " " + strings.Join(q.Names, ",")
		} else {
			out += " " + field.FormatNumber(q.Digits.Round(q.SI*q.PerSI))
		}
	}
	return out
}

// place is where a remark stands.
func place(r audit.Remark) string { return field.Position(r.At.Position()) }

// unsound says what is wrong with a remark's quantities: a number that is none,
// where the code has no words for one that is not known.
func unsound(r audit.Remark) string {
	for i, q := range r.Quantities {
		unknown := math.IsNaN(q.SI) && (r.Code == audit.NothingOnShaft || r.Code == audit.NoChemistry && i == 2)
		if q.Names == nil && !unknown && (math.IsNaN(q.SI) || math.IsInf(q.SI, 0)) {
			return fmt.Sprintf("%v %s has no number at %d", r.IDs, found(r), i)
		}
	}
	return ""
}

// FuzzAudit says all there is to say of any bytes that read as a catalog: it
// must never panic, and each remark has its part and its numbers.
func FuzzAudit(f *testing.F) {
	starter, _ := catalog.Starter()
	f.Add(starter.Data)
	f.Add([]byte("schema = 1\n" + strings.Join(allTaught(), "\n")))
	for _, s := range catalog.DemoSources() {
		f.Add(s.Data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := catalog.Read(catalog.Source{Name: "fuzz.toml", Data: data})
		if err != nil {
			return
		}
		audit.Gaps(c)
		for _, r := range append(audit.Doubts(c), audit.Idle(c)...) {
			if wrong := unsound(r); wrong != "" || len(r.IDs) == 0 {
				t.Errorf("%+v: %s", r, wrong)
			}
		}
	})
}

// To say what can be in no build must not try each part with each, whatever
// the catalog: here are pulleys, belts and mounts of thousands of sizes of
// which the mounts hold none.
func TestManySizes(t *testing.T) {
	if testing.Short() {
		t.Skip("tries ten million combinations")
	}
	var b bytes.Buffer
	for i := range 3000 {
		fmt.Fprintf(&b, "[[pulley]]\nid = \"s-%d\"\nside = \"motor\"\nprofile = \"htd-5m\"\nteeth = %d\nwidth_mm = %d.%d\n", i, 10+i%30, 10+i/300, i%300)
		fmt.Fprintf(&b, "[[pulley]]\nid = \"l-%d\"\nside = \"wheel\"\nprofile = \"htd-5m\"\nteeth = %d\nwidth_mm = %d.%d\n", i, 40+i%90, 10+i/300, i%300)
		fmt.Fprintf(&b, "[[belt]]\nid = \"b-%d\"\nprofile = \"htd-5m\"\nteeth = %d\nwidth_mm = 9\n", i, 100+i%2900)
		fmt.Fprintf(&b, "[[mount]]\nid = \"m-%d\"\ncentre_min_mm = %d.5\ncentre_max_mm = %d.5\n", i, 5+i/100, 6+i/100)
	}
	c := readParts(t, b.String())
	start := time.Now()
	audit.Idle(c)
	audit.Doubts(c)
	if took := time.Since(start); took > 20*time.Second {
		t.Errorf("took %v", took)
	}
}
