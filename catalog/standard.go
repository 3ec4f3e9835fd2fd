package catalog

import (
	"embed"
	"fmt"
	"path"
	"strings"

	"gearsearch/catalog/field"
)

// Lists of what standards have: parts without maker and price, which a catalog names,
// use = ["belts/xl"], in place of typing them. Each is a file of the folder standard,
// which is read as any catalog file is; three lines above its tables say what one part
// is, the standard, and what is from there. No standard was at hand: the numbers are
// from memory, but for the widths of HTD belts and the scopes of ISO 8820, which are
// quoted on public pages.

//go:embed standard/*/*.toml
var standardFiles embed.FS

// Where the lists are, and how their files end.
const standardFolder, standardEnding = "standard", ".toml"

// cellSizes is the list of sizes of cells.
const cellSizes = "cells/round"

// Standard is one list.
type Standard struct {
	Name     string // as use names it
	Kind     string // of its parts; "" for sizes, which are no parts
	Meaning  string // what one of it is
	Standard string // its name, and what is not from there in a word
	Basis    string // what is from there, in a sentence
	Sizes    []Size // where it has no parts
}

// Size is a size of cells.
type Size struct {
	Name             string
	Diameter, Length float64 // m
}

// standardSource is the file of a list of parts; ok is false where there is none.
func standardSource(name string) (src Source, ok bool) {
	data, err := standardFiles.ReadFile(path.Join(standardFolder, name) + standardEnding)
	return Source{Name: name, Data: data}, err == nil
}

// StandardNames are the names of the lists of parts.
func StandardNames() []string {
	var out []string
	folders, _ := standardFiles.ReadDir(standardFolder) // what is embedded can be read
	for _, folder := range folders {
		files, _ := standardFiles.ReadDir(path.Join(standardFolder, folder.Name()))
		for _, file := range files {
			out = append(out, folder.Name()+"/"+strings.TrimSuffix(file.Name(), standardEnding))
		}
	}
	return out
}

// Standards are all lists, those of parts first.
func Standards() []Standard {
	var out []Standard
	for _, name := range StandardNames() {
		src, _ := standardSource(name)
		lines := strings.SplitN(string(src.Data), "\n", 6) // three that say, an empty one, and [[kind]]
		said := func(i int) string { return strings.TrimPrefix(lines[i], "# ") }
		out = append(out, Standard{Name: name, Kind: strings.Trim(lines[4], "[]"), Meaning: said(0), Standard: said(1), Basis: said(2)})
	}
	return append(out, Standard{
		Name: cellSizes, Meaning: "one size of round lithium cells", Standard: "IEC 61960",
		Basis: "IEC 61960 names sizes so: the diameter in mm, then the length in tenths of a mm. Which are made is common practice, no published source, and a cell's own may differ by some tenths",
		Sizes: roundCells(14500, 18350, 18500, 18650, 20700, 21700, 26650, 32700),
	})
}

// roundCells are sizes by their names.
func roundCells(names ...int) []Size {
	var out []Size
	for _, n := range names {
		out = append(out, Size{fmt.Sprint(n), float64(n/1000) / perMilli, float64(n%1000) / (10 * perMilli)})
	}
	return out
}

// StandardNamed is the list of that name.
func StandardNamed(name string) (s Standard, ok bool) {
	for _, s := range Standards() {
		if s.Name == name {
			return s, true
		}
	}
	return s, false
}

// ReadStandards reads lists of parts as a catalog of nothing else.
func ReadStandards(names ...string) (*Catalog, error) {
	return Read(Source{Name: "standard.toml", Data: []byte("schema = 1\n" + useKey + " = " + field.TOML(names) + "\n")})
}

// FuseRatings are those in A that fuses are made in, ascending: blades up to 80 A (ISO
// 8820-3), bolted strips from 30 to 500 A (the scope of ISO 8820-5). The steps above 80 A
// are common practice, no published source. The lists of fuses have no others.
func FuseRatings() [25]float64 {
	return [...]float64{
		5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80,
		100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
	}
}
