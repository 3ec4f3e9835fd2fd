package say

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// noteRow is the words of a note: a text with a place for each quantity.
type noteRow struct {
	text string
	join string // between what stands before and the text; "": a semicolon
}

// noteWords are the words of every note.
var noteWords = map[constraints.NoteCode]noteRow{
	constraints.NoThrustWithout: {text: "the thrust is not known without %s"},
	constraints.NoThrust:        {text: "the thrust is not known"},
	constraints.NoMotion:        {text: "the board does not move off", join: ": "},
	constraints.NoTopSpeed:      {text: "no top speed is asked for"},
	constraints.NoGrade:         {text: "no climb grade is asked for"},
	constraints.NoLaunchSpeed:   {text: "no launch speed is asked for"},
	constraints.NoLaunch:        {text: "%s is never reached"},
	constraints.NoLaunchTime:    {text: "the thrust is not known, or the launch speed is never reached"},
	constraints.NoCeiling:       {text: "neither the brief nor the controller has an rpm ceiling"},
	constraints.NoCeilingHere:   {text: "this build has no ceiling"},
	constraints.CruiseTooFast:   {text: "the cruise speed of %s is above the top speed of %s"},
	constraints.CruiseTooGreat:  {text: "the pack cannot give the power that %s takes"},
	constraints.NoResistance:    {text: "the motor's resistance is not known"},
	constraints.NoCapacity:      {text: "the pack's capacity is not known"},
	constraints.NoRange:         {text: "the range is not known, or the board cannot cruise that fast"},
	constraints.NoContinuous:    {text: "the motor's continuous current is not known"},
	constraints.NoBelt:          {text: "there is no belt that fits"},
	constraints.NoBeltAround:    {text: "the belt does not go around the two pulleys"},
	constraints.NoChain:         {text: "there is no chain that fits"},
	constraints.NoChainAround:   {text: "the chain does not go around the two sprockets"},
	constraints.GearNoBelt:      {text: "a gear drive has no belt", join: ", as "},
	constraints.NoPrice:         {text: "a price is not known"},
	constraints.NoMass:          {text: "a mass is not known"},
	constraints.WindTooGreat:    {text: "the thrust does not hold %s against a wind of %s"},
	constraints.NoLength:        {text: "no length of the hill is asked for"},
	constraints.NoThermal:       {text: "neither the motor's mass nor its can is known"},
	constraints.NoIntake:        {text: "the current that the pack may be charged with is not known"},
	constraints.NoMotorLimit:    {text: "no limit of the motor current is known"},
	constraints.NeverStops:      {text: "nothing stops the board"},
	constraints.NoRoute:         {text: "no route is asked for"},
	constraints.NoCutoff:        {text: "the pack's cut-off is not known"},
	constraints.StallsAt:        {text: "the board stalls after %s"},

	constraints.TakesNothing:         {text: "at %s charge the pack takes no current, and the board rolls out: no electric braking"},
	constraints.LowerVoltsLonger:     {text: "longer than at nine tenths: the pack takes the same current at lower volts, which is less power"},
	constraints.GoodToFortyPercent:   {text: "the rise is good to ± 40 %%"},
	constraints.CeilingAllows:        {text: "the rpm ceiling allows %s"},
	constraints.MotorInWheel:         {text: "the motor sits in the wheel", join: ", as "},
	constraints.NoGearTeeth:          {text: "the gears' teeth are not known"},
	constraints.PulleysMeetInTurn:    {text: "pulleys of " + meetInTurn},
	constraints.PulleysMeetOneOnly:   {text: "pulleys of " + meetOneOnly},
	constraints.SprocketsMeetInTurn:  {text: "sprockets of " + meetInTurn},
	constraints.SprocketsMeetOneOnly: {text: "sprockets of " + meetOneOnly},
	constraints.GearsMeetInTurn:      {text: "gears of " + meetInTurn},
	constraints.GearsMeetOneOnly:     {text: "gears of " + meetOneOnly},
}

// Words that the notes on pulleys and on gears share.
const (
	meetInTurn  = "%s and %s teeth share no divisor: each tooth meets all of the other in turn"
	meetOneOnly = "%s and %s teeth share the divisor %s: each tooth meets only one in %[3]s of the other, where a flaw of it wears sooner"
)

// datumWords are the names of what the thrust is not known without.
var datumWords = map[constraints.Datum]string{
	constraints.MotorResistance:     "the motor's resistance",
	constraints.MotorCurrentLimit:   "a limit of the motor current",
	constraints.BatteryCurrentLimit: "a limit of the battery current",
}

// Numbers write a formula with the numbers of a build put in, and what there is
// to say beside it, or why a number is missing.
func Numbers(n constraints.Numbers) string {
	text, notes := n.Formula, n.Notes
	if len(notes) > 0 && notes[0].Code == constraints.NoThrustWithout {
		if text != "" {
			text = ", so " + text
		}
		text, notes = noteText(notes[0])+text, notes[1:]
	}
	for _, note := range notes {
		if text != "" {
			join := "; "
			if row := noteWords[note.Code]; row.join != "" {
				join = row.join
			}
			text += join
		}
		text += noteText(note)
	}
	return text
}

// noteText writes one note.
func noteText(n constraints.Note) string {
	var words []any
	if n.Code == constraints.NoThrustWithout {
		var lacking []string
		for _, d := range n.Lacking {
			lacking = append(lacking, datumWords[d])
		}
		words = append(words, strings.Join(lacking, " and "))
	}
	for _, q := range n.Quantities {
		words = append(words, Quantity(q, quantity.Metric))
	}
	return fmt.Sprintf(noteWords[n.Code].text, words...)
}
