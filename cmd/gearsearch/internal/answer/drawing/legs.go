package drawing

import (
	"math"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/trace"
)

// RouteKind is the kind of drawing whose data can be had as well.
const RouteKind = "route"

const kmh, percent = 3.6, 100

// giveLegs writes what the drawing of the route shows, leg by leg.
func (x *Answer) giveLegs(d *ask.Desk, a *ask.Answer) error {
	ridden, err := plot.Ride(x.Build)
	if err != nil {
		return x.undrawn(RouteKind, err)
	}
	legs := dataout.Objects(ridden.Legs, func(l trace.Leg) dataout.Object { return leg(&ridden, &l) })
	return d.Give(a, ask.Forms{
		Complete: true,
		Document: func() dataout.Document {
			return dataout.Document{
				Head: append(dataout.Head(x.Build.Problem, true), dataout.Object{
					{Key: "build", Value: dataout.Parts(x.Build)},
					{Key: "route", Value: ridden.Way.Name},
					{Key: "length_m", Value: ridden.Way.Length()},
					{Key: "at_best", Value: ridden.AtBest},
					{Key: "stalled", Value: ridden.Stalled},
					{Key: "start_pct", Value: ridden.Start * percent},
					{Key: "left_pct", Value: ridden.Left * percent},
				}...),
				Lists: []dataout.List{{Key: "legs", Items: legs}},
			}
		},
		Table: func() (header []string, rows [][]any) {
			for _, m := range leg(&ridden, &trace.Leg{}) {
				header = append(header, m.Key)
			}
			for o := range legs {
				var row []any
				for _, m := range o {
					row = append(row, m.Value)
				}
				rows = append(rows, row)
			}
			return header, rows
		},
	})
}

// leg is a leg as data.
func leg(r *trace.Ridden, l *trace.Leg) dataout.Object {
	var unheld any = l.Unheld
	if math.IsNaN(r.Unheld) {
		unheld = nil
	}
	return dataout.Object{
		{Key: "from_m", Value: l.From},
		{Key: "to_m", Value: l.To},
		{Key: "height_m", Value: l.Height},
		{Key: "grade_pct", Value: l.Rise / l.Length * percent},
		{Key: "wanted_kmh", Value: l.Wanted * kmh},
		{Key: "speed_kmh", Value: l.Speed * kmh},
		{Key: "load_n", Value: l.Load},
		{Key: "braking_n", Value: l.Braking},
		{Key: "unheld", Value: unheld},
		{Key: "pack_a", Value: l.PackCurrent},
		{Key: "pack_v", Value: l.Volts},
		{Key: "motor_a", Value: l.MotorCurrent},
		{Key: "left_pct", Value: l.Left * percent},
		{Key: "winding_c", Value: l.Winding},
		{Key: "stop", Value: l.Stop},
	}
}
