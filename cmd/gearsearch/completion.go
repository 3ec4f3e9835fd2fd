package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/shell"
)

func (p *program) completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		ArgsUsage: "bash|zsh|fish",
		Usage:     "print the script with which a shell completes commands, flags, words and ids",
		UsageText: `gearsearch completion bash
gearsearch completion fish | source`,
		Description: `Ids are those of the catalog that the line or its build file names, else of this folder's, else of the demo. Into the startup file of bash or zsh goes

source <(gearsearch completion bash)

or zsh, for fish the second example.`,
		Action: p.completion,
	}
}

// completion answers with a script.
func (p *program) completion(c *cli.Context) error {
	script, err := shell.CompletionScript(c.Args().Slice())
	if err != nil {
		return err
	}
	return p.Print(script)
}

func (p *program) completeWordsCommand() *cli.Command {
	return &cli.Command{Name: shell.CompleteCommand, Hidden: true, Usage: "print what may follow on a command line", Action: p.completeWords}
}

// completeWords answers with the candidates for the last word.
func (p *program) completeWords(c *cli.Context) error {
	words := c.Args().Slice()
	if len(words) == 0 {
		words = []string{""}
	}
	var b strings.Builder
	for _, word := range shell.Candidates(c.Context, p.Desk, p.commands(), words) {
		b.WriteString(word + "\n")
	}
	if c.Context.Err() != nil {
		return outcome.ErrInterrupted // the catalog is not read
	}
	return p.Print(b.String())
}
