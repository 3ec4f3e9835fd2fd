package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
)

// mutant is one change of a file.
type mutant struct {
	pkg      string // import path
	file     string // from the top of the module
	path     string // absolute
	line     int
	what     string // what is changed, in a few words
	from, to int    // the bytes that the text replaces
	text     string
	source   []byte // of the whole file
}

func (m mutant) place() string { return fmt.Sprintf("%s:%d", m.file, m.line) }

// changed is the file with the change.
func (m mutant) changed() []byte {
	return append(append(append([]byte(nil), m.source[:m.from]...), m.text...), m.source[m.to:]...)
}

// String shows the change as two lines of a difference.
func (m mutant) String() string {
	before := strings.Split(string(m.source), "\n")[m.line-1]
	after := strings.Split(string(m.changed()), "\n")[m.line-1]
	return fmt.Sprintf("%s: %s\n- %s\n+ %s", m.place(), m.what, strings.TrimSpace(before), strings.TrimSpace(after))
}

// operators are what an operator is changed to, and how that is called.
var operators = map[token.Token]struct {
	to   token.Token
	what string
}{
	token.LSS: {token.GTR, "comparison flipped"}, token.GTR: {token.LSS, "comparison flipped"},
	token.LEQ: {token.GEQ, "comparison flipped"}, token.GEQ: {token.LEQ, "comparison flipped"},
	token.EQL: {token.NEQ, "comparison flipped"}, token.NEQ: {token.EQL, "comparison flipped"},
	token.LAND: {token.LOR, "and is or"}, token.LOR: {token.LAND, "or is and"},
	token.ADD: {token.SUB, "sign swapped"}, token.SUB: {token.ADD, "sign swapped"},
	token.MUL: {token.QUO, "operator swapped"}, token.QUO: {token.MUL, "operator swapped"},
	token.ADD_ASSIGN: {token.SUB_ASSIGN, "sign swapped"}, token.SUB_ASSIGN: {token.ADD_ASSIGN, "sign swapped"},
	token.MUL_ASSIGN: {token.QUO_ASSIGN, "operator swapped"}, token.QUO_ASSIGN: {token.MUL_ASSIGN, "operator swapped"},
	token.INC: {token.DEC, "sign swapped"}, token.DEC: {token.INC, "sign swapped"},
}

// mutantsOf lists all changes of a file, in the order of its text. The caller
// fills in the package and the file's name in the module.
func mutantsOf(path string) ([]mutant, error) {
	source, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	files := token.NewFileSet()
	tree, err := parser.ParseFile(files, path, source, 0)
	if err != nil {
		return nil, err
	}
	var out []mutant
	add := func(what string, from, to token.Pos, text string) {
		at := files.Position(from)
		out = append(out, mutant{
			path: path, file: filepath.Base(path), line: at.Line, what: what,
			from: at.Offset, to: files.Position(to).Offset, text: text, source: source,
		})
	}
	operator := func(op token.Token, at token.Pos) {
		if o, ok := operators[op]; ok {
			add(fmt.Sprintf("%s, %s is %s", o.what, op, o.to), at, at+token.Pos(len(op.String())), o.to.String())
		}
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BinaryExpr:
			operator(n.Op, n.OpPos)
		case *ast.UnaryExpr:
			if n.Op == token.SUB {
				add("sign dropped", n.OpPos, n.X.Pos(), "")
			}
		case *ast.BasicLit:
			if n.Kind == token.INT || n.Kind == token.FLOAT {
				add("constant one too great", n.Pos(), n.End(), "("+n.Value+" + 1)")
			}
		case *ast.IfStmt:
			condition := string(source[files.Position(n.Cond.Pos()).Offset:files.Position(n.Cond.End()).Offset])
			add("condition negated", n.Cond.Pos(), n.Cond.End(), "!("+condition+")")
			if n.Else == nil && leaves(n.Body) {
				drop(n, add)
			}
		case *ast.IncDecStmt:
			operator(n.Tok, n.TokPos)
		case *ast.AssignStmt:
			operator(n.Tok, n.TokPos)
		case *ast.BlockStmt:
			dropped(n.List, add)
		case *ast.CaseClause:
			dropped(n.Body, add)
		case *ast.CommClause:
			dropped(n.Body, add)
		}
		return true
	})
	return out, nil
}

// dropped adds the drop of each statement that can be done without.
func dropped(list []ast.Stmt, add func(what string, from, to token.Pos, text string)) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.AssignStmt:
			if s.Tok != token.DEFINE {
				drop(s, add)
			}
		case *ast.ExprStmt, *ast.IncDecStmt, *ast.BranchStmt:
			drop(s, add)
		}
	}
}

func drop(s ast.Stmt, add func(what string, from, to token.Pos, text string)) {
	add("statement dropped", s.Pos(), s.End(), "{}")
}

// leaves reports whether a block ends in leaving the function or the loop.
func leaves(b *ast.BlockStmt) bool {
	if len(b.List) == 0 {
		return false
	}
	switch b.List[len(b.List)-1].(type) {
	case *ast.ReturnStmt, *ast.BranchStmt:
		return true
	}
	return false
}
