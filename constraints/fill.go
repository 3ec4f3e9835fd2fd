package constraints

import "gearsearch/catalog"

// BlankKey is a key that a part leaves out and that a range stands in for.
type BlankKey struct{ Kind, Key, ID string }

// RangedKeys are the keys, of no part, that a range may stand in for.
func RangedKeys() []BlankKey {
	return []BlankKey{
		{Kind: SlotMotor.Kind(), Key: "resistance_mohm"},
		{Kind: SlotMotor.Kind(), Key: "no_load_current_a"},
		{Kind: CellKind, Key: "resistance_mohm"},
		{Kind: SlotBattery.Kind(), Key: "resistance_mohm"},
	}
}

// FilledMotor is a motor with one such key set to either end of its range. Other keys
// that it lacks, it still lacks.
type FilledMotor struct {
	BlankKey
	Ends [2]*Motor
}

// FilledBattery is the same of a pack, or of the cell that it is made of.
type FilledBattery struct {
	BlankKey
	Ends [2]*Battery
}

// FillMotor lists what a motor of the problem leaves out, with its ends.
func (p *Problem) FillMotor(m *Motor) []FilledMotor {
	var out []FilledMotor
	add := func(key string, s Span, at func(m *catalog.Motor) *float64) {
		if s.None() {
			return
		}
		f := FilledMotor{BlankKey: BlankKey{SlotMotor.Kind(), key, m.ID}}
		for i, x := range [...]float64{s.Low, s.High} {
			filled := *m.Motor
			*at(&filled) = x
			f.Ends[i] = p.motor(&filled)
		}
		out = append(out, f)
	}
	resistance, noLoad := MotorSpans(m.Motor)
	add("resistance_mohm", resistance, func(m *catalog.Motor) *float64 { return &m.Resistance })
	add("no_load_current_a", noLoad, func(m *catalog.Motor) *float64 { return &m.NoLoadCurrent })
	return out
}

// FillBattery is the same of a pack.
func (p *Problem) FillBattery(b *Battery) []FilledBattery {
	s := PackSpan(b.Battery)
	if s.None() {
		return nil
	}
	f := FilledBattery{BlankKey: BlankKey{SlotBattery.Kind(), "resistance_mohm", b.ID}}
	if b.Cell != nil {
		f.BlankKey = BlankKey{CellKind, "resistance_mohm", b.Cell.ID}
	}
	for i, x := range [...]float64{s.Low, s.High} {
		filled := *b.Battery
		if b.Cell != nil {
			cell := *b.Cell
			cell.Resistance = x / (b.Series / b.Strings())
			filled.Cell = &cell
		} else {
			filled.Resistance = x
		}
		f.Ends[i] = p.battery(&filled)
	}
	return []FilledBattery{f}
}
