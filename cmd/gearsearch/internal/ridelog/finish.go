package ridelog

import (
	"slices"
	"strconv"

	"gearsearch/catalog/field"
)

// finish decides what the log is of, and puts it together.
func (r *reader) finish() (*Log, error) {
	r.line, r.text = 1, nil
	r.complainOfRows()
	log := r.log
	log.Kind, log.Forced = r.options.Kind, r.options.Kind != Unsaid
	if log.Kind == Unsaid {
		log.Kind = Coast
		if r.metered() && !r.unpowered() {
			log.Kind = Ride
		}
	}
	if len(r.problems) == 0 {
		if log.Kind == Coast {
			r.coasted()
		} else {
			r.ridden()
		}
	}
	if len(r.problems) > 0 {
		return nil, r.problems
	}
	if c := &r.columns[Time]; c.bare && !r.dated {
		log.Notes = append(log.Notes, Note{Code: BareUnit, Text: c.title, Amount: c.si})
	}
	for c := range codes {
		if n := r.first[c]; n != nil && r.counts(c) {
			log.Notes = append(log.Notes, *n)
		}
	}
	return log, nil
}

// counts reports whether a note is about what the log is of.
func (r *reader) counts(c Code) bool {
	switch c {
	case ShortRuns, BrakedRuns, ThinnedRuns:
		return r.log.Kind == Coast
	case CounterReset, MixedSpeed:
		return r.log.Kind == Ride
	}
	return true
}

// unpowered reports whether next to no energy was taken and no current flowed.
func (r *reader) unpowered() bool {
	const little = 1.8 // J/m: half a Wh/km
	return r.ride.most <= idle && r.ride.joules <= little*r.ride.metres
}

// complainOfRows reports a table that is not what it seems.
func (r *reader) complainOfRows() {
	rows := r.log.Rows
	switch {
	case rows == 0:
		r.problems = append(r.problems, r.problem(cell{}, "", "there are headings, and no rows below"))
		return
	case float64(r.spoiled) > mostSpoiled*float64(rows):
		n := r.first[TextRows]
		r.line = n.Line
		r.problems = append(r.problems, r.problem(cell{}, "are the columns the right ones? --column names others", "%d of %d rows have no time, or no number besides: this is the first", r.spoiled, rows))
	case r.order.resets > 3 && (r.order.resets+r.order.moved)*3 > rows:
		r.problems = append(r.problems, r.problem(cell{}, "sort the rows by their time", "the time goes back again and again"))
	}
	const slow = 20 // s
	if c := &r.columns[Time]; c.bare && !r.dated && r.step >= slow {
		r.line = 1
		r.problems = append(r.problems, r.problem(cell{}, "as in --column "+strconv.Quote("time="+c.title+":ms"), "the heading %s tells no unit, and steps of %.0f are no seconds", field.Quote(c.title), r.step/c.si))
	}
}

// coasted takes the coast-downs.
func (r *reader) coasted() {
	r.coast.close(len(r.coast.times))
	r.log.Runs = r.coast.runs
	for i := range r.log.Runs {
		r.log.Runs[i].Name = r.name
		if len(r.log.Runs) > 1 {
			r.log.Runs[i].Name += " run " + strconv.Itoa(i+1)
		}
	}
	if len(r.log.Runs) > 0 {
		return
	}
	hint := "a coast-down falls by 2 m/s and by 30 % at least, in 9 rows or more, without current"
	if r.columns[Volts].at < 0 && r.columns[Current].at >= 0 {
		hint += "; a ride needs volts beside current, or an energy counter"
	}
	r.problems = append(r.problems, r.problem(cell{}, hint, "no coast-down is found in %d rows", r.log.Rows))
}

// ridden takes the ride.
func (r *reader) ridden() {
	switch {
	case !r.metered():
		r.problems = append(r.problems, r.problem(cell{}, "as in --column volts=NAME:V --column current=NAME:A", "this is to be a ride, and no column meters its energy"))
		return
	case !(r.ride.metres >= leastRide):
		r.problems = append(r.problems, r.problem(cell{}, "a ride takes half a kilometre or more", "the ride is %.0f m long", r.ride.metres))
		return
	case !(r.ride.joules > 0):
		r.problems = append(r.problems, r.problem(cell{}, "does the current count what the pack gives as less than 0?", "the ride took no energy"))
		return
	}
	r.log.Ride, r.log.Travel = r.ride.sum()
	r.log.Ride.Name = r.name
	if mean := r.log.Ride.Speed; r.log.Travel.Spread > varied*mean {
		r.log.Notes = append(r.log.Notes, Note{Code: MixedSpeed, Amount: r.log.Travel.Spread / mean})
	}
	slices.SortStableFunc(r.log.Notes, func(a, b Note) int { return int(a.Code) - int(b.Code) })
}
