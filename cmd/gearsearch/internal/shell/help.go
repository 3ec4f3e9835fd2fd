package shell

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
)

// helpWidth is the width of help, whatever the terminal: help is prose.
const helpWidth = 80

// BriefHelp is what the bare program prints.
func BriefHelp(commands []*cli.Command) string {
	var b strings.Builder
	b.WriteString(`gearsearch rank
    ranks the builds of an embedded demo catalog for an embedded brief

gearsearch rank --top-speed 35km/h --climb-grade 12% --range 15km
    the same with targets of your own; --catalog and --brief name your files

Put together an electric board: from a catalog of parts and a brief of what the
board must do, gearsearch finds every build that does it, ranks them, and says
how many builds each check rejected.

Commands
`)
	var names, uses []string
	Leaves(commands, "", func(name string, c *cli.Command) {
		names = append(names, strings.TrimSpace(name+" "+c.ArgsUsage))
		uses = append(uses, c.Usage)
	})
	b.WriteString(hanging(names, uses))
	b.WriteString(`
gearsearch COMMAND --help tells more about a command, gearsearch --version
which version this is.
`)
	return b.String()
}

// CommandHelp is the help of a command: a line, examples, and its flags by
// theme.
func CommandHelp(v *Invocation) string {
	c := v.Command()
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\nExamples\n", v.Name(), c.Usage)
	for _, line := range Examples(c) {
		b.WriteString("  " + line + "\n")
	}
	fmt.Fprintf(&b, "\nUsage\n  %s [flags]\n", strings.TrimSpace(v.Name()+" "+c.ArgsUsage))
	for _, paragraph := range strings.Split(c.Description, "\n\n") {
		if paragraph != "" {
			b.WriteString("\n" + strings.Join(layout.Wrap(paragraph, helpWidth), "\n") + "\n")
		}
	}
	for _, theme := range themes(c.Flags) {
		b.WriteString("\n" + theme + "\n")
		var names, uses []string
		for _, f := range c.Flags {
			d, ok := f.(cli.DocGenerationFlag)
			if !ok || Category(f) != theme {
				continue
			}
			value, rest := Placeholder(d.GetUsage())
			names = append(names, strings.TrimSpace(say.Dashed(f.Names()[0])+" "+value))
			if text := d.GetDefaultText(); text != "" && d.TakesValue() {
				rest += " (default: " + text + ")"
			}
			uses = append(uses, rest)
		}
		b.WriteString(hanging(names, uses))
	}
	return b.String()
}

// Examples are command lines of a command that answer in a folder in which
// catalog new my-board and the examples before them have been run.
func Examples(c *cli.Command) []string { return strings.Split(c.UsageText, "\n") }

// GroupHelp is the help of a command that only has subcommands.
func GroupHelp(v *Invocation) string {
	c := v.Command()
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\nCommands\n", v.Name(), c.Usage)
	var names, uses []string
	Leaves(c.Subcommands, c.Name+" ", func(name string, c *cli.Command) {
		names = append(names, strings.TrimSpace(name+" "+c.ArgsUsage))
		uses = append(uses, c.Usage)
	})
	b.WriteString(hanging(names, uses))
	return b.String()
}

// hanging sets texts beside their names.
func hanging(names, texts []string) string {
	const most = 24 // a longer name stands on a line of its own
	indent := 0
	for _, n := range names {
		if w := layout.Width(n); w <= most {
			indent = max(indent, w)
		}
	}
	indent += 4
	var b strings.Builder
	for i, n := range names {
		b.WriteString("  " + n)
		at := 2 + layout.Width(n)
		for _, line := range layout.Wrap(texts[i], helpWidth-indent) {
			if at > indent-2 {
				b.WriteByte('\n')
				at = 0
			}
			b.WriteString(strings.Repeat(" ", indent-at) + line)
			at = helpWidth
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// themes lists the themes of flags in the order of the constants.
func themes(flags []cli.Flag) []string {
	var out []string
	for _, theme := range []string{ask.ThemeInput, ask.ThemeTarget, ask.ThemeParts, ask.ThemeAnswer, ask.ThemeOutput} {
		for _, f := range flags {
			if Category(f) == theme {
				out = append(out, theme)
				break
			}
		}
	}
	return out
}

// Category is the theme of a flag, "" for none.
func Category(f cli.Flag) string {
	if c, ok := f.(cli.CategorizableFlag); ok {
		return c.GetCategory()
	}
	return ""
}
