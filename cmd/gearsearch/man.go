package main

import (
	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/shell"
)

func (p *program) manCommand() *cli.Command {
	return &cli.Command{
		Name:  "man",
		Usage: "print the manual page",
		UsageText: `gearsearch man | man -l -
gearsearch man -o gearsearch.1`,
		Description: "The page is in the man macros of troff, section 1.",
		Flags:       []cli.Flag{ask.FileFlag()},
		Action:      p.man,
	}
}

// man answers with the manual page, made of what help is made of.
func (p *program) man(c *cli.Context) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	return p.WriteText(c, []byte(shell.Manual(p.commands())))
}
