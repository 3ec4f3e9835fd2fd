package vary

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// Volts of a cell in a pack of bare numbers: those of most round lithium-ion cells,
// common practice, no published source.
const (
	cellVolts = 3.6
	fullVolts = 4.2
)

// beltEfficiency is that of a bare drive, as of every belt drive of a catalog.
const beltEfficiency = 0.96

// Bare is a build of bare numbers, each part under the name of its kind.
type Bare struct {
	start constraints.Variant // the first value of each flag
	parts []bareKey           // what is known besides
}

// bareKey is a key of one of the parts.
type bareKey struct{ kind, key, text, flag string }

// bareKinds are the kinds of which there is a part.
func bareKinds() []string { return []string{"motor", "controller", "battery", "gear_drive", "wheel"} }

// given are the keys that flags of their own give, with these.
func given() map[string]string {
	return map[string]string{
		"motor.kv": "kv", "battery.series": "series", "gear_drive.ratio": "ratio", "gear_drive.driver_teeth": "teeth",
		"gear_drive.driven_teeth": "teeth", "wheel.diameter_mm": "wheel-size",
	}
}

// NewBare takes the first value of each axis for a build. parts are keys of its parts, as in motor.resistance_mohm=60.
func NewBare(axes []Axis, parts []string) (*Bare, error) {
	b := &Bare{}
	have := map[string]bool{}
	for _, a := range axes {
		have[a.Key] = true
		a.Changes[0].set(&b.start)
	}
	var missing []string
	for _, f := range Flags() {
		switch {
		case have[f.Key] || f.Key == "motors" || f.Key == "ratio":
		case f.Key == "teeth" && have["ratio"]:
		case f.Key == "teeth":
			missing = append(missing, "--teeth or --ratio")
		default:
			missing = append(missing, "--"+f.Name)
		}
	}
	if len(missing) > 0 {
		return nil, outcome.Usage("gearsearch vary --kv 150 --series 11 --teeth 14:48 --wheel-size 120mm, or name a build file",
			"vary without a build file needs %s", say.InWords(missing))
	}
	for _, text := range parts {
		if err := b.know(text); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// know takes a key of a part, as in motor.resistance_mohm=60.
func (b *Bare) know(text string) error {
	key, value, ok := strings.Cut(text, "=")
	kind, name, dotted := strings.Cut(strings.TrimSpace(key), ".")
	value = strings.TrimSpace(value)
	const how = "write --part kind.key=value, as in --part motor.resistance_mohm=60"
	switch flag := given()[kind+"."+name]; {
	case !ok || !dotted || value == "":
		return outcome.Usage(how, "--part %s is no key and value", say.Shown(text))
	case !slices.Contains(bareKinds(), kind):
		return outcome.Usage("the kinds are "+strings.Join(bareKinds(), ", "), "--part %s: there is no part of the kind %s", say.Shown(text), say.Shown(kind))
	case flag != "":
		return outcome.Usage("give it by --"+flag, "--part %s: --%s says that", say.Shown(text), flag)
	}
	b.parts = append(b.parts, bareKey{kind, name, value, text})
	_, err := b.Catalog()
	if problems, ok := err.(field.Problems); ok {
		return outcome.Usage(problems[0].Hint, "--part %s: %s", say.Shown(text), problems[0].Text())
	}
	return err
}

// Catalog is the catalog of the parts.
func (b *Bare) Catalog() (*catalog.Catalog, error) {
	keys := map[string][]string{}
	put := func(kind, key, value string) { keys[kind] = append(keys[kind], key+" = "+value) }
	number := func(kind, key string, x float64) { put(kind, key, field.FormatNumber(x)) }
	x := b.start
	number("motor", "kv", x.KV)
	series := float64(x.Series)
	number("battery", "series", series)
	if !b.knows("battery", "nominal_v") {
		number("battery", "nominal_v", series*cellVolts)
	}
	if !b.knows("battery", "full_v") {
		number("battery", "full_v", series*fullVolts)
	}
	if x.Small > 0 {
		number("gear_drive", "driver_teeth", float64(x.Small))
		number("gear_drive", "driven_teeth", float64(x.Large))
	} else {
		number("gear_drive", "ratio", x.Ratio)
	}
	if !b.knows("gear_drive", "efficiency") {
		number("gear_drive", "efficiency", beltEfficiency)
	}
	number("wheel", "diameter_mm", x.Diameter*perMetre)
	for _, p := range b.parts {
		put(p.kind, field.TOML(p.key), literal(p.text))
	}
	text := "schema = 1\n"
	for _, kind := range bareKinds() {
		text += fmt.Sprintf("[[%s]]\nid = %q\n%s\n", kind, kind, strings.Join(keys[kind], "\n"))
	}
	c, err := catalog.Read(catalog.Source{Name: "numbers.toml", Data: []byte(text)})
	if err == nil {
		c.Files = nil
	}
	return c, err
}

// knows reports whether a key of a part is given.
func (b *Bare) knows(kind, key string) bool {
	return slices.ContainsFunc(b.parts, func(p bareKey) bool { return p.kind == kind && p.key == key })
}

// literal is a value as TOML has it: a number, true or false as it is, else a text.
func literal(text string) string {
	if x, err := quantity.Number(text); err == nil {
		return field.FormatNumber(x)
	}
	if text == "true" || text == "false" {
		return text
	}
	return field.TOML(text)
}

// File is the build file of the parts, with the number of motors that a brief tries
// first.
func (b *Bare) File(brief *constraints.Brief) *constraints.BuildFile {
	f := &constraints.BuildFile{Motors: int(brief.Board.Motors[0])}
	for _, kind := range bareKinds() {
		slot, _ := constraints.SlotNamed(kind)
		f.IDs[slot] = kind
	}
	return f
}

// Brief is a brief with the first charge and the first number of motors that are
// given.
func (b *Bare) Brief(brief *constraints.Brief) *constraints.Brief {
	if b.start.Brief != nil {
		brief = b.start.Brief
	}
	if n := b.start.Motors; n > 0 {
		brief = brief.Clone()
		brief.Board.Motors = []float64{float64(n)}
	}
	return brief
}

// rest are the axes without the values of the build, for rows of one change each.
func rest(axes []Axis) []Axis {
	var out []Axis
	for _, a := range axes {
		out = append(out, Axis{a.Key, a.Changes[1:]})
	}
	return out
}
