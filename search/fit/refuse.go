package fit

import "gearsearch/constraints"

// Refusal says why records are not fitted.
type Refusal struct {
	Code Code
	Name string // of the run or ride, "" where it is about all of them
}

// Code is a reason to refuse.
type Code uint8

// The codes.
const (
	NoRecords    Code = iota
	OneRide           // for two unknowns
	NoResistance      // of the motor, which rides take
	ShortRun          // fewer samples than MinSamples
	Unsettled         // no least squares were found
)

// Error names the code for programs; what people read is said elsewhere.
func (r *Refusal) Error() string {
	return [...]string{"no records", "one ride for two unknowns", "motor resistance not known", "short run", "not settled"}[r.Code]
}

// refuse is an error where the records cannot tell what is asked.
func refuse(b *constraints.Build, rec *Records) error {
	switch {
	case len(rec.Runs)+len(rec.Rides) == 0:
		return &Refusal{Code: NoRecords}
	case len(rec.Runs) == 0 && len(rec.Rides) == 1 && rec.Only == nil:
		return &Refusal{Code: OneRide, Name: rec.Rides[0].Name}
	case len(rec.Rides) > 0 && !(b.Board().R > 0):
		return &Refusal{Code: NoResistance, Name: rec.Rides[0].Name}
	}
	for i := range rec.Runs {
		if len(rec.Runs[i].Times) < MinSamples {
			return &Refusal{Code: ShortRun, Name: rec.Runs[i].Name}
		}
	}
	return nil
}
