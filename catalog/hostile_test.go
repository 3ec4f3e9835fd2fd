package catalog

import (
	"bytes"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"gearsearch/catalog/field"
)

// big is the size of a file that must be survived.
const big = field.MaxSize - 1<<20

// Each document is what somebody could send to stop or fill the machine. All
// must be read, or refused with problems, in bounded memory: at most a few
// times the size of the file, all told.
func TestHostileFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 100 MB in all")
	}
	fill := func(size int, head, unit string) []byte {
		return append([]byte(head), bytes.Repeat([]byte(unit), size/len(unit))...)
	}
	tests := []struct {
		why  string
		data []byte
		want string // in the error; "" for no error
	}{
		{"few parts and much comment", append(parts(1000), fill(big, "", "# nothing but comments here, line by line\n")...), ""},
		{"one comment without an end", fill(big, "schema = 1\n# ", "x"), "longer than 1048576 bytes"},
		{"one line without an end", fill(big, "", "x"), "longer than 1048576 bytes"},
		{"text without an end", fill(big, "schema = 1\ntitle = \"\"\"", "some text\n"), "longer than 1048576 bytes"},
		{"text of escapes", fill(big, "schema = 1\ntitle = \"", `\u0041`), "longer than 1048576 bytes"},
		{"list without an end", fill(big, "schema = 1\nx = [", "1,\n"), "longer than 1048576 bytes"},
		{"list of many items", append(fill(900_000, "schema = 1\nx = [", "1,"), ']', '\n'), "list has more than 10000 items"},
		{"many lists of many items", fill(5<<20, "schema = 1\n", "[[motor]]\nx = ["+strings.Repeat("1,", 9999)+"]\n"), "more than 2097152 keys and values"},
		{"nested lists", fill(900_000, "schema = 1\nx = ", "["), "nested more than"},
		{"nested inline tables", fill(900_000, "schema = 1\nx = ", "{a="), "nested more than"},
		{"nested lists that close", append(append(fill(4000, "schema = 1\nx = ", "["), bytes.Repeat([]byte("]"), 4000)...), '\n'), "nested deeper than 16 levels"},
		{"dotted key of many parts", append(fill(900_000, "schema = 1\nx", ".x"), []byte(" = 1\n")...), "nested deeper than 16 levels"},
		{"header of many parts", append(fill(900_000, "schema = 1\n[x", ".x"), []byte("]\n")...), "nested deeper than 16 levels"},
		{"many keys in one table", manyKeys(big / 8), "more than 200 keys in one table"},
		{"empty parts", fill(big/8, "schema = 1\n", "[[motor]]\n"), "motor has no kv"},
		{"families without end", families(26), "more than 250000 parts"},
		{"syntax errors only", fill(big, "", "?\n"), "20 syntax errors"},
		{"NUL bytes", make([]byte, big), "NUL byte"},
		{"zeros after a good file", append([]byte("schema = 1\n"), make([]byte, 1000)...), "NUL byte"},
		{"high bytes", fill(big, "", "\xff\xfe\xfd\n"), "UTF-16"},
		{"not UTF-8", fill(big, "schema = 1\n", "\xe9=1\n"), "invalid UTF-8"},
		{"lone carriage returns", fill(big, "schema = 1\r", "title = 'x'\r"), "carriage returns only"},
		{"too large", make([]byte, field.MaxSize+1), "file is larger than 8 MB"},
		{"empty", nil, "catalog has no schema"},
		{"byte order mark only", []byte("\xef\xbb\xbf"), "catalog has no schema"},
		{"byte order mark and CRLF", []byte("\xef\xbb\xbfschema = 1\r\n[[motor]]\r\nid = \"a\"\r\nkv = 190\r\n"), ""},
		{"no newline at the end", []byte("schema = 1\n[[motor]]\nid = \"a\"\nkv = 190"), ""},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			c, err := Read(Source{Name: "hostile.toml", Data: test.data})
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			t.Logf("%v, %d MB allocated", took, (after.TotalAlloc-before.TotalAlloc)>>20)
			checkRead(t, c, err)
			switch {
			case test.want == "" && err != nil:
				t.Errorf("refused: %v", err)
			case test.want != "" && !says(err, test.want):
				t.Errorf("says %.300v, want %s", err, test.want)
			}
			const floor = 400 << 20
			if used := after.TotalAlloc - before.TotalAlloc; used > floor+4*uint64(len(test.data)) {
				t.Errorf("%d MB allocated for %d MB", used>>20, len(test.data)>>20)
			}
		})
	}
}

// says reports whether one of the problems in err says what is wanted.
func says(err error, want string) bool {
	var problems field.Problems
	errors.As(err, &problems)
	return slices.ContainsFunc(problems, func(p field.Problem) bool { return strings.Contains(p.Message, want) })
}

// families is a document of n tables that stand for 10 000 parts each.
func families(n int) []byte {
	var b bytes.Buffer
	b.WriteString("schema = 1\n")
	for i := range n {
		fmt.Fprintf(&b, "[[mount]]\nid = \"m%d\"\ncentre_max_mm = 60\ncentre_min_mm = [%s]\n", i, strings.Repeat("50,", 10_000))
	}
	return b.Bytes()
}

// manyKeys is a document of as many different keys in one table.
func manyKeys(size int) []byte {
	var b bytes.Buffer
	b.WriteString("schema = 1\n[[motor]]\n")
	for i := 0; b.Len() < size; i++ {
		fmt.Fprintf(&b, "k%d = 1\n", i)
	}
	return b.Bytes()
}

func TestHostileCSV(t *testing.T) {
	tests := []struct{ why, data, want string }{
		{"quote without an end", "id,kv\n\"" + strings.Repeat("x\n", 1<<20), "quoted cell is not closed"},
		{"many quotes", "id,kv\n" + strings.Repeat("a\"b,1\n", 1<<17), "quote inside a cell"},
		{"many columns", strings.Repeat("id,", 100_000) + "kv\n", "more than 200 columns"},
		{"long rows", "id,kv\n" + strings.Repeat(strings.Repeat(",", 10_000)+"x\n", 60), "row has 10001 cells"},
		{"NUL bytes", "id,kv\n\x00,190\n", `id has a control character, U+0000`},
		{"NUL bytes only", strings.Repeat("\x00", 1<<20), "unknown key"},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			c, err := Read(Source{Name: "motor.csv", Data: []byte(test.data)})
			checkRead(t, c, err)
			if !says(err, test.want) {
				t.Errorf("says %.300v, want %s", err, test.want)
			}
		})
	}
}

// A catalog of 30 000 parts is unusual, not wrong.
func TestManyParts(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 6 MB")
	}
	const n = 30_000
	c, err := Read(Source{Name: "parts.toml", Data: parts(n)})
	if err != nil {
		t.Fatal(err)
	}
	total := 0
	for _, k := range c.Count() {
		total += k.N
	}
	if total != n {
		t.Errorf("%d parts, want %d", total, n)
	}
}

// A file of many references to no part must not compare each with each.
func TestManyStrangers(t *testing.T) {
	var b bytes.Buffer
	b.Write(parts(20_000))
	for i := range 20_000 {
		fmt.Fprintf(&b, "[[battery]]\nid = \"b-%d\"\nseries = 10\ncell = \"sell-%d\"\n", i, i)
	}
	_, err := Read(Source{Name: "parts.toml", Data: b.Bytes()})
	var problems field.Problems
	if !errors.As(err, &problems) || problems.Count() != 20_000 {
		t.Errorf("want 20000 problems, have %d", problems.Count())
	}
	if got := err.Error(); !strings.HasSuffix(got, "\nand 19950 more") {
		t.Errorf("ends with %q", got[len(got)-40:])
	}
}

// checkRead holds what Read returns to what its callers rely on: either parts
// without control characters or missing numbers, or problems with places.
func checkRead(t *testing.T, c *Catalog, err error) {
	t.Helper()
	if err == nil {
		checkCatalog(t, c)
		return
	}
	var problems field.Problems
	if c != nil || !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("neither a catalog nor problems: %v %v", c, err)
	}
	for i, p := range problems {
		if p.File != "" && (p.Line < 1 || p.Column < 1) || p.File == "" && i < len(problems)-1 {
			t.Errorf("no place: %+v", p)
		}
		if p.Code == "" {
			t.Errorf("no code: %+v", p)
		}
		for _, s := range []string{p.File, p.Message, p.Source, p.Hint} {
			if wrong := field.CheckText(s); wrong != "" {
				t.Errorf("printed text %s: %q", wrong, s)
			}
		}
	}
}

func checkCatalog(t *testing.T, c *Catalog) {
	t.Helper()
	seen := map[string]bool{}
	for name, p := range c.Parts() {
		if seen[p.ID] || !field.IsID(p.ID) {
			t.Errorf("%s has id %q, twice or not an id", name, p.ID)
		}
		seen[p.ID] = true
		if p.SoldIn < 1 || p.Pos.Line < 1 || p.Pos.Column < 1 {
			t.Errorf("%s %s: %+v", name, p.ID, p)
		}
	}
	for _, k := range registry {
		for i := range k.count(c) {
			for in, v := range k.values(c, i) {
				if s, ok := v.(string); ok && field.CheckText(s) != "" {
					t.Errorf("%s has %q", in.Key, s)
				}
				if in.Required && v == nil {
					t.Errorf("%s is absent", in.Key)
				}
			}
		}
	}
}
