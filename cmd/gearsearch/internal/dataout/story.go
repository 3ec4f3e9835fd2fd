package dataout

import (
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Story is how a build comes over the brief's way, null where it cannot be told.
func Story(b *constraints.Build) any {
	s, ok := b.Story()
	if !ok {
		return nil
	}
	pieces, events := []Object{}, []Object{}
	for _, p := range s.Pieces {
		pieces = append(pieces, Object{
			{"from_km", p.From / 1000},
			{"to_km", p.To / 1000},
			{"rise_m", p.Rise},
			{"min", p.Seconds / 60},
			{"slowest_kmh", p.Slowest * 3.6},
			{"wh", p.Energy / 3600},
			{"charge_pct", p.Charge * 100},
			{"winding_c", p.Winding},
			{"stops", p.Stops},
		})
	}
	for _, e := range s.Events {
		o := Object{{"what", string(e.Code)}, {"from_km", e.From / 1000}, {"to_km", e.To / 1000}, {"steepest_pct", e.Steepest * 100}}
		if e.Code != constraints.Stalls {
			o = append(o, Member{"speed_kmh", e.Speed * 3.6}, Member{"wanted_kmh", e.Wanted * 3.6}, Member{"limited_by", by(e.By)}, Member{"pack_full", e.Full})
		}
		events = append(events, o)
	}
	return Object{
		{"name", b.Problem.Brief.Way.Name},
		{"corner", corner(s.Known)},
		{"stalled", s.Stalled},
		{"hottest_km", s.Hottest / 1000},
		{"lowest_volts_km", s.Lowest / 1000},
		{"pieces", pieces},
		{"events", events},
	}
}

// by is the word for a limit, null for none.
func by(l drive.Limit) any {
	if word := l.String(); word != "" {
		return word
	}
	return nil
}

// corner names the corner of a build that is told of.
func corner(worst bool) string {
	if worst {
		return "worst"
	}
	return "best"
}
