// Package shell is between the command line and the commands: it reads
// arguments in any order, and writes help, completion and the manual page.
package shell

import (
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// The command-line library parses flags only before arguments and takes later
// ones for arguments without a word; it prints usage errors and help on stdout;
// its suggestions name something however far; required flags skip its error
// hook; and commands without subcommands answer to a hidden "help". So the
// arguments are read here first: put in the order that the library parses,
// every flag and command known, every value there. What is left for the
// library is to hand the values over.

// Invocation is a command line, understood.
type Invocation struct {
	path    []*cli.Command // the commands named, outermost first; empty: none
	flags   []string       // --name=value
	Args    []string
	Help    bool // --help, -h, or the word help before the command
	Version bool
}

// Command is the innermost command, nil if none is named.
func (v *Invocation) Command() *cli.Command {
	if len(v.path) == 0 {
		return nil
	}
	return v.path[len(v.path)-1]
}

// Name is the command as a user types it.
func (v *Invocation) Name() string {
	words := []string{"gearsearch"}
	for _, c := range v.path {
		words = append(words, c.Name)
	}
	return strings.Join(words, " ")
}

// Argv is the command line in the library's order.
func (v *Invocation) Argv() []string {
	out := strings.Split(v.Name(), " ")
	out = append(out, v.flags...)
	return append(append(out, "--"), v.Args...)
}

// given is a flag as it stands on the command line.
type given struct {
	name  string
	known cli.Flag // under any command; nil: unknown
}

// reading is a command line that is being read.
type reading struct {
	*Invocation
	commands []*cli.Command
	known    map[string]cli.Flag // under any command
	rest     []string            // is not read yet
	found    []given
	words    bool // after --: no flags follow
}

// Understand reads a command line; args[0] is the program's name.
func Understand(commands []*cli.Command, args []string) (*Invocation, error) {
	v := &Invocation{}
	r := &reading{Invocation: v, commands: commands, known: EveryFlag(commands), rest: args[min(1, len(args)):]}
	for len(r.rest) > 0 {
		if err := r.next(); err != nil {
			return nil, err
		}
	}
	if v.Help || v.Version {
		return v, nil
	}
	return v, v.check(commands, r.found)
}

// next reads an argument, with the value behind it where it is a flag that takes
// one.
func (r *reading) next() error {
	arg := r.rest[0]
	r.rest = r.rest[1:]
	switch {
	case r.words, arg != "--" && !flagLike(arg):
		return r.word(r.commands, arg)
	case arg == "--":
		r.words = true
		return nil
	}
	name, value, valued := strings.Cut(strings.TrimPrefix(arg[1:], "-"), "=")
	switch name {
	case "h", "help":
		r.Help = true
		return nil
	case "version":
		r.Version = true
		return nil
	}
	f := r.flag(name)
	r.found = append(r.found, given{name, f})
	switch {
	case f == nil:
		return nil // said by check, where the command is known
	case !TakesValue(f):
		if _, err := strconv.ParseBool(value); valued && err != nil {
			return outcome.Usage("write --"+name+" alone", "--%s is a switch and takes no value %s", name, field.Quote(value))
		}
		r.flags = append(r.flags, arg)
		return nil
	case !valued:
		var err error
		if value, err = r.value(name, f); err != nil {
			return err
		}
	}
	r.flags = append(r.flags, "--"+name+"="+value)
	return nil
}

// flag is the flag of that name: of the command, where that is known already,
// else of any; nil for none.
func (r *reading) flag(name string) cli.Flag {
	if f := flagOf(r.Command(), name); f != nil {
		return f
	}
	return r.known[name]
}

// flagOf is the flag of that name of a command; nil for none.
func flagOf(c *cli.Command, name string) cli.Flag {
	if c != nil {
		for _, f := range c.Flags {
			if slices.Contains(f.Names(), name) {
				return f
			}
		}
	}
	return nil
}

// value reads the value behind a flag.
func (r *reading) value(name string, f cli.Flag) (string, error) {
	if len(r.rest) == 0 {
		return "", outcome.Usage(Example(f), "--%s needs a value", name)
	}
	value := r.rest[0]
	if value == "--" || flagLike(value) {
		return "", outcome.Usage(Example(f), "--%s needs a value before %s", name, say.Shown(value))
	}
	r.rest = r.rest[1:]
	return value, nil
}

// word takes an argument that is no flag: the word help, a command, or an
// argument of the command.
func (v *Invocation) word(commands []*cli.Command, arg string) error {
	c := v.Command()
	if c != nil {
		commands = c.Subcommands
	}
	switch {
	case c == nil && arg == "help":
		v.Help = true
	case len(commands) == 0:
		v.Args = append(v.Args, arg)
	default:
		next := find(commands, arg)
		if next == nil {
			return unknownCommand(v, commands, arg)
		}
		v.path = append(v.path, next)
	}
	return nil
}

func find(commands []*cli.Command, name string) *cli.Command {
	for _, c := range commands {
		if c.Name == name {
			return c
		}
	}
	return nil
}

func unknownCommand(v *Invocation, commands []*cli.Command, arg string) error {
	names := commandNames(commands)
	hint, what := "the commands are "+strings.Join(names, ", "), "command"
	if c := v.Command(); c != nil && !Groups(c) {
		hint, what = "the kinds are "+strings.Join(names, ", "), "kind"
	}
	if near, ok := field.Nearest(arg, slices.Values(names)); ok {
		hint = "did you mean " + v.Name() + " " + near + "?"
	}
	return outcome.Usage(hint, "%s has no %s %s", v.Name(), what, say.Shown(arg))
}

// check reports flags that the command does not have.
func (v *Invocation) check(commands []*cli.Command, found []given) error {
	if len(found) == 0 {
		return nil
	}
	c := v.Command()
	if c == nil || Groups(c) {
		if unknown := slices.IndexFunc(found, func(g given) bool { return g.known == nil }); unknown < 0 {
			return outcome.Usage(v.Name()+" --help lists the commands", "a flag but no command")
		}
	}
	for _, g := range found {
		if c != nil && hasFlag(c, g.name) {
			continue
		}
		if owners := owners(commands, g.name); len(owners) > 0 {
			return outcome.Usage("", "%s has no flag %s; %s", v.Name(), say.Dashed(g.name), say.Together(owners, "has", "have"))
		}
		hint := v.Name() + " --help lists the flags"
		if way := briefHint(g.name); way != "" && c != nil && hasFlag(c, "set") {
			hint = way
		} else if near, ok := field.Nearest(g.name, slices.Values(flagNames(c, commands))); ok {
			hint = "did you mean " + say.Dashed(near) + "?"
		}
		return outcome.Usage(hint, "%s has no flag %s", v.Name(), say.Shown(say.Dashed(g.name)))
	}
	return nil
}

// briefHint says how to set a key of the brief for which somebody typed a flag that
// does not exist, named after the key with or without its unit, as --launch-speed for
// target.launch_speed_kmh. It is "" where there is no such key.
func briefHint(name string) string {
	var ways []string
	for _, k := range constraints.BriefKeys() {
		switch k.Section {
		case "weights", "tolerance", "keep", "avoid": // repeat names of the others
			continue
		}
		if dashes(name) != dashes(k.Key) && dashes(name) != dashes(quantity.Label(k.Key, k.Unit)) {
			continue
		}
		key := k.Path()
		if i := slices.IndexFunc(ask.BriefFlags, func(f ask.BriefFlag) bool { return f.Key == key }); i >= 0 {
			ways = append(ways, say.Dashed(ask.BriefFlags[i].Name))
		} else {
			ways = append(ways, "--set "+key+"=…")
		}
	}
	if len(ways) == 0 {
		return ""
	}
	return "it is set by " + strings.Join(ways, " or ")
}

// dashes writes a name with dashes between its words.
func dashes(name string) string { return strings.NewReplacer("_", "-", " ", "-").Replace(name) }

// flagLike reports whether an argument is a flag rather than a value: it
// begins with a dash, and is neither the dash alone, which stands for a
// standard stream, nor a negative number.
func flagLike(arg string) bool {
	return len(arg) > 1 && arg[0] == '-' && !strings.ContainsRune("0123456789.", rune(arg[1]))
}

// Groups reports whether a command only groups others. One whose commands are all
// hidden tells of them itself, as catalog add does of the kinds.
func Groups(c *cli.Command) bool {
	return slices.ContainsFunc(c.Subcommands, func(s *cli.Command) bool { return !s.Hidden })
}

// commandNames are the names of commands that are not hidden, or of all where all
// are.
func commandNames(commands []*cli.Command) []string {
	var names, hidden []string
	for _, c := range commands {
		if c.Hidden {
			hidden = append(hidden, c.Name)
		} else {
			names = append(names, c.Name)
		}
	}
	if names == nil {
		return hidden
	}
	return names
}

// Leaves yields every command that can be run and is not hidden, with its full
// name.
func Leaves(commands []*cli.Command, prefix string, visit func(name string, c *cli.Command)) {
	for _, c := range commands {
		if c.Hidden {
			continue
		}
		if Groups(c) {
			Leaves(c.Subcommands, prefix+c.Name+" ", visit)
			continue
		}
		visit(prefix+c.Name, c)
	}
}

// EveryFlag is the flags of all commands by every name they have. A name means
// the same under every command that has it, but for the keys of the kinds of parts
// behind catalog add.
func EveryFlag(commands []*cli.Command) map[string]cli.Flag {
	all := map[string]cli.Flag{}
	Leaves(commands, "", func(_ string, c *cli.Command) {
		for _, f := range c.Flags {
			for _, name := range f.Names() {
				all[name] = f
			}
		}
	})
	Leaves(commands, "", func(_ string, c *cli.Command) {
		for _, kind := range c.Subcommands {
			for _, f := range kind.Flags {
				if name := f.Names()[0]; all[name] == nil {
					all[name] = f
				}
			}
		}
	})
	return all
}

// owners lists the commands that have a flag.
func owners(commands []*cli.Command, flag string) []string {
	var out []string
	Leaves(commands, "", func(name string, c *cli.Command) {
		if hasFlag(c, flag) {
			out = append(out, name)
		}
	})
	return out
}

func hasFlag(c *cli.Command, name string) bool {
	return slices.ContainsFunc(c.Flags, func(f cli.Flag) bool { return slices.Contains(f.Names(), name) })
}

// flagNames lists the flags of a command, or of all where none is named.
func flagNames(c *cli.Command, commands []*cli.Command) []string {
	if c != nil && !Groups(c) {
		commands = []*cli.Command{c}
	}
	names := []string{"help", "version"}
	if c != nil && c.Hidden {
		for _, f := range c.Flags {
			names = append(names, f.Names()...)
		}
	}
	Leaves(commands, "", func(_ string, c *cli.Command) {
		for _, f := range c.Flags {
			names = append(names, f.Names()...)
		}
	})
	return names
}

// TakesValue reports whether a flag takes a value.
func TakesValue(f cli.Flag) bool {
	d, ok := f.(cli.DocGenerationFlag)
	return ok && d.TakesValue()
}
