package layout

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/text"
)

// Tone is the weight of a text. It only adds to what the text says.
type Tone uint8

// The tones.
const (
	Plain  Tone = iota
	Strong      // headings
	Faint       // what is secondary
	Warn        // thin margins, unknowns
	Bad         // failures
)

// paint colours one line of text where the style allows it.
func (s Style) paint(line string, tone Tone) string {
	codes := [...]string{"", "\x1b[1m", "\x1b[2m", "\x1b[33m", "\x1b[31m"}
	if !s.Colour || tone == Plain || line == "" {
		return line
	}
	return codes[tone] + line + "\x1b[0m"
}

// Width is the number of terminal columns that a line takes.
func Width(line string) int { return text.StringWidthWithoutEscSequences(line) }

// Wrap breaks a text into lines of at most width columns, at spaces; a word
// that is longer stands alone. No-break spaces hold together.
func Wrap(s string, width int) []string {
	var lines []string
	line, columns := "", 0
	for _, word := range words(s) {
		w := Width(word)
		switch {
		case line == "":
			line, columns = word, w
		case columns+1+w <= width:
			line, columns = line+" "+word, columns+1+w
		default:
			lines = append(lines, line)
			line, columns = word, w
		}
	}
	if line != "" || lines == nil {
		lines = append(lines, line)
	}
	return lines
}

// words are the pieces that Wrap does not break.
func words(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' })
}

// Escape makes a text stand for itself in Markdown.
func Escape(s string) string {
	var b strings.Builder
	before := ' '
	for i, r := range s {
		after, _ := utf8.DecodeRuneInString(s[i+utf8.RuneLen(r):])
		switch {
		case strings.ContainsRune("\\`*[]<>&~", r),
			r == '_' && !(wordlike(before) && wordlike(after)), // inside a word it means nothing
			strings.ContainsRune("#+-=", r) && strings.TrimSpace(s[:i]) == "":
			b.WriteByte('\\')
		case (r == '.' || r == ')') && after == ' ' && i > 0 && strings.Trim(s[:i], "0123456789") == "": // else a numbered list
			b.WriteByte('\\')
		}
		b.WriteRune(r)
		before = r
	}
	return b.String()
}

func wordlike(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' }
