package fit

import (
	"iter"
	"math"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/say/fitted"
	"gearsearch/search/fit"
)

// number is x, nil where it is not known.
func number(x float64) any {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return x
}

// document is the answer as data.
func (f *Answer) document() dataout.Document {
	r := f.result
	return dataout.Document{
		Head: append(dataout.Head(f.Build.Problem, true),
			dataout.Member{Key: "parts", Value: dataout.Parts(f.Build)},
			dataout.Member{Key: "rolling_resistance", Value: f.estimate(fit.Rolling)},
			dataout.Member{Key: "drag_area_m2", Value: f.estimate(fit.Drag)},
			dataout.Member{Key: "correlation", Value: number(r.Correlation)},
			dataout.Member{Key: "slope_pct", Value: number(r.Slope * 100)},
			dataout.Member{Key: "coast_scatter_kmh", Value: number(r.RunScatter * 3.6)},
			dataout.Member{Key: "ride_scatter_pct", Value: number(r.RideScatter * 100)},
			dataout.Member{Key: "ride_scatter_told", Value: r.ScatterTold},
			dataout.Member{Key: "residual_correlation", Value: r.Memory},
			dataout.Member{Key: "corners", Value: r.Blank},
			dataout.Member{Key: "freewheel", Value: f.Records.Freewheel},
			dataout.Member{Key: "cautions", Value: fitted.Cautions()},
		),
		Lists: []dataout.List{{Key: "logs", Items: f.logs()}, {Key: "coast_downs", Items: f.coasts()}, {Key: "rides", Items: f.rides()}},
	}
}

// estimate is one of the two as data.
func (f *Answer) estimate(u fit.Unknown) dataout.Object {
	e := f.result.Estimate(u)
	pct := any(nil)
	if e.Verdict == fit.Told {
		pct = fitted.Share(e)
	}
	return dataout.Object{
		{Key: "value", Value: e.Value},
		{Key: "low", Value: number(e.Low)},
		{Key: "high", Value: number(e.High)},
		{Key: "pct", Value: pct},
		{Key: "verdict", Value: fitted.VerdictCode(e.Verdict)},
		{Key: "brief", Value: f.was(u)},
	}
}

func (f *Answer) logs() iter.Seq[dataout.Object] {
	return func(yield func(dataout.Object) bool) {
		for _, l := range f.Logs {
			columns, notes := []dataout.Object{}, []string{}
			for _, c := range l.Columns {
				columns = append(columns, dataout.Object{{Key: "quantity", Value: c.Of.Name()}, {Key: "heading", Value: c.Heading}})
			}
			for i := range l.Notes {
				notes = append(notes, fitted.LogNote(&l.Notes[i]))
			}
			if !yield(dataout.Object{
				{Key: "file", Value: l.Name}, {Key: "kind", Value: kindOf(l.Kind)}, {Key: "rows", Value: l.Rows}, {Key: "columns", Value: columns}, {Key: "notes", Value: notes},
			}) {
				return
			}
		}
	}
}

func (f *Answer) coasts() iter.Seq[dataout.Object] {
	return func(yield func(dataout.Object) bool) {
		for i := range f.result.Runs {
			run := &f.result.Runs[i]
			last := len(run.Times) - 1
			if !yield(dataout.Object{
				{Key: "name", Value: run.Name},
				{Key: "direction", Value: dataout.TextOrNil(fitted.Way(run.Direction))},
				{Key: "samples", Value: last + 1},
				{Key: "seconds", Value: run.Times[last] - run.Times[0]},
				{Key: "start_kmh", Value: run.Start * 3.6},
				{Key: "end_kmh", Value: run.Speeds[last] * 3.6},
				{Key: "residual_kmh", Value: run.Residual * 3.6},
			}) {
				return
			}
		}
	}
}

func (f *Answer) rides() iter.Seq[dataout.Object] {
	return func(yield func(dataout.Object) bool) {
		for i := range f.result.Rides {
			ride := &f.result.Rides[i]
			if !yield(dataout.Object{
				{Key: "name", Value: ride.Name},
				{Key: "speed_kmh", Value: ride.Speed * 3.6},
				{Key: "stops_per_km", Value: number(ride.Stops * 1000)},
				{Key: "ascent_m_per_km", Value: number(ride.Ascent * 1000)},
				{Key: "rise_m_per_km", Value: ride.Rise * 1000},
				{Key: "wh_per_km", Value: ride.Energy / 3.6},
				{Key: "fitted_wh_per_km", Value: ride.Computed / 3.6},
				{Key: "off_pct", Value: 100 * (ride.Computed/ride.Energy - 1)},
			}) {
				return
			}
		}
	}
}

// table is the answer as rows: the two values, and how far each record is off.
func (f *Answer) table() (header []string, rows [][]any) {
	header = []string{"what", "name", "value", "low", "high", "verdict"}
	for _, u := range []struct {
		key string
		of  fit.Unknown
	}{{"rolling_resistance", fit.Rolling}, {"drag_area_m2", fit.Drag}} {
		e := f.result.Estimate(u.of)
		rows = append(rows, []any{u.key, nil, e.Value, number(e.Low), number(e.High), fitted.VerdictCode(e.Verdict)})
	}
	rows = append(rows, []any{"correlation", nil, number(f.result.Correlation), nil, nil, nil}, []any{"slope_pct", nil, number(f.result.Slope * 100), nil, nil, nil})
	for i := range f.result.Runs {
		rows = append(rows, []any{"residual_kmh", f.result.Runs[i].Name, f.result.Runs[i].Residual * 3.6, nil, nil, nil})
	}
	for i := range f.result.Rides {
		ride := &f.result.Rides[i]
		rows = append(rows, []any{"off_pct", ride.Name, 100 * (ride.Computed/ride.Energy - 1), nil, nil, nil})
	}
	return header, rows
}
