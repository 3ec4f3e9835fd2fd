package catalog

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// Lists of what standards have: parts without maker and price, which a catalog names,
// use = ["belts/xl"], in place of typing them. They are written as any catalog file is
// and read by its reader. No standard was at hand: their numbers are from memory, but
// for the widths of HTD belts, which makers' pages quote.

// Standard is one list.
type Standard struct {
	Name     string // as use names it
	Kind     string // of its parts; "" for sizes, which are no parts
	Meaning  string // what one of it is
	Standard string // its name, and what is not from there in a word
	Basis    string // what is from there, in a sentence
	Sizes    []Size // where it has no parts

	tables string // its parts, as a catalog file has them
}

// Size is a size of cells.
type Size struct {
	Name             string
	Diameter, Length float64 // m
}

// Standards are the lists, by what they are of.
func Standards() []Standard {
	return []Standard{
		belts("htd-3m", "HTD 3M", "50..200", "ISO 13050", 6, 9, 15),
		belts("htd-5m", "HTD 5M", "40..140", "ISO 13050", 9, 15, 25),
		belts("htd-8m", "HTD 8M", "36..120", "ISO 13050", 20, 30, 50, 85),
		belts("t5", "T5", "40..140", "DIN 7721-1", 6, 10, 16, 25),
		belts("t10", "T10", "26..100", "DIN 7721-1", 16, 25, 32, 50),
		// Length codes 60 to 260, tenths of an inch in steps of an inch.
		belts("xl", "XL", "30..130/5", "ISO 5296", 6.4, 7.9, 9.5),
		// Length codes 124 150 187 210 225 240 255 270 285 300 322 345 367 390 420 450 480
		// 510 540 600.
		belts("l", "L", "33, 40, 50, 56, 60, 64, 68, 72, 76, 80, 86, 92, 98, 104, 112, 120, 128, 136, 144, 160", "ISO 5296", 12.7, 19.1, 25.4),
		chains("04c"),
		chains("05b"),
		chains("06c"),
		{
			Name: "wires/awg", Kind: "wire", Meaning: "one metre of copper wire, by American wire gauge from 4/0 to 40",
			Standard: "ASTM B258",
			Basis:    "ASTM B258: a gauge tells the area. What the insulation bears is not in it",
			tables: `[[wire]]
id = "wire-awg"
name = "copper wire"
awg = "-3..40"
note = "ASTM B258"
`,
		},
		{
			Name: "wires/mm2", Kind: "wire", Meaning: "one metre of copper wire, by area from 0.5 to 120 mm²",
			Standard: "IEC 60228",
			Basis:    "IEC 60228: nominal areas. What the insulation bears is not in it",
			tables: `[[wire]]
id = "wire-iec"
name = "copper wire"
area_mm2 = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]
note = "IEC 60228"
`,
		},
		fuses("blade", "blade fuse, 32 V", "ISO 8820-3", ", types C, E and F: ratings up to 80 A, 32 V and a breaking capacity of 1000 A", 1000, bladeRatings()),
		fuses("strip", "bolted strip fuse, 32 V", "ISO 8820-5", ", types SF 30 and SF 51: 30 to 500 A, 32 V and a breaking capacity of 2000 A; the steps above 80 A are common practice, no published source", 2000, stripRatings()),
		{
			Name: "cells/round", Meaning: "one size of round lithium cells",
			Standard: "IEC 61960",
			Basis:    "IEC 61960 names sizes so: the diameter in mm, then the length in tenths of a mm. Which are made is common practice, no published source, and a cell's own may differ by some tenths",
			Sizes:    roundCells(14500, 18350, 18500, 18650, 20700, 21700, 26650, 32700),
		},
	}
}

// belts is a list of belts of a profile: numbers of teeth as TOML has them, without
// brackets or quotes, and widths in mm. Where the numbers are a range of every one, the
// standard lists no lengths.
func belts(profile, called, teeth, standard string, widths ...float64) Standard {
	l := Standard{
		Name: "belts/" + profile, Kind: beltKind,
		Standard: standard, Basis: standard + ": pitch, profile, widths and lengths",
	}
	list, note := `"`+teeth+`"`, standard
	switch {
	case strings.Contains(teeth, ","):
		list = "[" + teeth + "]"
	case !strings.Contains(teeth, "/"):
		note = "see whether this length is sold"
		l.Standard += ", lengths common practice"
		l.Basis = standard + ": pitch, profile and widths. Every number of teeth of a usual length is common practice, no published source: not each of them is sold"
	}
	var b strings.Builder
	var wide []string
	for _, w := range widths {
		mm := field.FormatNumber(w)
		wide = append(wide, mm)
		fmt.Fprintf(&b, "[[belt]]\nid = \"belt-%s-%smm\"\nname = \"%s belt, %s mm wide\"\nprofile = %q\nteeth = %s\nwidth_mm = %s\nnote = %q\n", profile, mm, called, mm, profile, list, mm, note)
	}
	l.Meaning, l.tables = "one "+called+" belt, "+strings.Join(wide, ", ")+" mm wide", b.String()
	return l
}

// chains is a list of chains of a number of ISO 606.
func chains(number string) Standard {
	called, p := strings.ToUpper(number), chainNamed("chain-"+number)
	return Standard{
		Name: "chains/" + number, Kind: chainKind,
		Meaning:  fmt.Sprintf("one chain %s, of a pitch of %.4g mm, which breaks at %.4g kN or more", called, p.Pitch*perMilli, p.Chain.Breaking/perKilo),
		Standard: "ISO 606",
		Basis:    "ISO 606: the pitch, and the least load at which it breaks. A chain is cut to any even number of links",
		tables:   fmt.Sprintf("[[chain]]\nid = \"chain-%s\"\nname = \"chain %s\"\nprofile = %q\nlinks = \"30..120/2\"\nnote = \"ISO 606\"\n", number, called, p.Name),
	}
}

// perKilo is N in a kN.
const perKilo = 1e3

// chainNamed is the built-in chain of that name.
func chainNamed(name string) drive.Profile {
	list := drive.Profiles()
	return list[slices.IndexFunc(list, func(p drive.Profile) bool { return p.Name == name })]
}

// fuses is a list of fuses with what they break at 32 V in A.
func fuses(name, called, standard, basis string, breaking float64, ratings []float64) Standard {
	return Standard{
		Name: "fuses/" + name, Kind: "fuse", Meaning: "one " + called, Standard: standard, Basis: standard + basis,
		tables: fmt.Sprintf("[[fuse]]\nid = \"fuse-%s\"\nname = %q\nrated_a = %s\nmax_volts_dc = 32\nbreaking_a = %s\nnote = %q\n", name, called, field.TOML(ratings), field.TOML(breaking), standard),
	}
}

// bladeRatings and stripRatings are what fuses of these forms are rated for, in A:
// blades up to 80 A (ISO 8820-3), bolted strips from 30 to 500 A (the scope of ISO
// 8820-5), whose steps above 80 A are common practice, no published source.
func bladeRatings() []float64 {
	return []float64{5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80}
}

func stripRatings() []float64 {
	return []float64{30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500}
}

// FuseRatings are the ratings in A that fuses are made in, ascending.
func FuseRatings() []float64 {
	all := slices.Concat(bladeRatings(), stripRatings())
	slices.Sort(all)
	return slices.Compact(all)
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

// StandardNames are the names of all lists, or of those of parts.
func StandardNames(parts bool) []string {
	var out []string
	for _, s := range Standards() {
		if !parts || s.Kind != "" {
			out = append(out, s.Name)
		}
	}
	return out
}

// ReadStandards reads lists of parts as a catalog of nothing else.
func ReadStandards(names ...string) (*Catalog, error) {
	return Read(Source{Name: "standard.toml", Data: []byte("schema = 1\n" + useKey + " = " + field.TOML(names) + "\n")})
}
