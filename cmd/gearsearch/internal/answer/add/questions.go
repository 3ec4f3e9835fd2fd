package add

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Ask asks for the keys one by one, until the catalog takes the part, and gives
// the answer. It ends without writing where the input does, or ctx.
func (a *Answer) Ask(ctx context.Context, in io.Reader, to io.Writer, out *ask.Answer, quiet bool) error {
	t := &talk{Answer: a, to: to, lines: readLines(in)}
	t.say("For " + say.Shown(a.file()) + ": " + a.Kind.Meaning + ". Enter alone leaves a key out, ? explains it, - empties it, ctrl-D ends without writing.")
	for {
		if err := t.round(ctx); err != nil {
			fmt.Fprintln(to)
			a.desk.Note("nothing is written")
			return err
		}
		err := a.write(ctx)
		problems, ok := err.(field.Problems)
		switch {
		case err == nil && quiet:
			return nil
		case err == nil:
			fmt.Fprintln(to)
			return out.Text(a.text())
		case !ok:
			return err
		}
		for i := range problems {
			t.complain(&problems[i])
		}
		t.say("Again, then; Enter keeps what stands in brackets.")
	}
}

// talk is the questions for one part.
type talk struct {
	*Answer
	to    io.Writer
	lines <-chan string // closed where the input ends
}

// readLines yields lines as they are entered.
func readLines(in io.Reader) <-chan string {
	lines := make(chan string)
	go func() {
		defer close(lines)
		s := bufio.NewScanner(in)
		for s.Scan() {
			lines <- s.Text()
		}
	}()
	return lines
}

// round asks for each key that goes with the others.
func (t *talk) round(ctx context.Context) error {
	for _, in := range catalog.EntryKeys(t.Kind) {
		if !t.goes(in.Key) {
			t.put(in.Key, "")
			continue
		}
		if err := t.question(ctx, &in); err != nil {
			return err
		}
	}
	return nil
}

// goes reports whether a key may stand beside those known: it does not belong to the
// group that was not chosen, and the keys that it needs are there.
func (t *talk) goes(key string) bool {
	chosen, of := -1, -1
	for i, g := range t.Kind.Choice {
		all := slices.Concat(g.Keys, g.May)
		if slices.Contains(all, key) {
			of = i
		}
		if chosen < 0 && slices.ContainsFunc(g.Keys, func(k string) bool { return k != key && t.has(k) }) {
			chosen = i
		}
	}
	if of >= 0 && chosen >= 0 && of != chosen {
		return false
	}
	for _, n := range t.Kind.Needs {
		if n.Key == key && !t.has(n.Other) {
			return false
		}
	}
	return true
}

// question asks for one key until the answer can be taken.
func (t *talk) question(ctx context.Context, in *field.Info) error {
	for {
		known := t.known(in)
		fmt.Fprint(t.to, prompt(t.Kind, in, known))
		line, err := t.line(ctx)
		if err != nil {
			return err
		}
		switch line = strings.TrimSpace(line); {
		case line == "?":
			t.say("  " + explained(in))
			continue
		case line == "" && known != "" && !t.has(in.Key):
			line = known // the id that is offered
		case line == "" && known != "":
			return nil
		case line == "-":
			t.put(in.Key, "")
			line = ""
		}
		if line == "" {
			if !in.Required {
				return nil
			}
			t.say("  " + ask.KeyFlag(t.Kind, in) + " is needed: " + in.Meaning)
			continue
		}
		wrong := t.enter(in, line)
		if wrong == nil {
			return nil
		}
		t.complain(wrong)
	}
}

// known is the value that a key has already, or the id that is offered.
func (t *talk) known(in *field.Info) string {
	for _, e := range t.keys {
		if e.Key == in.Key {
			return strings.Trim(e.TOML, `"`)
		}
	}
	if in.Key == "id" {
		return t.freeID()
	}
	return ""
}

// line is the next line that is entered.
func (t *talk) line(ctx context.Context) (string, error) {
	select {
	case line, ok := <-t.lines:
		if !ok {
			return "", outcome.ErrInterrupted
		}
		return line, nil
	case <-ctx.Done():
		return "", outcome.ErrInterrupted
	}
}

// complain says what is wrong with an answer.
func (t *talk) complain(p *field.Problem) {
	t.say("  " + p.Message)
	if p.Hint != "" {
		t.say("  hint: " + p.Hint)
	}
}

// say writes a line of prose.
func (t *talk) say(text string) {
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	for _, line := range layout.Wrap(strings.TrimSpace(text), 80-len(indent)) {
		fmt.Fprintln(t.to, indent+line)
	}
}

// prompt is the question for a key: its name, its unit or words, and in brackets
// what holds where nothing is entered.
func prompt(k catalog.KindInfo, in *field.Info, known string) string {
	text := strings.ReplaceAll(ask.KeyFlag(k, in), "-", " ")
	switch {
	case in.Type == field.TypeFlag:
		text += ", yes or no"
	case in.Words != nil:
		text += ", " + strings.Join(in.Words, " or ")
	case in.Unit != "":
		text += ", " + in.Unit
	}
	switch {
	case known != "":
		text += " [" + known + "]"
	case in.Required:
		text += " *"
	case in.Default != "" && len(in.Default) < 24:
		text += " [" + in.Default + "]"
	}
	return text + ": "
}

// explained is a key's meaning, its range and units, and its default.
func explained(in *field.Info) string {
	text := in.Key + ": " + in.Meaning
	if r := in.Range(); r != "" && in.Numeric() {
		text += "; " + r
	}
	if in.Kind != nil && len(in.Kind.Units) > 1 {
		text += "; " + in.Kind.Known()
	}
	switch {
	case in.Required:
		text += "; needed"
	case in.Default != "":
		text += "; without it: " + in.Default
	}
	return text
}
