package ask

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// ApartNone is the word for builds that are not told apart.
const ApartNone = "none"

// ApartWords are the words for what tells designs apart, and for none of it.
func ApartWords() []string { return append(ChangeWords(), ApartNone) }

// ApartFlag names what tells designs apart; besides is what more there is to say of
// its default.
func ApartFlag(besides string) cli.Flag {
	return &cli.StringFlag{
		Name: "apart", Category: ThemeAnswer, DefaultText: apartText(search.ApartByMotor()) + besides,
		Usage: "`CHOICE[,CHOICE]` list designs, the best build of each choice of these: slots, motors (how many), drive (all its slots), or none to list every build",
	}
}

// ApartOf reads the flag.
func ApartOf(c *cli.Context) (search.Apart, error) {
	text := c.String("apart")
	if !c.IsSet("apart") {
		return search.ApartByMotor(), nil
	}
	if strings.TrimSpace(text) == ApartNone {
		return search.Apart{}, nil
	}
	var slots []constraints.Slot
	motors := false
	for word := range strings.SplitSeq(text, ",") {
		word = strings.TrimSpace(word)
		if word == MotorsWord {
			motors = true
			continue
		}
		named, ok := SlotsOf(word)
		switch {
		case word == ApartNone:
			return search.Apart{}, outcome.Usage("write --apart none alone to list every build", "--apart %s: none goes with no choice", say.Shown(text))
		case !ok:
			return search.Apart{}, outcome.Usage(apartHint(word), "--apart %s: there is no choice %s", say.Shown(text), say.Shown(word))
		}
		slots = append(slots, named...)
	}
	return search.ApartIn(motors, slots...), nil
}

// apartHint is a hint at the choice that a word may have meant.
func apartHint(word string) string {
	if near, ok := field.Nearest(word, slices.Values(ApartWords())); ok {
		return "did you mean " + near + "?"
	}
	return "the choices are " + strings.Join(ApartWords(), ", ")
}

// apartText is what tells designs apart as the flag has it.
func apartText(a search.Apart) string {
	if a.None() {
		return ApartNone
	}
	return strings.Join(a.Names(), ",")
}

// ApartAgain is the flag, after a space, that lists the same designs again; "" for
// the default ones.
func ApartAgain(a search.Apart) string {
	if a == search.ApartByMotor() {
		return ""
	}
	return " --apart " + apartText(a)
}
