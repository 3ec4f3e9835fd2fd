package shell

import (
	"context"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// line is a command line that is being typed.
type line struct {
	ctx      context.Context // of the command that asks
	desk     *ask.Desk
	command  *cli.Command // nil: none yet
	commands []*cli.Command
	args     []string // arguments of the command before the last word
	flag     string   // whose value the last word is, "" for none
	catalogs []string // that the line names
	lost     bool     // a word is no command
	lists    bool     // it is about lists of standards
}

// Candidates are what the last of the words may become, each a whole word.
func Candidates(ctx context.Context, d *ask.Desk, commands []*cli.Command, words []string) []string {
	last := words[len(words)-1]
	l := typing(ctx, d, commands, words[:len(words)-1])
	prefix := ""
	if name, value, ok := strings.Cut(last, "="); ok && l.flag == "" && flagLike(last) {
		l.flag, prefix, last = strings.TrimLeft(name, "-"), name+"=", value
	}
	var all []string
	switch {
	case l.lost:
	case l.flag != "":
		all = l.values(last)
	case flagLike(last) || last == "-":
		all = l.flags()
	default:
		all = l.words()
	}
	var out []string
	for _, word := range all {
		if strings.HasPrefix(word, last) {
			out = append(out, prefix+word)
		}
	}
	return out
}

// typing reads the words before the last.
func typing(ctx context.Context, d *ask.Desk, commands []*cli.Command, words []string) *line {
	l := &line{ctx: ctx, desk: d, commands: commands}
	flags := EveryFlag(l.commands)
	for _, word := range words {
		switch {
		case l.flag != "":
			l.value(word)
		case flagLike(word):
			name, value, valued := strings.Cut(strings.TrimLeft(word, "-"), "=")
			f := flagOf(l.command, name)
			if f == nil {
				f = flags[name]
			}
			l.lists = l.lists || name == "standard"
			if f != nil && TakesValue(f) {
				l.flag = name
				if valued {
					l.value(value)
				}
			}
		case l.command == nil || len(l.command.Subcommands) > 0:
			next := find(l.commands, word)
			if next == nil {
				l.lost = true
				return l
			}
			l.command, l.commands = next, next.Subcommands
		default:
			l.args = append(l.args, word)
		}
	}
	return l
}

// value takes the value of the flag before it.
func (l *line) value(text string) {
	if l.flag == "catalog" {
		l.catalogs = append(l.catalogs, text)
	}
	l.flag = ""
}

// flags are the flags of the command.
func (l *line) flags() []string {
	out := []string{"--help"}
	switch {
	case l.command == nil:
		return append(out, "--version")
	case !Groups(l.command):
		for _, f := range l.command.Flags {
			out = append(out, say.Dashed(f.Names()[0]))
		}
	}
	return out
}

// words are commands, or what the command's argument may be; none for files.
func (l *line) words() []string {
	if l.command == nil || len(l.command.Subcommands) > 0 {
		return commandNames(l.commands)
	}
	switch l.command.Name {
	case "show":
		if l.lists {
			return catalog.StandardNames()
		}
		return catalog.KindNames()
	case "completion":
		return shells()
	case "reference":
		if len(l.args) == 0 {
			return strings.Split(l.command.ArgsUsage, "|")
		}
	case "route":
		if len(l.args) == 0 {
			return ask.RouteNames()
		}
	case "shortlist":
		if len(l.args) == 0 {
			return ask.SlotWords()
		}
	}
	return nil
}

// values are what the value of the flag may be, as far as it is typed.
func (l *line) values(typed string) []string {
	switch l.flag {
	case "format":
		return ask.FormatNames()
	case "units":
		return quantity.Systems()
	case "catalog":
		if l.command == nil || l.command.Hidden { // a part is added to a file
			return nil
		}
		return []string{ask.DemoCatalog}
	case "brief":
		var out []string
		for _, src := range catalog.DemoBriefs() {
			out = append(out, ask.DemoPrefix+catalog.DemoBriefName(src))
		}
		return out
	case "route":
		return ask.RouteNames()
	case "charge":
		k, _ := constraints.BriefKeyAt("target.charge")
		return inList(typed, k.Words)
	case "keep", "avoid", "use":
		return l.parts(typed)
	case "weight":
		var out []string
		for _, c := range search.Criteria() {
			out = append(out, c.Name+"=")
		}
		return out
	case "set":
		var out []string
		for _, k := range constraints.BriefKeys() {
			out = append(out, k.Path()+"=")
		}
		return out
	case "front":
		var names []string
		for _, f := range constraints.Figures() {
			names = append(names, f.Name)
		}
		return inList(typed, names)
	case "apart":
		return inList(typed, ask.ApartWords())
	case "change":
		return inList(typed, ask.ChangeWords())
	case "share":
		return inList(typed, ask.SlotWords())
	}
	if words := keyWords(l.command, l.flag); words != nil {
		return words
	}
	return briefWords(l.flag)
}

// keyWords are the words that the flag for a key of a kind of parts takes.
func keyWords(c *cli.Command, flag string) []string {
	if c == nil || !c.Hidden {
		return nil
	}
	k, _ := catalog.KindNamed(c.Name)
	for i := range k.Fields {
		if ask.KeyFlag(k, &k.Fields[i]) == flag {
			return k.Fields[i].Words
		}
	}
	return nil
}

// briefWords are the words that a flag for a key of the brief takes.
func briefWords(flag string) []string {
	for _, f := range ask.BriefFlags {
		if f.Name == flag {
			k, _ := constraints.BriefKeyAt(f.Key)
			return k.Words
		}
	}
	return nil
}

// inList are the names that may come next in a list with commas, each with
// the list before it.
func inList(typed string, names []string) []string {
	before := typed[:strings.LastIndex(typed, ",")+1]
	taken := strings.Split(before, ",")
	var out []string
	for _, name := range names {
		if !slices.Contains(taken, name) {
			out = append(out, before+name)
		}
	}
	return out
}

// parts are slots, and behind a slot the ids of its parts.
func (l *line) parts(typed string) []string {
	name, ids, ok := strings.Cut(typed, "=")
	var out []string
	if !ok {
		for _, s := range constraints.Slots() {
			out = append(out, s.String()+"=")
		}
		return out
	}
	slot, known := constraints.SlotNamed(name)
	read, err := l.desk.CatalogTyped(l.ctx, l.catalogs, l.build())
	if !known || err != nil {
		return nil // what is wrong is said when the line is run
	}
	for _, id := range inList(ids, slotIDs(read, slot)) {
		out = append(out, name+"="+id)
	}
	return out
}

// build is the build file that the line names, "" for none.
func (l *line) build() string {
	if l.command != nil && len(l.args) > 0 && strings.HasPrefix(l.command.ArgsUsage, "BUILD.toml") {
		return l.args[0]
	}
	return ""
}

// slotIDs are the ids of the parts that go into a slot.
func slotIDs(c *catalog.Catalog, slot constraints.Slot) []string {
	var out []string
	for part := range slot.Parts(c) {
		out = append(out, part.ID)
	}
	return out
}
