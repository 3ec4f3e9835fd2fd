// Command house counts, from the type-checked packages, what tells whether the
// code keeps its walls: how the files of a package lean on one another, and how
// many declarations write the slots of a build out by hand. Run it in the
// module's root, with the packages to look at, by default the four that matter:
//
//	go run ./.ci/house
package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/tools/go/packages"
)

// rooms are the packages whose files are looked at unless others are named.
var rooms = []string{"./cmd/gearsearch", "./constraints", "./catalog", "./search"}

func main() {
	patterns := os.Args[1:]
	if len(patterns) == 0 {
		patterns = rooms
	}
	if err := report(patterns); err != nil {
		fmt.Fprintln(os.Stderr, "house:", err)
		os.Exit(1)
	}
}

func report(patterns []string) error {
	looked, err := load(patterns)
	if err != nil {
		return err
	}
	fmt.Printf("%-24s %6s %7s %7s %12s\n", "package", "files", "lines", "floors", "arrows back")
	for _, p := range looked {
		g := leaning(p)
		order := g.order()
		fmt.Printf("%-24s %6d %7d %7d %12d\n", p.Name+" "+strings.TrimPrefix(p.PkgPath, "gearsearch/"), len(g.files), lines(p), g.floors(order), len(g.back(order)))
	}
	all, err := load([]string{"./..."})
	if err != nil {
		return err
	}
	var places []string
	for _, p := range all {
		places = append(places, slotPlaces(p)...)
	}
	slices.Sort(places)
	fmt.Printf("\ndeclarations that name seven or more slots: %d\n", len(places))
	for _, place := range places {
		fmt.Println("  " + place)
	}
	return nil
}

func load(patterns []string) ([]*packages.Package, error) {
	const need = packages.NeedName | packages.NeedFiles | packages.NeedCompiledGoFiles | packages.NeedSyntax |
		packages.NeedTypes | packages.NeedTypesInfo | packages.NeedImports | packages.NeedDeps
	found, err := packages.Load(&packages.Config{Mode: need}, patterns...)
	if err != nil {
		return nil, err
	}
	for _, p := range found {
		if len(p.Errors) > 0 {
			return nil, p.Errors[0]
		}
	}
	return found, nil
}

func lines(p *packages.Package) int {
	n := 0
	for _, f := range p.Syntax {
		n += p.Fset.File(f.Pos()).LineCount()
	}
	return n
}

// graph says which files of a package use what is declared in which others:
// uses[a][b] is how often file a names something of file b.
type graph struct {
	files []string
	uses  [][]int
}

func leaning(p *packages.Package) graph {
	g := graph{}
	index := map[string]int{}
	for _, f := range p.Syntax {
		name := p.Fset.Position(f.Pos()).Filename
		index[name] = len(g.files)
		g.files = append(g.files, filepath.Base(name))
	}
	g.uses = make([][]int, len(g.files))
	for i := range g.uses {
		g.uses[i] = make([]int, len(g.files))
	}
	for id, obj := range p.TypesInfo.Uses {
		if obj.Pkg() != p.Types || !declared(p.Types, obj) {
			continue
		}
		from, ok1 := index[p.Fset.Position(id.Pos()).Filename]
		to, ok2 := index[p.Fset.Position(obj.Pos()).Filename]
		if ok1 && ok2 && from != to {
			g.uses[from][to]++
		}
	}
	return g
}

// declared reports whether an object is one of the package's own names, or a
// method of one of its types.
func declared(p *types.Package, obj types.Object) bool {
	if f, ok := obj.(*types.Func); ok && f.Signature().Recv() != nil {
		return true
	}
	return obj.Parent() == p.Scope()
}

// order puts the files so that few arrows run back, from those that use most to
// those that are used: the heuristic of Eades, Lin and Smyth (1993) for a
// feedback arc set, then single files moved while that helps.
func (g graph) order() []int {
	n := len(g.files)
	left := make([]bool, n)
	for i := range left {
		left[i] = true
	}
	var front, end []int
	for rest := n; rest > 0; rest-- {
		out, in := make([]int, n), make([]int, n)
		for a := range n {
			for b := range n {
				if left[a] && left[b] && g.uses[a][b] > 0 {
					out[a]++
					in[b]++
				}
			}
		}
		pick, sink := -1, false
		for i := range n {
			switch {
			case !left[i]:
			case out[i] == 0:
				pick, sink = i, true
			case !sink && (pick < 0 || out[i]-in[i] > out[pick]-in[pick]):
				pick = i
			}
		}
		left[pick] = false
		if sink {
			end = append(end, pick)
		} else {
			front = append(front, pick)
		}
	}
	slices.Reverse(end)
	return g.improved(append(front, end...))
}

// improved moves one file at a time to where fewest arrows run back.
func (g graph) improved(order []int) []int {
	best := len(g.back(order))
	for better := true; better; {
		better = false
		for _, file := range slices.Clone(order) {
			at := slices.Index(order, file)
			without := slices.Delete(slices.Clone(order), at, at+1)
			for to := range order {
				moved := slices.Insert(slices.Clone(without), to, file)
				if n := len(g.back(moved)); n < best {
					order, best, better = moved, n, true
				}
			}
		}
	}
	return order
}

// back are the arrows that run against an order.
func (g graph) back(order []int) [][2]int {
	var out [][2]int
	for i, a := range order {
		for _, b := range order[:i] {
			if g.uses[a][b] > 0 {
				out = append(out, [2]int{a, b})
			}
		}
	}
	return out
}

// floors is the length of the longest chain of files that use one another, the
// arrows that run back left out.
func (g graph) floors(order []int) int {
	height := make([]int, len(g.files))
	most := 0
	for i := len(order) - 1; i >= 0; i-- {
		a := order[i]
		height[a] = 1
		for _, b := range order[i+1:] {
			if g.uses[a][b] > 0 {
				height[a] = max(height[a], height[b]+1)
			}
		}
		most = max(most, height[a])
	}
	return most
}

// slotWords are the nine slots of a build, without underscores.
var slotWords = []string{
	"battery", "controller", "motor", "geardrive", "motorpulley", "wheelpulley", "mount", "belt", "wheel",
}

// slotPlaces lists the declarations of a package that name seven or more slots,
// as identifiers or words of text.
func slotPlaces(p *packages.Package) []string {
	const many = 7
	var out []string
	for _, f := range p.Syntax {
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.IMPORT {
				continue
			}
			if n := len(slotsNamed(d)); n >= many {
				at := p.Fset.Position(d.Pos())
				out = append(out, fmt.Sprintf("%s:%d (%d)", relative(at.Filename), at.Line, n))
			}
		}
	}
	return out
}

func slotsNamed(d ast.Node) map[string]bool {
	named := map[string]bool{}
	note := func(word string) {
		word = strings.ToLower(strings.ReplaceAll(word, "_", ""))
		word = strings.TrimPrefix(strings.TrimPrefix(word, "slot"), "on")
		word = strings.TrimSuffix(word, "s")
		if word == "batterie" {
			word = "battery"
		}
		if slices.Contains(slotWords, word) {
			named[word] = true
		}
	}
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Ident:
			note(n.Name)
		case *ast.BasicLit:
			if n.Kind == token.STRING {
				note(strings.Trim(n.Value, "`\""))
			}
		}
		return true
	})
	return named
}

func relative(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if short, err := filepath.Rel(here, path); err == nil {
		return short
	}
	return path
}
