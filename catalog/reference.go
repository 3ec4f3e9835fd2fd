package catalog

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// Reference is the reference page of the catalog format in Markdown: every
// kind of parts with all its keys, made from the field tables.
func Reference() string {
	var b strings.Builder
	b.WriteString(referenceHead)
	b.WriteString("\n## Top level\n\n")
	keyTable(&b, headTable().Infos()[:len(headFields())], nil)
	b.WriteString("\n## Keys of every kind\n\n")
	kinds := Kinds()
	common := len(partFields(func(p *Part) *Part { return p }, ""))
	keyTable(&b, kinds[0].Fields[:common], nil)
	for i, k := range kinds {
		switch {
		case i == 0:
			b.WriteString("\n# Parts of the drivetrain\n")
		case k.Accessory && !kinds[i-1].Accessory:
			b.WriteString("\n# Accessories\n\nWhat a board needs around its drivetrain; no part of the builds that are ranked.\n")
		}
		kindSection(&b, k, common)
	}
	profileTable(&b)
	return b.String()
}

// referenceHead is what stands above the tables.
const referenceHead = `# Catalog reference

A catalog is one or more TOML files, or a directory of CSV files. Each part is a
table of its kind, such as ` + "`[[motor]]`" + `; keys carry their unit. Keys with a star are
required. Leave out what is not known rather than guess: what depends on it is
then shown as unknown.

**Units.** A number stands in the unit that is said at its key. In quotes it may
stand with another of the same kind: ` + "`diameter_mm = \"8in\"`, `mass_g = \"2lb\"`, `capacity_ah =\n\"5000mAh\"`, `resistance_mohm = \"0.033 ohm\"`" + `; a price with the catalog's currency. In quotes
without a unit it is an error. ` + "`ratio = \"15:36\"`" + ` is the larger over the smaller, 2.4.

**Families.** Where a key takes a number, a list of numbers stands for as many
parts; all lists of a table have one length. The id of a family grows what is
said at its kind where that key is a list or the lists have one item only, else
-1, -2 and so on; or the id is a list too.

**Ranges.** A range in quotes stands for its numbers: ` + "`teeth = \"12..80\"`" + ` for every whole
number from 12 to 80, ` + "`diameter_mm = \"80..100/2.5\"`" + ` for 80, 82.5 and so on. It has no units.
The step is 1 unless given, and must be given where the key is not one of whole
numbers. Several ranges of a table multiply, with each other and with its lists, the
first key the slowest: ` + "`series = \"8..14\"`" + ` and ` + "`parallel = \"2..6\"`" + ` are 35 packs. The id grows
the same as with lists, or -1, -2 and so on where that does not tell all parts apart.
A table stands for at most 10000 parts.

**Changes.** A part of the same file, or of one named before it, is changed by
` + "`[[change]]`" + ` with its ` + "`kind`" + ` and ` + "`id`" + ` and the keys that it is to have instead: its price
here, ` + "`owned`" + `, what you measured. ` + "`unset = [\"price\"]`" + ` takes keys away. The id of a family
changes all of its parts. Of several changes the last counts, and ` + "`catalog check`" + `
names both. Two parts of one id are an error.

**Currencies.** All prices are shown in the currency of the first file, EUR where that
names none; a later file that names none has it too. A file or a price in another takes a
rate: ` + "`[rates]`" + ` and below it ` + "`USD = 0.92`" + ` says what one USD is in that currency. Of several rates
the last counts; those of a file in another currency are for that file alone. Prices are
rounded to a ten-thousandth.

**Lists of standards.** ` + "`use = [\"belts/xl\"]`" + ` at the top of a file gives the catalog the parts of a
list: lengths of belts, chains, wires and fuses as a standard has them, without makers and
prices. ` + "`gearsearch catalog show --standard`" + ` lists the lists, each with its standard. Their parts
are changed as others are: ` + "`[[change]]`" + ` gives one a price, or a family. A list that several
files name is there once.

**CSV.** A directory has one file for each kind, ` + "`motor.csv`" + ` and so on, with the
keys in the first row, and may have ` + "`catalog.csv`" + ` with title, currency and the lists it uses. Hidden
files are passed over, and so are rows and columns of empty cells. An empty cell is
an absent key, the items of a list are separated by ` + "`|`" + ` and have none of ` + "`| , ;`" + ` in
them, a row is one part, or a family. Columns are separated by commas, or by semicolons or tabs;
with the latter two numbers may have a decimal comma. A row such as ` + "`sep=;`" + ` may
stand above the keys. A text that begins with ` + "`= + - @`" + ` is written with an
apostrophe before it, so that no spreadsheet runs it; reading takes the apostrophe away.

**One sheet.** A file of any name, .csv or .tsv, may have rows of all kinds: a column
` + "`kind`" + ` says what each is, the others are keys. Where no column has ids they are made of
the names; a row of kind ` + "`catalog`" + ` has ` + "`title`" + `, ` + "`currency`" + ` and ` + "`use`" + `. Headings need not be keys: a
row above them remembers what each is taken for, ` + "`# gearsearch: KV (rpm/V) = kv`" + ` and in
the next cells ` + "`Weight = mass_g in kg`" + ` or, to leave a column out, ` + "`Colour = -`" + `. ` + "`gearsearch\ncatalog import`" + ` writes that row. A workbook (.xlsx) is read only: each sheet that is shown
has a column kind, or the name of a kind.
`

// kindSection writes one kind.
func kindSection(b *strings.Builder, k KindInfo, common int) {
	fmt.Fprintf(b, "\n## %s\n\n%s.\n", k.Name, upperFirst(k.Meaning))
	if s := choiceSentence(k.Choice); s != "" {
		fmt.Fprintf(b, "%s\n", s)
	}
	for _, n := range k.Needs {
		fmt.Fprintf(b, "`%s` stands only beside `%s`.\n", n.Key, n.Other)
	}
	if k.Grows != "" {
		fmt.Fprintf(b, "The id of a family grows `%s`.\n", k.Grows)
	}
	for i := range common {
		if f := &k.Fields[i]; f.Key == "sold_in" && f.Default != "1" {
			fmt.Fprintf(b, "Unless given, `sold_in` is %s.\n", f.Default)
		}
	}
	b.WriteByte('\n')
	keyTable(b, k.Fields[common:], k.Choice)
}

// choiceSentence says of which groups of keys one is given.
func choiceSentence(groups []Group) string {
	var options []string
	optional := false
	for _, g := range groups {
		if len(g.Keys) == 0 {
			optional = true
			continue
		}
		s := "`" + strings.Join(g.Keys, "` with `") + "`"
		if len(g.May) > 0 {
			s += " (and `" + strings.Join(g.May, "`, `") + "`)"
		}
		options = append(options, s)
	}
	switch {
	case len(options) == 0:
		return ""
	case optional:
		return "At most one is given: " + strings.Join(options, ", or ") + "."
	}
	return "One is given: " + strings.Join(options, ", or ") + "."
}

// keyTable writes keys as a table, of which some are for choice.
func keyTable(b *strings.Builder, infos []field.Info, choice []Group) {
	field.WriteKeys(b, infos, func(in *field.Info) string { return unlessGiven(in, choice) })
}

// unlessGiven says what the absence of a key without a default means.
func unlessGiven(in *field.Info, choice []Group) string {
	chosen := func(g Group) bool { return slices.Contains(g.Keys, in.Key) }
	optional := func(g Group) bool { return len(g.Keys) == 0 }
	switch {
	case slices.ContainsFunc(choice, chosen) && !slices.ContainsFunc(choice, optional):
		return ""
	case in.Type == field.TypeText:
		return "none"
	}
	return "unknown"
}

// upperFirst is a sentence of ASCII with a capital.
func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// profileTable writes the built-in tooth profiles.
func profileTable(b *strings.Builder) {
	b.WriteString("\n# Built-in tooth profiles\n\n| id | pitch, mm | pitch line, mm | pull, N per mm |\n| --- | --- | --- | --- |\n")
	for _, p := range drive.Profiles() {
		if p.Chain != nil {
			continue
		}
		pull := "unknown"
		if !math.IsNaN(p.Pull) {
			pull = field.FormatNumber(p.Pull * perPull)
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", p.Name, field.FormatNumber(p.Pitch*perMilli), field.FormatNumber(p.PitchLine*perMilli), pull)
	}
	b.WriteString("\n# Built-in chains\n\nOf ISO 606, a single strand; a breaking load that a chain does not give is the standard's least.\n\n| id | pitch, mm | roller or bush × plate, mm | breaking load, N |\n| --- | --- | --- | --- |\n")
	for _, p := range drive.Profiles() {
		if c := p.Chain; c != nil {
			fmt.Fprintf(b, "| `%s` | %s | %s × %s | %s |\n", p.Name, field.FormatNumber(p.Pitch*perMilli), field.FormatNumber(c.Roller*perMilli), field.FormatNumber(c.Plate*perMilli), field.FormatNumber(c.Breaking))
		}
	}
}
