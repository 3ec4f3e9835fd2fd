package webengine

import (
	"strings"

	"gearsearch/catalog/field"
)

// listed is how many problems a reply lists.
const listed = 50

// problem is one thing wrong with a file or a brief.
type problem struct {
	Key     string `json:"key,omitempty"` // of the brief, section.key; "": of none alone
	Place   string `json:"place"`         // where it is put right
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
	Text    string `json:"text"` // all of it, as the program prints it
}

// wrong is everything wrong with what was asked about.
type wrong struct {
	problems []problem
	more     int
}

func (w *wrong) Error() string { return w.problems[0].Text }

func (w *wrong) reply() reply { return reply{Problems: w.problems, More: w.more} }

// The places where a problem is put right: screens of the page.
const (
	onRide  = "ride"
	onParts = "parts"
)

// placeOf is where a problem with a key of a brief is put right. One that is of
// no key alone is about the parts that there are.
func placeOf(key string) string {
	section, _, _ := strings.Cut(key, ".")
	if key == "" || section == "keep" || section == "avoid" {
		return onParts
	}
	return onRide
}

// aimless is the problem of a brief that asks for nothing.
func aimless() *wrong {
	p := problem{
		Place:   onRide,
		Message: "the brief asks for nothing, so that every build that fits together would do",
		Hint:    "ask for a speed, a hill, a range or a price",
	}
	p.Text = p.Message + " (" + p.Hint + ")"
	return &wrong{problems: []problem{p}}
}

// newWrong lists problems. One that a key brought about is about that key of a
// brief.
func newWrong(problems field.Problems) *wrong {
	w := &wrong{}
	if n := problems.Count(); n > listed {
		w.more = n - listed
		problems = problems[:listed]
	}
	for i := range problems {
		p := &problems[i]
		w.problems = append(w.problems, problem{Key: p.By, Place: placeOf(p.By), Message: p.Message, Hint: p.Hint, Text: p.Error()})
	}
	return w
}
