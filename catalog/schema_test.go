package catalog

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/pelletier/go-toml/v2"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"
	schemakind "github.com/santhosh-tekuri/jsonschema/v6/kind"
	"pgregory.net/rapid"
)

// compiledSchema is the schema as an independent validator reads it, which
// holds it to the meta-schema of draft 2020-12 first.
func compiledSchema(t rapid.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("catalog.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("catalog.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance is a TOML document as the JSON that an editor holds against the
// schema; ok is false if it is not TOML.
func instance(t rapid.TB, src Source) (v any, ok bool) {
	t.Helper()
	var doc map[string]any
	if toml.Unmarshal(src.Data, &doc) != nil {
		return nil, false
	}
	b, err := json.Marshal(plainJSON(doc))
	if err != nil {
		t.Fatal(err)
	}
	v, err = jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return v, true
}

// plainJSON puts texts in the place of numbers that JSON does not have.
func plainJSON(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for key, item := range v {
			v[key] = plainJSON(item)
		}
	case []any:
		for i, item := range v {
			v[i] = plainJSON(item)
		}
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Sprint(v)
		}
	}
	return v
}

// What the demo and catalogs drawn at random hold, the schema allows.
func TestSchemaAllows(t *testing.T) {
	s := compiledSchema(t)
	for _, src := range DemoSources() {
		v, ok := instance(t, src)
		if !ok {
			t.Fatalf("%s is not TOML", src.Name)
		}
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", src.Name, err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v, ok := instance(t, toTOML(genCatalog(t)))
		if !ok {
			t.Fatal("not TOML")
		}
		if err := s.Validate(v); err != nil {
			t.Fatal(err)
		}
	})
}

// beyondSchema are the mistakes that one table of types cannot know.
var beyondSchema = regexp.MustCompile(strings.Join([]string{
	`^no (profile|cell|motor|wheel) ".*" in the catalog$`, // references
	`is given twice`, // ids of several tables
	`must be (at most|below|at least) [a-z_]+, `, // numbers against each other
	`V for each of`,       // the same, by series
	`has [0-9]+ items?, `, // lengths of a family's lists
	`is built in`,
	`range ".*": its .* must be (above|a whole|[0-9])`, // what a range comes to
	`range ".*", (which runs backwards|of too many)`,
	`the table stands for more than`,
	`^id is a list, where a range`,
	`^(id|hub) is the range`,             // which a text may be that nobody takes for one
	`is a (chain|belt)'s, and this is a`, // references too
	`^balance_ma is for a bms`,
	`^currency is .*, (must be|not) .* as in`,
	`to change$|^unset names .*, which this change gives$`, // parts of other tables, keys against each other
	`is the catalog's currency`,
}, "|"))

// Each mistake of the archives that a schema can know, it knows, at the same
// key of the same part; and it knows no other.
func TestSchemaRefuses(t *testing.T) {
	s := compiledSchema(t)
	paths, err := filepath.Glob("testdata/mistakes/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files, mistakes := 0, 0
	for _, path := range paths {
		archive, err := txtar.ParseFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files[:len(archive.Files)-1] {
			src := Source{Name: f.Name, Data: f.Data}
			v, ok := instance(t, src)
			if isSheet(Source{Name: f.Name}) || !ok {
				continue
			}
			files++
			problems := said(t, src)
			found := schemaErrors(s.Validate(v))
			for at, why := range found {
				if !slices.ContainsFunc(problems, func(p saying) bool { return p.isAt(at) }) {
					t.Errorf("%s, %s: only the schema says %s at %s", path, f.Name, why, at)
				}
			}
			for _, p := range problems {
				mistakes++
				known := slices.ContainsFunc(slices.Collect(maps.Keys(found)), p.isAt)
				if beyond := beyondSchema.MatchString(p.message); !known && !beyond {
					t.Errorf("%s, %s: the schema misses at %s: %s", path, f.Name, p.at, p.message)
				}
			}
		}
	}
	if files < 10 || mistakes < 100 {
		t.Errorf("only %d mistakes in %d files are looked at", mistakes, files)
	}
}

// saying is what Read says of a file, and what stands where it says it, such
// as /motor/0/kv: a list and its first item may stand at one place.
type saying struct {
	at      []string
	message string
}

// isAt reports whether it is said of what a pointer leads to. Where the schema
// says it of a part, Read may say it of one of its keys.
func (p saying) isAt(pointer string) bool {
	return slices.ContainsFunc(p.at, func(at string) bool { return at == pointer || partOf(at) == pointer })
}

func said(t *testing.T, src Source) []saying {
	t.Helper()
	_, err := Read(src)
	var problems field.Problems
	if err != nil && !errors.As(err, &problems) {
		t.Fatal(err)
	}
	where := pointers(src)
	var out []saying
	for _, p := range problems {
		at := where[[2]int{p.Line, p.Column}]
		if len(at) == 0 {
			t.Errorf("%s:%d:%d is the place of nothing: %s", src.Name, p.Line, p.Column, p.Message)
		}
		out = append(out, saying{at, p.Message})
	}
	return out
}

// pointers tells for each place of a TOML file what stands there.
func pointers(src Source) map[[2]int][]string {
	out := map[[2]int][]string{}
	add := func(at field.Place, pointer string) {
		_, line, column := at.Position()
		out[[2]int{line, column}] = append(out[[2]int{line, column}], pointer)
	}
	var r field.Report
	root := field.Parse(src, &r, KindNames()...).Root()
	add(root.Place(), "")
	for e := range root.Entries() {
		pointer := "/" + e.Key()
		add(e.At, pointer)
		add(e.Value.Place(), pointer)
		if s, ok := e.Value.Section(); ok {
			for e := range s.Entries() {
				add(e.At, pointer+"/"+e.Key())
				add(e.Value.Place(), pointer+"/"+e.Key())
			}
		}
		i := 0
		for item := range e.Value.Items() {
			at := pointer + "/" + strconv.Itoa(i)
			add(item.Place(), at)
			s, _ := item.Section()
			for e := range s.Entries() {
				add(e.At, at+"/"+e.Key())
				for item := range e.Value.Items() {
					add(item.Place(), at+"/"+e.Key())
				}
				add(e.Value.Place(), at+"/"+e.Key())
			}
			i++
		}
	}
	return out
}

// partOf is the part in a pointer to one of its keys, or the pointer itself.
func partOf(pointer string) string {
	if fields := strings.SplitAfterN(pointer, "/", 4); len(fields) == 4 {
		return strings.TrimSuffix(strings.Join(fields[:3], ""), "/")
	}
	return pointer
}

// schemaErrors is what the schema says, by where.
func schemaErrors(err error) map[string]string {
	out := map[string]string{}
	var root *jsonschema.ValidationError
	if errors.As(err, &root) {
		gather(root, out)
	}
	return out
}

func gather(e *jsonschema.ValidationError, out map[string]string) {
	at := "/" + strings.Join(e.InstanceLocation[:min(len(e.InstanceLocation), 3)], "/")
	at = strings.TrimSuffix(at, "/")
	switch k := e.ErrorKind.(type) {
	case *schemakind.AdditionalProperties:
		for _, key := range k.Properties {
			out[at+"/"+key] = "unknown key"
		}
		return
	case *schemakind.OneOf:
		out[at] = "choice"
		return
	}
	for _, cause := range e.Causes {
		gather(cause, out)
	}
	if len(e.Causes) == 0 {
		out[at] = fmt.Sprintf("%T", e.ErrorKind)
	}
}

// The schema says of each key what the field tables say.
func TestSchemaDescribes(t *testing.T) {
	var doc struct {
		Properties map[string]struct {
			Items struct {
				Properties map[string]struct {
					Description      string
					Type             any
					Minimum          *float64
					ExclusiveMinimum *float64
					Maximum          *float64
					Enum             []string
					Pattern          string
				}
			}
		}
	}
	if err := json.Unmarshal(Schema(), &doc); err != nil {
		t.Fatal(err)
	}
	for _, k := range Kinds() {
		got := doc.Properties[k.Name].Items.Properties
		var keys []string
		for _, in := range k.Fields {
			keys = append(keys, in.Key)
			p := got[in.Key]
			low := p.Minimum
			if in.Above {
				low = p.ExclusiveMinimum
			}
			if number := classOf(&in) == classNumber; number && (low == nil || *low != in.Min || p.Maximum == nil || *p.Maximum != in.Max) {
				t.Errorf("%s.%s: range %v to %v, want %s", k.Name, in.Key, low, p.Maximum, in.Range())
			}
			if in.Fold {
				for _, word := range in.Words {
					if ok, err := regexp.MatchString(p.Pattern, strings.ToUpper(word)); !ok || err != nil {
						t.Errorf("%s.%s: the pattern %q of %s: %v", k.Name, in.Key, p.Pattern, word, err)
					}
				}
			} else if in.Type == field.TypeWord && !slices.Equal(p.Enum, in.Words) {
				t.Errorf("%s.%s: words %v, want %v", k.Name, in.Key, p.Enum, in.Words)
			}
			if p.Description == "" || in.Unit != "" && !strings.Contains(p.Description, in.Unit) {
				t.Errorf("%s.%s is described as %q", k.Name, in.Key, p.Description)
			}
		}
		slices.Sort(keys)
		if have := slices.Sorted(maps.Keys(got)); !slices.Equal(have, keys) {
			t.Errorf("keys of %s: %v, want %v", k.Name, have, keys)
		}
	}
	if !bytes.Equal(Schema(), Schema()) {
		t.Error("the schema is not the same twice")
	}
}
