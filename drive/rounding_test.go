package drive_test

import (
	"go/ast"
	"go/build"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The compiler may fuse a product with a sum that it reaches, through variables
// and inlined functions too, and on some processors does, unless a conversion
// rounds the product first. So every product here is rounded at once by
// float64, or goes where nothing is added: into a quotient, a comparison or a
// function of package math. Windows are left out: they guide a search, which
// widens them by far more than a rounding.
func TestEveryProductIsRounded(t *testing.T) {
	for _, room := range []struct {
		folder string
		least  int // products in it: fewer, and the test looks in the wrong place
	}{{".", 50}, {"pack", 8}} {
		t.Run(room.folder, func(t *testing.T) { everyProductIsRounded(t, room.folder, room.least) })
	}
}

func everyProductIsRounded(t *testing.T, folder string, least int) {
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	positions := token.NewFileSet()
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(positions, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	// Types tell which products are constants, worked out exactly. A test that is
	// built with -trimpath does not know where the library is.
	if build.Default.GOROOT == "" {
		root, err := exec.Command("go", "env", "GOROOT").Output()
		if err != nil {
			t.Fatal(err)
		}
		build.Default.GOROOT = strings.TrimSpace(string(root))
	}
	info := types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	config := types.Config{Importer: importer.ForCompiler(positions, "source", nil)}
	if _, err := config.Check(folder, positions, files, &info); err != nil {
		t.Fatal(err)
	}
	products := 0
	for _, file := range files {
		if strings.HasSuffix(positions.Position(file.Pos()).Filename, "window.go") {
			continue
		}
		var parents []ast.Node
		ast.Inspect(file, func(n ast.Node) bool {
			if n == nil {
				parents = parents[:len(parents)-1]
				return true
			}
			switch n := n.(type) {
			case *ast.BinaryExpr:
				if n.Op != token.MUL || info.Types[n].Value != nil || !float(info.Types[n].Type) {
					break
				}
				products++
				if !rounded(parents) {
					t.Errorf("%v: a product that is not rounded by float64", positions.Position(n.OpPos))
				}
			case *ast.AssignStmt:
				if n.Tok == token.MUL_ASSIGN && float(info.Types[n.Lhs[0]].Type) {
					t.Errorf("%v: *= does not round", positions.Position(n.TokPos))
				}
			}
			parents = append(parents, n)
			return true
		})
	}
	if products < least {
		t.Errorf("only %d products found: the test looks in the wrong place", products)
	}
}

// float reports whether a type is one of floating point: whole numbers need no
// rounding.
func float(t types.Type) bool {
	basic, ok := t.(*types.Basic)
	return ok && basic.Info()&types.IsFloat != 0
}

// rounded reports whether a product within these nodes, outermost first, is
// rounded before anything can be added to it.
func rounded(parents []ast.Node) bool {
	for i := len(parents) - 1; i >= 0; i-- {
		switch parent := parents[i].(type) {
		case *ast.ParenExpr:
		case *ast.UnaryExpr:
		case *ast.BinaryExpr:
			switch parent.Op {
			case token.MUL: // a factor of a longer product
			case token.QUO, token.LSS, token.LEQ, token.GTR, token.GEQ, token.EQL, token.NEQ:
				return true
			default:
				return false
			}
		case *ast.CallExpr:
			if name, ok := parent.Fun.(*ast.Ident); ok {
				return name.Name == "float64"
			}
			if from, ok := parent.Fun.(*ast.SelectorExpr); ok {
				name, ok := from.X.(*ast.Ident)
				return ok && name.Name == "math"
			}
			return false
		default:
			return false
		}
	}
	return false
}
