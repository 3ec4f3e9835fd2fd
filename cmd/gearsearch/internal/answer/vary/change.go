package vary

import (
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Change is one value in place of a build's.
type Change struct {
	Key   string // in data out
	Value any    // there: a number in the key's unit, or a text
	set   func(v *constraints.Variant)
}

// Axis are the values that one flag gives, or one slot of --use.
type Axis struct {
	Key     string
	Changes []Change
}

// Flag is a flag that varies a number, and how its values are read.
type Flag struct {
	Name  string
	Key   string // in data out
	Value string // in help
	Usage string
	Hint  string // how it is written
	read  func(text string) (Change, error)
}

// perMetre is how many mm a metre has.
const perMetre = 1000

// Flags are these flags, in the order of the rows.
func Flags() []Flag {
	return []Flag{
		{
			Name: "kv", Key: "kv", Value: "KV[,KV]", Usage: "rpm per volt, the motor rewound", Hint: "150,180",
			read: numbered("motor", "kv", quantity.Number, 1, func(v *constraints.Variant, x float64) { v.KV = x }),
		},
		{
			Name: "series", Key: "series", Value: "N[,N]", Usage: "cells in series", Hint: "11,13",
			read: numbered("battery", "series", quantity.Number, 1, func(v *constraints.Variant, x float64) { v.Series = int(x) }),
		},
		{Name: "teeth", Key: "teeth", Value: "A:B[,A:B]", Usage: "teeth of the motor's pulley and of the wheel's", Hint: "14:48,16:54", read: readTeeth},
		{
			Name: "ratio", Key: "ratio", Value: "N[,N]", Usage: "motor turns per wheel turn", Hint: "3.2,4.4",
			read: numbered("gear_drive", "ratio", quantity.Number, 1, func(v *constraints.Variant, x float64) { v.Ratio = x }),
		},
		{
			Name: "wheel-size", Key: "wheel_mm", Value: "LENGTH[,LENGTH]", Usage: "outside diameter of the wheels", Hint: "100mm,120mm",
			read: numbered("wheel", "diameter_mm", quantity.Length.Parse, perMetre, func(v *constraints.Variant, x float64) { v.Diameter = x }),
		},
		{Name: "count", Key: "motors", Value: "N[,N]", Usage: "number of motors: 1, 2 or 4", Hint: "1,2", read: readCount},
	}
}

// ReadAxis reads the values of a flag. A value given twice counts once.
func (f *Flag) ReadAxis(text string) (Axis, error) {
	return axis(f.Key, text, func(item string) (Change, error) {
		c, err := f.read(item)
		if err != nil {
			return c, outcome.Usage("write --"+f.Name+" "+f.Hint, "--%s %s: %v", f.Name, say.Shown(item), err)
		}
		c.Key = f.Key
		return c, nil
	})
}

// axis reads the items of a list.
func axis(key, text string, read func(item string) (Change, error)) (Axis, error) {
	a := Axis{Key: key}
	for _, item := range strings.Split(text, ",") {
		c, err := read(strings.TrimSpace(item))
		if err != nil {
			return Axis{}, err
		}
		if !slices.ContainsFunc(a.Changes, func(o Change) bool { return o.Value == c.Value }) {
			a.Changes = append(a.Changes, c)
		}
	}
	return a, nil
}

// fault is what is wrong with a value, without the value.
type fault string

func (f fault) Error() string { return string(f) }

// numbered reads a number in the range of a key of a catalog, whose unit has
// perSI of an SI unit.
func numbered(kind, key string, parse func(string) (float64, error), perSI float64, set func(v *constraints.Variant, x float64)) func(string) (Change, error) {
	return func(text string) (Change, error) {
		x, err := parse(text)
		if err != nil {
			return Change{}, err
		}
		shown := x * perSI
		in := keyOf(kind, key)
		if !(shown >= in.Min && shown <= in.Max) || in.Whole && shown != float64(int(shown)) {
			return Change{}, outside(in)
		}
		return Change{Value: shown, set: func(v *constraints.Variant) { set(v, x) }}, nil
	}
}

// outside is the fault of a number that a key does not take.
func outside(in *field.Info) error {
	if in.Whole {
		return fault("must be a whole number, " + in.Range())
	}
	return fault("must be " + in.Range())
}

// keyOf is a key of the parts of a kind.
func keyOf(kind, key string) *field.Info {
	for _, k := range catalog.Kinds() {
		for i := range k.Fields {
			if k.Name == kind && k.Fields[i].Key == key {
				return &k.Fields[i]
			}
		}
	}
	panic("vary: a " + kind + " has no " + key) // a test reads every flag
}

// readTeeth reads the teeth of two pulleys, as in 14:48.
func readTeeth(text string) (Change, error) {
	a, b, ok := strings.Cut(text, ":")
	if !ok {
		return Change{}, fault("the motor's teeth and the wheel's stand with a colon between them")
	}
	var teeth [2]int
	in := keyOf("pulley", "teeth")
	for i, s := range []string{a, b} {
		n, err := strconv.Atoi(strings.TrimSpace(s))
		if err != nil || float64(n) < in.Min || float64(n) > in.Max {
			return Change{}, outside(in)
		}
		teeth[i] = n
	}
	small, large := teeth[0], teeth[1]
	if ratio := keyOf("gear_drive", "ratio"); float64(large)/float64(small) < ratio.Min {
		return Change{}, fault("the ratio of the wheel's teeth to the motor's must be " + ratio.Range())
	}
	return Change{
		Value: strconv.Itoa(small) + ":" + strconv.Itoa(large),
		set:   func(v *constraints.Variant) { v.Small, v.Large = small, large },
	}, nil
}

// readCount reads a number of motors.
func readCount(text string) (Change, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n != 1 && n != 2 && n != 4 {
		return Change{}, fault("there are 1, 2 or 4 motors")
	}
	return Change{Value: float64(n), set: func(v *constraints.Variant) { v.Motors = n }}, nil
}

// ReadCharge reads the states of charge that --charge names, each as the brief
// does.
func ReadCharge(b *constraints.Brief, text string) (Axis, error) {
	return axis("charge", text, func(item string) (Change, error) {
		charged := b.Clone()
		if err := charged.Set("target.charge", item, "--charge"); err != nil {
			p, _ := err.(*field.Problem)
			return Change{}, outcome.Usage(p.Hint, "%s", p.Text())
		}
		c := Change{Key: "charge", Value: charged.Target.Charge.Word, set: func(v *constraints.Variant) { v.Brief = charged }}
		if c.Value == "" {
			c.Value = charged.Target.Charge.Volts
		}
		return c, nil
	})
}

// ReadUse reads the parts that --use names, an axis for each slot in the order in
// which they are named first. The slots are known, hint says of what is none.
func ReadUse(c *catalog.Catalog, texts []string, hint func(word string) string) ([]Axis, error) {
	var out []Axis
	for _, text := range texts {
		word, ids, ok := strings.Cut(text, "=")
		if !ok || ids == "" {
			return nil, outcome.Usage("write --use slot=id, as in --use wheel=quay-97", "--use %s names no part", say.Shown(text))
		}
		slot, known := constraints.SlotNamed(word)
		if !known {
			return nil, outcome.Usage(hint(word), "--use %s: there is no slot %s", say.Shown(text), say.Shown(word))
		}
		a, err := axis(word, ids, func(id string) (Change, error) {
			if hint, unknown := slot.Stranger(c, id); unknown {
				return Change{}, field.Problems{{Code: field.UnknownID, Message: "--use " + say.Shown(text) + ": the catalog has no " + word + " " + field.Quote(id), Hint: hint}}
			}
			return Change{Key: word, Value: id, set: func(v *constraints.Variant) { use(v, slot, id) }}, nil
		})
		if err != nil {
			return nil, err
		}
		if i := slices.IndexFunc(out, func(o Axis) bool { return o.Key == word }); i >= 0 {
			out[i].Changes = append(out[i].Changes, a.Changes...)
			continue
		}
		out = append(out, a)
	}
	return out, nil
}

// Rows are what is changed in each row: one change of each axis alone, or with all
// the product of the axes, the first the slowest. More than MostVaried are wrong
// usage.
func Rows(axes []Axis, all bool) ([][]Change, error) {
	n := 0
	if all {
		n = 1
	}
	for _, a := range axes {
		if all {
			n = min(n*len(a.Changes), 1<<32) // no overflow, and exact where it matters
		} else {
			n += len(a.Changes)
		}
	}
	if n > search.MostVaried {
		return nil, outcome.Usage("give fewer values", "that makes %s, more than %d", say.Counted(uint64(n), "row", "rows"), search.MostVaried)
	}
	if !all {
		var rows [][]Change
		for _, a := range axes {
			for _, c := range a.Changes {
				rows = append(rows, []Change{c})
			}
		}
		return rows, nil
	}
	rows := [][]Change{nil}
	for _, a := range axes {
		var longer [][]Change
		for _, row := range rows {
			for _, c := range a.Changes {
				longer = append(longer, append(slices.Clone(row), c))
			}
		}
		rows = longer
	}
	return rows, nil
}

// use puts a part in a slot.
func use(v *constraints.Variant, slot constraints.Slot, id string) {
	if v.IDs == nil {
		v.IDs = map[constraints.Slot]string{}
	}
	v.IDs[slot] = id
}

// variant is what the changes of a row make other.
func variant(row []Change) constraints.Variant {
	var v constraints.Variant
	for _, c := range row {
		c.set(&v)
	}
	return v
}
