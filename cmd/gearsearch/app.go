package main

import (
	"context"
	"io"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/shell"
)

// commands is the tree of commands. A command with subcommands only groups
// them.
func (p *program) commands() []*cli.Command {
	return []*cli.Command{
		p.rankCommand(),
		p.sheetCommand(),
		p.partsCommand(),
		p.swapCommand(),
		p.varyCommand(),
		p.shortlistCommand(),
		p.relaxCommand(),
		p.idealCommand(),
		p.routeCommand(),
		p.fitCommand(),
		p.plotCommand(),
		p.reportCommand(),
		p.pageCommand(),
		{
			Name:  "catalog",
			Usage: "begin, fill, check, list, convert, merge or compare catalogs",
			Subcommands: []*cli.Command{
				p.catalogNewCommand(),
				p.catalogCheckCommand(),
				p.catalogAddCommand(),
				p.catalogShowCommand(),
				p.catalogConvertCommand(),
				p.catalogMergeCommand(),
				p.catalogDiffCommand(),
				p.catalogImportCommand(),
				p.catalogSchemaCommand(),
			},
		},
		p.completionCommand(),
		p.referenceCommand(),
		p.manCommand(),
		p.completeWordsCommand(),
	}
}

// execute runs a command line.
func (p *program) execute(ctx context.Context, args []string) error {
	commands := p.commands()
	v, err := shell.Understand(commands, args)
	if err != nil {
		return err
	}
	switch c := v.Command(); {
	case v.Version:
		return p.Print(version())
	case c == nil:
		return p.Print(shell.BriefHelp(commands))
	case shell.Groups(c):
		return p.Print(shell.GroupHelp(v))
	case v.Help:
		return p.Print(shell.CommandHelp(v))
	}
	return p.library(commands).RunContext(ctx, v.Argv())
}

// library is the command-line library, kept from printing and exiting by
// itself: errors come back, and understand has answered all else.
func (p *program) library(commands []*cli.Command) *cli.App {
	quiet(commands)
	return &cli.App{
		Name:                      "gearsearch",
		Commands:                  commands,
		Reader:                    p.Stdin,
		Writer:                    io.Discard,
		ErrWriter:                 io.Discard,
		HideHelp:                  true,
		HideVersion:               true,
		DisableSliceFlagSeparator: true, // a comma may be part of a file name
		OnUsageError:              usageFault,
		ExitErrHandler:            func(*cli.Context, error) {},
	}
}

// quiet keeps the library's help and usage texts out of every command.
func quiet(commands []*cli.Command) {
	for _, c := range commands {
		c.HideHelp = true
		c.OnUsageError = usageFault
		quiet(c.Subcommands)
	}
}

// usageFault passes on what the library finds wrong beyond what understand
// has.
func usageFault(_ *cli.Context, err error, _ bool) error { return outcome.Usage("", "%v", err) }
