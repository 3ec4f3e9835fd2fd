package shell

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/say"
)

// Manual is the manual page.
func Manual(commands []*cli.Command) string {
	var b strings.Builder
	b.WriteString(`.TH GEARSEARCH 1
.SH NAME
gearsearch \- find and rank the builds of an electric board
.SH SYNOPSIS
.B gearsearch
.I command
[\fIflags\fR]
.SH DESCRIPTION
From a catalog of parts and a brief of what the board must do, gearsearch finds
every build that does it, ranks them, and says how many builds each check turned
down. Flags may stand before or after arguments. Data goes to standard output,
everything else to standard error.
.SH COMMANDS
`)
	Leaves(commands, "", func(name string, c *cli.Command) {
		fmt.Fprintf(&b, ".SS %s\n", Roff(strings.TrimSpace("gearsearch "+name+" "+c.ArgsUsage)))
		b.WriteString(Roff(upperFirst(c.Usage)) + ".\n")
		for _, paragraph := range strings.Split(c.Description, "\n\n") {
			if paragraph != "" {
				b.WriteString(".PP\n" + Roff(paragraph) + "\n")
			}
		}
		b.WriteString(".PP\n.nf\n")
		for _, example := range Examples(c) {
			b.WriteString(Roff(example) + "\n")
		}
		b.WriteString(".fi\n")
		for _, theme := range themes(c.Flags) {
			b.WriteString(".PP\n.I " + Roff(theme) + "\n")
			manFlags(&b, c.Flags, theme)
		}
	})
	b.WriteString(`.SH EXIT STATUS
0 answered; 1 nothing feasible, or a build that fails a check; 2 wrong usage; 3
wrong catalog, brief or build; 4 input or output failed; 130 interrupted.
.SH ENVIRONMENT
.TP
.B NO_COLOR
no colour on a terminal.
.TP
.B COLUMNS
width of tables that go to no terminal.
.SH CAUTIONS
What the program prints are computed figures, not a promise of safety. Lithium
packs burn: leave pack building, fuse and charging to people trained for it.
Wear a helmet, and ask the local law.
`)
	return b.String()
}

// manFlags writes the flags of a theme.
func manFlags(b *strings.Builder, flags []cli.Flag, theme string) {
	for _, f := range flags {
		d, ok := f.(cli.DocGenerationFlag)
		if !ok || Category(f) != theme {
			continue
		}
		value, rest := Placeholder(d.GetUsage())
		if text := d.GetDefaultText(); text != "" && d.TakesValue() {
			rest += " (default: " + text + ")"
		}
		fmt.Fprintf(b, ".TP\n\\fB%s\\fR %s\n%s\n", Roff(say.Dashed(f.Names()[0])), Roff(value), Roff(rest))
	}
}

// Roff is a text as troff reads it back: no escapes, no requests, and dashes
// that can be typed.
func Roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}

// upperFirst is a sentence of ASCII with a capital.
func upperFirst(s string) string {
	n := min(len(s), 1)
	return strings.ToUpper(s[:n]) + s[n:]
}
