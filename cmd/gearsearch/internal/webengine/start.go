package webengine

import (
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// introduction is what a page must know before it can ask.
type introduction struct {
	Protocol int         `json:"protocol"`
	MaxFile  int         `json:"maxFile"` // bytes
	Keys     []briefKey  `json:"keys"`
	Criteria []criterion `json:"criteria"`
	Briefs   []titled    `json:"briefs"`
	Routes   []titled    `json:"routes"` // the embedded ways to ride
	Slots    []slotInfo  `json:"slots"`
	Figures  []titled    `json:"figures"` // of which more or less is better
	Cautions []string    `json:"cautions"`
}

// briefKey is a key of a brief.
type briefKey struct {
	Key    string   `json:"key"`   // section.key
	Label  string   `json:"label"` // without section and unit
	Unit   string   `json:"unit,omitempty"`
	Words  []string `json:"words,omitempty"`
	Number bool     `json:"number"` // a number goes
	Flag   bool     `json:"flag"`   // it is true or false
	List   bool     `json:"list"`   // it is a list of its words, which are names of checks

	Subjects []string `json:"subjects,omitempty"` // of these checks
	Default  string   `json:"default"`
	Meaning  string   `json:"meaning"`
	Range    string   `json:"range"`
}

// criterion is a criterion of the score.
type criterion struct {
	Name    string `json:"name"`
	Meaning string `json:"meaning"`
	Formula string `json:"formula"`
}

// titled is a name with what it stands for.
type titled struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

// slotInfo is a slot and the kind of parts that fill it.
type slotInfo struct {
	Name    string `json:"name"`
	Called  string `json:"called"` // for people, in belt and chain drives
	Kind    string `json:"kind"`
	Meaning string `json:"meaning"`
}

func introduce() *introduction {
	in := &introduction{
		Protocol: Protocol, MaxFile: field.MaxSize,
		Cautions: say.GeneralCautions(constraints.EveryBoard(), quantity.Metric),
	}
	for _, k := range constraints.BriefKeys() {
		key := briefKey{
			Key: k.Path(), Label: say.KeyLabel(k.Key, k.Unit), Unit: k.Unit, Words: k.Words,
			Number: oneNumber(k.Type),
			Flag:   k.Type == field.TypeFlag, List: listsWords(k.Path()),
			Default: strings.Trim(k.Default, `["]`), Meaning: k.Meaning, Range: k.Range(),
		}
		if key.List {
			key.Subjects = subjects(key.Words)
		}
		in.Keys = append(in.Keys, key)
	}
	for _, c := range search.Criteria() {
		in.Criteria = append(in.Criteria, criterion{c.Name, c.Meaning, c.Formula})
	}
	for _, src := range catalog.DemoBriefs() {
		in.Briefs = append(in.Briefs, titled{catalog.DemoBriefName(src), firstSentence(string(src.Data))})
	}
	in.Routes = demoWays()
	for _, s := range constraints.Slots() {
		in.Slots = append(in.Slots, newSlotInfo(s))
	}
	for _, f := range constraints.Figures() {
		if f.Better != constraints.Neither {
			in.Figures = append(in.Figures, titled{f.Name, f.Label})
		}
	}
	return in
}

// subjects are what the checks are about that have these names.
func subjects(names []string) (out []string) {
	for _, name := range names {
		for _, c := range constraints.Registry() {
			if c.Name == name {
				out = append(out, c.Subject)
			}
		}
	}
	return out
}

// newSlotInfo tells a slot and its kind: the kind's name is the slot's, but for
// pulleys, whose slots are those of their two sides.
func newSlotInfo(s constraints.Slot) slotInfo {
	in := slotInfo{Name: s.String(), Called: leaf.SlotName(s.String()), Kind: s.Kind()}
	if chain := s.Called(true); chain != s.String() {
		in.Called += " or " + leaf.SlotName(chain)
	}
	for _, k := range catalog.Kinds() {
		if k.Name == in.Kind {
			in.Meaning = k.Meaning
		}
	}
	return in
}

// firstSentence is the comment that a file begins with, up to its first full
// stop, which is left out.
func firstSentence(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	line, _, _ = strings.Cut(strings.TrimSpace(strings.TrimLeft(line, "# ")), ".")
	return line
}
