package ask

import (
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
)

// KeyFlag is the name of the flag for a key of a kind: the key without its unit,
// but with it where another key is that without.
func KeyFlag(k catalog.KindInfo, in *field.Info) string {
	name := strings.ReplaceAll(quantity.Label(in.Key, in.Unit), " ", "_")
	if k.Field(name) != nil {
		name = in.Key
	}
	return strings.ReplaceAll(name, "_", "-")
}

// unitless reports whether the flag for a key says nothing of its unit, so that
// its value must.
func unitless(k catalog.KindInfo, in *field.Info) bool {
	return KeyFlag(k, in) != strings.ReplaceAll(in.Key, "_", "-")
}

// KeyFlags are the flags for the keys of a kind.
func KeyFlags(k catalog.KindInfo) []cli.Flag {
	var flags []cli.Flag
	for _, in := range catalog.EntryKeys(k) {
		usage := in.Meaning
		switch r := in.Range(); {
		case in.Words != nil:
			usage += ": " + strings.Join(in.Words, ", ")
		case in.Numeric() && r != "":
			usage += ", " + r
		}
		if in.Required {
			usage += "; needed"
		}
		if in.Type == field.TypeFlag {
			flags = append(flags, &cli.BoolFlag{Name: KeyFlag(k, &in), Category: ThemeParts, Usage: usage})
			continue
		}
		flags = append(flags, &cli.StringFlag{Name: KeyFlag(k, &in), Category: ThemeParts, Usage: "`" + keyPlaceholder(k, &in) + "` " + usage, DefaultText: in.Default})
	}
	return flags
}

// keyPlaceholder stands for the value of a key.
func keyPlaceholder(k catalog.KindInfo, in *field.Info) string {
	switch {
	case in.Words != nil:
		return "WORD"
	case in.Type == field.TypeID, in.ID:
		return "ID"
	case in.Numeric() && unitless(k, in):
		return "QUANTITY"
	case in.Numeric():
		return "NUMBER"
	}
	return "TEXT"
}

// KeysGiven are the keys of a kind that flags give, as they are typed.
func KeysGiven(c *cli.Context, k catalog.KindInfo) []catalog.Entered {
	var out []catalog.Entered
	for i := range k.Fields {
		in := &k.Fields[i]
		name := KeyFlag(k, in)
		switch {
		case !c.IsSet(name):
		case in.Type != field.TypeFlag:
			out = append(out, catalog.Entered{Key: in.Key, TOML: c.String(name)})
		case c.Bool(name):
			out = append(out, catalog.Entered{Key: in.Key, TOML: "true"})
		default:
			out = append(out, catalog.Entered{Key: in.Key, TOML: "false"})
		}
	}
	return out
}

// KeyWords is the flag that gives a key a value, which is in the key's own unit.
func KeyWords(k catalog.KindInfo, in *field.Info, value string) string {
	name := KeyFlag(k, in)
	if in.Type == field.TypeFlag {
		return say.Dashed(name) + "=" + value
	}
	if unitless(k, in) && field.IsNumber(value) {
		value += in.Unit
	}
	return say.Dashed(name) + " " + say.Typed(value)
}

// FilesToGrow are the paths of the catalog that a part of a kind is to be added
// to: the last is the file.
func (d *Desk) FilesToGrow(named []string, kind string) ([]string, error) {
	s, err := sources(flagSupply(named, nil), supply{}, thisFolder().partsAlone())
	if err != nil {
		return nil, err
	}
	parts, _ := catalog.StarterNames()
	if s.DemoParts() {
		if s.catalogBy == byFlag {
			return nil, outcome.Usage("name a file of your own, as in --catalog "+parts, "nothing is added to the embedded demo catalog")
		}
		return nil, outcome.Usage("name the file by --catalog, or begin with gearsearch catalog new", "this folder has no %s to add to", parts)
	}
	last := s.Catalog[len(s.Catalog)-1]
	if info, err := os.Stat(last); err == nil && info.IsDir() || !IsTOML(last) {
		return nil, outcome.Usage("add a row to "+kind+".csv, or make one file of it: gearsearch catalog convert "+say.Typed(last)+" "+parts, "%s is no TOML file", say.Shown(last))
	}
	return s.Catalog, nil
}

// PathWords are the paths of a catalog behind a command that has the working
// folder's without any.
func PathWords(paths []string) string {
	return (&Sources{Catalog: paths, folder: thisFolder()}).CatalogWords()
}

// Bare reports whether a value of a flag for a key is a number without the unit
// that it must carry.
func Bare(k catalog.KindInfo, in *field.Info, value string) bool {
	return unitless(k, in) && field.IsNumber(value)
}
