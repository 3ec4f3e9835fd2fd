package catalog

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// SQL has the same logic of three values: SQLite, as an independent engine,
// picks the same parts from the demo catalog for many drawn filters.
func TestFilterAgreesWithSQL(t *testing.T) {
	program, err := exec.LookPath("sqlite3")
	if err != nil {
		t.Skip("no sqlite3 program to compare with")
	}
	c, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	var script bytes.Buffer
	writeTables(&script, c)
	var filters []*Filter
	r := rand.New(rand.NewPCG(5, 8))
	for range 400 {
		f := &Filter{genCondition(3).Example(int(r.Int32()))}
		filters = append(filters, f)
		fmt.Fprintf(&script, "SELECT coalesce((SELECT group_concat(id, ' ') FROM (SELECT id FROM part WHERE %s ORDER BY n)), '');\n", sqlOf(f.root))
	}
	run := exec.Command(program, "-batch", ":memory:")
	run.Stdin = &script
	out, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("sqlite3: %v\n%s", err, out)
	}
	lines := strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
	if len(lines) != len(filters) {
		t.Fatalf("%d answers to %d questions: %s", len(lines), len(filters), out)
	}
	picked := 0
	for i, f := range filters {
		got := pick(t, c, f.String())
		if want := strings.Fields(lines[i]); !slices.Equal(got, want) {
			t.Errorf("%s\npicks %v\nwant  %v", f, got, want)
		}
		picked += min(len(got), 1)
	}
	if picked < len(filters)/3 {
		t.Errorf("only %d of %d filters pick anything", picked, len(filters))
	}
}

// writeTables writes the parts as a table of all keys, and the items of lists
// as another.
func writeTables(b *bytes.Buffer, c *Catalog) {
	keys := keysOf(nil)
	delete(keys, kindKey)
	var columns []string
	for key := range keys {
		columns = append(columns, key)
	}
	slices.Sort(columns)
	fmt.Fprintf(b, "CREATE TABLE part(n, kind, %s);\nCREATE TABLE item(id, key, text);\n", strings.Join(columns, ", "))
	n := 0
	for e := range c.Entries() {
		n++
		row := []string{fmt.Sprint(n), sqlText(e.Kind)}
		for _, key := range columns {
			row = append(row, sqlValue(b, e, key))
		}
		fmt.Fprintf(b, "INSERT INTO part VALUES(%s);\n", strings.Join(row, ", "))
	}
}

func sqlValue(b *bytes.Buffer, e Entry, key string) string {
	in, value := e.Value(key)
	switch v := value.(type) {
	case nil:
		if in != nil && in.Type == field.TypeFlag && in.Default == "false" {
			return "0"
		}
		return "NULL"
	case string:
		return sqlText(v)
	case bool:
		return map[bool]string{false: "0", true: "1"}[v]
	case []string:
		for _, s := range v {
			fmt.Fprintf(b, "INSERT INTO item VALUES(%s, %s, %s);\n", sqlText(e.Part.ID), sqlText(key), sqlText(s))
		}
		return "'list'"
	default:
		return field.Cell(v)
	}
}

func sqlText(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }

// sqlOf is a condition as SQL has it.
func sqlOf(c *condition) string {
	switch c.op {
	case opOr, opAnd:
		return "(" + sqlOf(c.left) + " " + strings.ToUpper(c.op.sign()) + " " + sqlOf(c.right) + ")"
	case opNot:
		return "(NOT " + sqlOf(c.left) + ")"
	case opUnknown:
		var kinds []string
		for _, k := range Kinds() {
			if slices.ContainsFunc(k.Fields, func(f field.Info) bool { return f.Key == c.key }) {
				kinds = append(kinds, sqlText(k.Name))
			}
		}
		return fmt.Sprintf("(%s IS NULL AND kind IN (%s))", c.key, strings.Join(kinds, ", "))
	}
	if in := keysOf(nil)[c.key]; in.Type == field.TypeTexts {
		op, not := c.op, ""
		if op == opUnequal {
			op, not = opEqual, "NOT "
		}
		return fmt.Sprintf("(CASE WHEN %s IS NULL THEN NULL ELSE %sEXISTS(SELECT 1 FROM item WHERE item.id = part.id AND item.key = '%s' AND %s) END)",
			c.key, not, c.key, sqlCompare("text", op, c.value))
	}
	return sqlCompare(c.key, c.op, c.value)
}

func sqlCompare(column string, op operator, value operand) string {
	switch {
	case op == opContains:
		return fmt.Sprintf("(instr(lower(%s), lower(%s)) > 0)", column, sqlText(value.text))
	case value.class == classFlag:
		return fmt.Sprintf("(%s %s %s)", column, op.sign(), map[bool]string{false: "0", true: "1"}[value.flag])
	case value.class == classNumber:
		return fmt.Sprintf("(%s %s %s)", column, op.sign(), value)
	}
	return fmt.Sprintf("(%s %s %s)", column, op.sign(), sqlText(value.text))
}
