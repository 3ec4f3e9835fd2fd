package catalog

import (
	"os"
	"path/filepath"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
)

// FuzzCatalog reads any bytes as a TOML catalog: it must never panic, problems
// always have a place and print cleanly, and parts are fit to be used.
func FuzzCatalog(f *testing.F) {
	eachMistake(f, func(name string, data []byte) {
		if !isSheet(Source{Name: name}) {
			f.Add(data)
		}
	})
	f.Add(parts(6))
	starter, _ := Starter()
	f.Add(starter.Data)
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Read(Source{Name: "fuzz.toml", Data: data})
		checkRead(t, c, err)
		if err == nil {
			checkUse(t, c)
		}
	})
}

// checkUse writes a catalog, which must lose nothing.
func checkUse(t *testing.T, c *Catalog) {
	t.Helper()
	for why, files := range map[string][]Source{"TOML": {writeTOML(t, c)}, "CSV": c.CSVFiles()} {
		again, err := Read(files...)
		if err != nil {
			t.Fatalf("written as %s it has problems: %v", why, err)
		}
		if diff := cmp.Diff(c, again, sameParts); diff != "" {
			t.Fatalf("%s loses something:\n%s", why, diff)
		}
	}
}

// FuzzCSV does the same with CSV of every kind, beside a TOML file with parts
// to refer to.
func FuzzCSV(f *testing.F) {
	eachMistake(f, func(name string, data []byte) {
		for i, kind := range KindNames() {
			if name == kind+".csv" {
				f.Add(i, data)
			}
		}
	})
	f.Add(0, []byte("id,kv,sensored\na,190,TRUE\n"))
	f.Add(2, []byte("\xef\xbb\xbfid;nominal_v;full_v;cutoff_v;capacity_ah;note\r\na;3,6;4,2;2.8;2,5;'=1+1\r\n"))
	f.Add(14, []byte("id\tarea_mm2\nw\t2,5\n"))
	f.Add(7, []byte("id,ratio,fits_motors,hub\ng,1,motor-1|motor-1,\"a \"\"b\"\"|c\"\n"))
	f.Fuzz(func(t *testing.T, kind int, data []byte) {
		name := KindNames()[uint(kind)%uint(len(KindNames()))]
		c, err := Read(Source{Name: "parts.toml", Data: parts(6)}, Source{Name: name + ".csv", Data: data})
		checkRead(t, c, err)
	})
}

// eachMistake visits the files of the archives of mistakes.
func eachMistake(f *testing.F, visit func(name string, data []byte)) {
	paths, _ := filepath.Glob("testdata/mistakes/*.txtar")
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		files := txtar.Parse(data).Files
		for _, file := range files[:len(files)-1] {
			visit(file.Name, file.Data)
		}
	}
}

// FuzzFilter reads any text as a filter: it must never panic, problems print
// cleanly, and what is read is written so that it reads back as the same.
func FuzzFilter(f *testing.F) {
	for _, text := range []string{
		"kv>150 and shaft_mm = 8", "not (owned or sensored) and unknown(price)", `name ~ "6"" long" or hub != 'five'`,
		"kind = wheel and (tyre = pneumatic or diameter_mm >= 150)", "kv > 100 < 200", "((((", "\"", "unknown(", "kv ==1", "kv => 1,5",
	} {
		f.Add(text)
	}
	c, err := Read(Source{Name: "parts.toml", Data: parts(6)})
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		filter, err := ParseFilter(text)
		if err != nil {
			checkFilterProblem(t, err.(*field.Problem))
			return
		}
		if len(filter.String()) > MaxFilter {
			return // written out it is longer than it was
		}
		again, err := ParseFilter(filter.String())
		if err != nil || again.String() != filter.String() {
			t.Fatalf("%q is written %q, which reads as %v, %v", text, filter, again, err)
		}
		for e := range c.Entries() {
			if filter.Match(e) != again.Match(e) {
				t.Fatalf("%q and %q differ on %s", text, filter, e.Part.ID)
			}
		}
	})
}
