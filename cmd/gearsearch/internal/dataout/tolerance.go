package dataout

import (
	"gearsearch/search"
)

// Robustness is a build's robustness as data.
func Robustness(x search.Robustness) Object {
	checks := []Object{}
	for _, c := range x.Checks {
		checks = append(checks, Object{{Key: "name", Value: c.Name}, {Key: "share", Value: c.Share}})
	}
	figures := Object{}
	for _, f := range x.Figures {
		figures = append(figures, Member{Key: f.Name, Value: Object{
			{Key: "p5", Value: f.Low}, {Key: "p50", Value: f.Middle}, {Key: "p95", Value: f.High}, {Key: "known", Value: f.Known},
		}})
	}
	return Object{{Key: "draws", Value: x.Draws}, {Key: "share", Value: x.Share}, {Key: "checks", Value: checks}, {Key: "figures", Value: figures}}
}

// Spread is the spread of a figure.
func Spread(x search.Robustness, name string) (search.FigureSpread, bool) {
	for _, f := range x.Figures {
		if f.Name == name {
			return f, true
		}
	}
	return search.FigureSpread{}, false
}
