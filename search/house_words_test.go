package search

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// TestWordsSteerNothing: no code looks into the message of a problem or error
// to go by it. Problems have codes for that. What is kept in a variable first is
// not seen.
func TestWordsSteerNothing(t *testing.T) {
	const sample = `package p
func f() {
	_ = strings.HasPrefix(x.Message, "no key ")
	_, _ = strings.CutPrefix(x[0].Message, key+": ")
	_ = expression.MatchString(strings.ToLower(err.Error()))
	_ = x.Hint == "write it out"
	switch x.Message {
	}
	_ = x.Hint == "" || len(x.Message) > 80 || strings.HasPrefix(x.Name, "a")
	x.Message = "more: " + x.Message
}`
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, "sample.go", sample, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := wordsLookedInto(file); len(got) != 5 {
		t.Fatalf("the sample looks into words 5 times, %d are seen", len(got))
	}
	read := 0
	err = filepath.WalkDir("..", func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && (e.Name() == "browsertest" || strings.HasPrefix(e.Name(), ".") && e.Name() != ".."): // a browser's errors have nothing but words
			return filepath.SkipDir
		case filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(files, path, nil, 0)
		if err != nil {
			return err
		}
		read++
		for _, pos := range wordsLookedInto(file) {
			t.Errorf("%s looks into the words of a problem", files.Position(pos))
		}
		return nil
	})
	if err != nil || read < 100 {
		t.Fatalf("%d files read: %v", read, err)
	}
}

// wordsLookedInto are the places where a file searches a message, compares one
// with another text than "", or branches on it.
func wordsLookedInto(file *ast.File) []token.Pos {
	var out []token.Pos
	note := func(n ast.Node, looks bool) {
		if looks {
			out = append(out, n.Pos())
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			f, ok := n.Fun.(*ast.SelectorExpr)
			if !ok {
				break
			}
			from, _ := f.X.(*ast.Ident)
			searches := strings.HasPrefix(f.Sel.Name, "Match") || strings.HasPrefix(f.Sel.Name, "Find")
			inStrings := from != nil && from.Name == "strings" && !strings.HasPrefix(f.Sel.Name, "To") && !strings.HasPrefix(f.Sel.Name, "New")
			note(n, (searches || inStrings) && holdsWords(n.Args...))
		case *ast.BinaryExpr:
			compares := n.Op == token.EQL || n.Op == token.NEQ
			note(n, compares && !empty(n.X) && !empty(n.Y) && (isWords(n.X) || isWords(n.Y)))
		case *ast.SwitchStmt:
			note(n, n.Tag != nil && holdsWords(n.Tag))
		}
		return true
	})
	return out
}

// holdsWords reports whether the message of a problem or error is in one of
// some expressions.
func holdsWords(list ...ast.Expr) bool {
	found := false
	for _, x := range list {
		ast.Inspect(x, func(n ast.Node) bool {
			e, ok := n.(ast.Expr)
			found = found || ok && isWords(e)
			return true
		})
	}
	return found
}

// isWords reports whether an expression is the message of a problem or error.
func isWords(x ast.Expr) bool {
	if call, ok := x.(*ast.CallExpr); ok {
		f, ok := call.Fun.(*ast.SelectorExpr)
		return ok && f.Sel.Name == "Error" && len(call.Args) == 0
	}
	s, ok := x.(*ast.SelectorExpr)
	return ok && (s.Sel.Name == "Message" || s.Sel.Name == "Hint")
}

func empty(x ast.Expr) bool {
	l, ok := x.(*ast.BasicLit)
	return ok && l.Value == `""`
}
