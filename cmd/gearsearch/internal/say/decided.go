package say

import (
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
)

// A check that does not read every choice of a build is not mended by the others.
// What it reads follows from its scope.

// choice is one choice of a build with what people call it.
type choice struct {
	scope   constraints.Scope
	word    string // of a change: no change of wheel or teeth …
	of      string // of its quantities: kv of the motor
	command string // that swap takes
}

// choices are in the order in which a quantity is named.
var choices = []choice{
	{constraints.OnMotor, "motor", "the motor", "motor"},
	{constraints.OnCount, "number of motors", "", ""},
	{constraints.OnBattery, "battery", "the battery", "battery"},
	{constraints.OnController, "controller", "the controller", "controller"},
	{constraints.OnDrive, "teeth", "the drive", "drive"},
	{constraints.OnWheel, "wheel", "the wheel", "wheel"},
}

// changedFirst are the choices that people change first.
var changedFirst = []constraints.Scope{constraints.OnWheel, constraints.OnDrive, constraints.OnMotor, constraints.OnBattery}

// readings are the quantities of each choice by which a check goes that does not
// read all of them.
func readings(check string) map[constraints.Scope]string {
	switch check {
	case "bore":
		return map[constraints.Scope]string{constraints.OnMotor: "shaft", constraints.OnDrive: "bore"}
	case "sensor":
		return map[constraints.Scope]string{constraints.OnMotor: "sensors"}
	case "can":
		return map[constraints.Scope]string{constraints.OnMotor: "can", constraints.OnDrive: "centre distance and angle", constraints.OnWheel: "size"}
	case "profile":
		return map[constraints.Scope]string{constraints.OnDrive: "profiles"}
	case "hub":
		return map[constraints.Scope]string{constraints.OnDrive: "hub", constraints.OnWheel: "hub"}
	case "belt":
		return map[constraints.Scope]string{constraints.OnDrive: "belt or chain and mount"}
	case "mesh":
		return map[constraints.Scope]string{constraints.OnDrive: "teeth and centre distance"}
	case "clearance":
		return map[constraints.Scope]string{constraints.OnDrive: "size", constraints.OnWheel: "size"}
	case "hanger":
		return map[constraints.Scope]string{constraints.OnMotor: "can length", constraints.OnCount: "number of motors", constraints.OnDrive: "kind"}
	case "voltage":
		return map[constraints.Scope]string{constraints.OnMotor: "volts", constraints.OnBattery: "volts", constraints.OnController: "volts"}
	case "erpm":
		return map[constraints.Scope]string{
			constraints.OnMotor: "kv and pole pairs", constraints.OnBattery: "volts", constraints.OnController: "ceiling",
			constraints.OnDrive: "reduction", constraints.OnWheel: "size",
		}
	}
	return nil
}

// Decided says which choices a check depends on and which do not matter to it; "" for
// a check that reads them all.
func Decided(c *constraints.Check, p *constraints.Problem) string {
	scope := c.Scope(p)
	idle := slices.DeleteFunc(slices.Clone(changedFirst), func(s constraints.Scope) bool { return scope&s != 0 })
	if scope == constraints.OnAll || len(idle) == 0 {
		return ""
	}
	return "No change of " + strings.Join(wordsFor(idle[:min(2, len(idle))]), " or ") + " mends " + c.Name + ": it depends on " + GoesBy(c, p)
}

// GoesBy names the quantities that a check depends on.
func GoesBy(c *constraints.Check, p *constraints.Problem) string {
	scope, of := c.Scope(p), readings(c.Name)
	if c.Name == "erpm" && scope&constraints.OnBattery == 0 {
		of[constraints.OnMotor] = "pole pairs" // at a given speed the wheel turns the motor
	}
	var list []string
	for _, x := range choices {
		switch what := of[x.scope]; {
		case scope&x.scope == 0:
		case what == "":
			list = append(list, "the "+x.word)
		case x.of == "":
			list = append(list, "the "+what)
		default:
			list = append(list, "the "+what+" of "+x.of)
		}
	}
	return InWords(list)
}

// wordsFor are what people call choices.
func wordsFor(scopes []constraints.Scope) []string {
	var out []string
	for _, s := range scopes {
		i := slices.IndexFunc(choices, func(x choice) bool { return x.scope == s })
		out = append(out, choices[i].word)
	}
	return out
}

// DecidedText adds what each missed check depends on, where that is not everything.
func DecidedText(out *layout.Text, misses []constraints.Result, p *constraints.Problem) {
	for _, r := range misses {
		if text := Decided(r.Check, p); text != "" {
			out.Paragraph(text + ".")
		}
	}
}

// Untouched are the misses that no change of some choices mends, as their checks
// do not read these.
func Untouched(misses []constraints.Result, freed constraints.Scope, p *constraints.Problem) []constraints.Result {
	return slices.DeleteFunc(slices.Clone(misses), func(r constraints.Result) bool { return r.Check.Scope(p)&freed != 0 })
}

// ChangeWords are the words by which swap frees choices.
func ChangeWords(scope constraints.Scope) []string {
	var out []string
	for _, x := range choices {
		if scope&x.scope != 0 && x.command != "" {
			out = append(out, x.command)
		}
	}
	return out
}
