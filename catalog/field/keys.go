package field

import (
	"fmt"
	"strings"
)

// WriteKeys writes keys as a table in Markdown: what each takes, what it is unless
// given, and its meaning. absent says what a key without a default is unless given.
func WriteKeys(b *strings.Builder, infos []Info, absent func(in *Info) string) {
	b.WriteString("| key | value | unless given | meaning |\n| --- | --- | --- | --- |\n")
	for i := range infos {
		in := &infos[i]
		star, unless := "", in.Default
		if in.Required {
			star = "*"
		} else if unless == "" {
			unless = absent(in)
		}
		fmt.Fprintf(b, "| `%s`%s | %s | %s | %s |\n", in.Key, star, barred(in.takes()), barred(unless), barred(in.Meaning))
	}
}

// barred is a text in a cell of a Markdown table.
func barred(s string) string { return strings.ReplaceAll(s, "|", `\|`) }

// takes says what a key takes.
func (in *Info) takes() string {
	switch in.Type {
	case TypeWord:
		return in.words()
	case TypeNumber, TypeWhole:
		if in.Type == TypeWhole && in.Min != in.Max {
			return "whole, " + in.Range()
		}
		return in.Range()
	case TypeNumberOrWord:
		return in.words() + ", or " + in.Range()
	case TypeNumbers:
		s := "a list, each " + in.Range()
		if in.Whole {
			s = "a list, each whole, " + in.Range()
		}
		return s
	case TypeTexts:
		if in.ID {
			return "id or list of ids"
		}
	}
	return string(in.Type)
}

// words are the words that a key takes.
func (in *Info) words() string { return "`" + strings.Join(in.Words, "`, `") + "`" }
