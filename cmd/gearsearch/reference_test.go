package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/answer/reference"
)

// TestReferencePages holds the pages in docs to what the command prints. With
// -update it writes them anew.
func TestReferencePages(t *testing.T) {
	for _, name := range reference.Names() {
		file := filepath.Join("docs", name+".md")
		page := answered(t, "reference "+name)
		if *update {
			if err := os.WriteFile(file, []byte(page), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(page, string(got)); d != "" {
			t.Errorf("%s differs from gearsearch reference %s (-program +file); -update writes it anew:\n%s", file, name, d)
		}
	}
}

// TestReferenceTables: every row of a table has as many cells as its head, so that
// no text of a row breaks it.
func TestReferenceTables(t *testing.T) {
	rows := 0
	for _, name := range reference.Names() {
		cells := 0
		for line := range strings.Lines(answered(t, "reference "+name)) {
			n := strings.Count(strings.ReplaceAll(line, `\|`, ""), "|")
			switch {
			case n == 0:
				cells = 0
			case cells == 0:
				cells = n
			case n != cells:
				t.Errorf("%s: %d cells, not %d: %s", name, n-1, cells-1, line)
			default:
				rows++
			}
		}
	}
	if rows < 200 {
		t.Errorf("only %d rows looked at", rows)
	}
}

// demoBuild stands for the file of a build of demo parts.
const demoBuild = "BUILD"

// shapeLines run an answer in every form that its page tells of.
var shapeLines = map[string][]string{
	"rank": {
		"rank --top 2 --front price,top_speed_kmh --stability --tolerance --draws 20" + shop, "rank --top 1 --keep motor=surplus-150",
	},
	"share": {"rank --brief demo:harbour --brief demo:sunday --share motor --top 1"},
	"chart": {"rank --chart teeth" + shop},
	"sheet": {"sheet testdata/shop/build.toml --why --tolerance --draws 20" + shop, "sheet testdata/shop/build.toml --route demo:forest --set rider.mass_kg=130 --set limit.demote=route,route-heat" + shop},
	"swap":  {"swap testdata/shop/build.toml --change wheel,motor --all --price-limit 900" + shop, "swap " + demoBuild + " --all"},
	"vary":  {"vary testdata/shop/build.toml --kv 180 --charge full --top-speed 34km/h --erpm-ceiling 47000" + shop},
	"shortlist": {
		"shortlist motor" + shop,
	},
	"relax": {"relax --top-speed 63km/h" + shop},
	"ideal": {"ideal" + shop},
	"route": {"route testdata/shop/way.gpx", "route demo:harbour"},
	"fit":   {"fit testdata/shop/build.toml testdata/shop/out.csv testdata/shop/back.csv testdata/shop/monday.csv --direction testdata/shop/out.csv=out --direction testdata/shop/back.csv=back" + shop},
	"ride":  {"plot testdata/shop/build.toml route --route demo:harbour" + shop},
	"parts": {"parts testdata/shop/build.toml" + shop, "parts " + demoBuild, "parts testdata/made/build.toml --catalog testdata/made/parts.toml --brief testdata/made/brief.toml"},
}

// TestDataPage: each key of each answer stands on the page, and each key on the page
// is in an answer.
func TestDataPage(t *testing.T) {
	seen := map[string]bool{}
	build := filepath.Join(t.TempDir(), "build.toml")
	answered(t, "rank --top 1 --format json --save 1="+build)
	for _, s := range reference.Shapes() {
		if s.Title == "" {
			continue
		}
		lines := shapeLines[s.Name]
		if len(lines) == 0 {
			t.Errorf("%s: no command line", s.Name)
		}
		for _, line := range lines {
			line = strings.ReplaceAll(line, demoBuild, build)
			var document any
			if err := json.Unmarshal([]byte(answered(t, line+" --format json")), &document); err != nil {
				t.Fatalf("%s: %v", line, err)
			}
			onDataPage(t, line, s, document, seen)
		}
	}
	for _, s := range reference.Shapes() {
		for _, k := range s.Keys {
			if !seen[s.Title+s.Name+"."+k.Name] {
				t.Errorf("no answer has %s of %s", k.Name, s.Name)
			}
		}
	}
}

// onDataPage looks for the keys of a value on the page.
func onDataPage(t *testing.T, line string, s reference.Shape, value any, seen map[string]bool) {
	switch v := value.(type) {
	case []any:
		for _, x := range v {
			onDataPage(t, line, s, x, seen)
		}
	case map[string]any:
		if s.Keys == nil {
			return
		}
		for key, x := range v {
			place := s.Title + s.Name + "." + key
			i := slices.IndexFunc(s.Keys, func(k reference.Key) bool { return k.Name == key })
			if i < 0 {
				if !seen[place] {
					t.Errorf("gearsearch %s: %s has a key %s that is not on the page", line, s.Name, key)
				}
				seen[place] = true
				continue
			}
			seen[place] = true
			of := s.Keys[i].Of
			shape, ok := reference.ShapeNamed(of, false)
			if of == "" {
				if holdsObject(x) {
					t.Errorf("gearsearch %s: %s.%s is made of something that the page does not name", line, s.Name, key)
				}
				continue
			}
			if !ok {
				t.Fatalf("%s.%s is made of %s, which is not on the page", s.Name, key, of)
			}
			onDataPage(t, line, shape, x, seen)
		}
	}
}

// holdsObject reports whether a value is an object, or a list with one.
func holdsObject(value any) bool {
	switch v := value.(type) {
	case map[string]any:
		return true
	case []any:
		return slices.ContainsFunc(v, holdsObject)
	}
	return false
}
