package field

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// maxSyntax is how many syntax errors are reported in one document before the
// rest of it is left unread: a file with so many is not TOML.
const maxSyntax = 20

// syntaxError reports what the parser could not read, in the expression that
// begins at start, and returns where to go on; more is false to give up.
func (p *tomlReader) syntaxError(start int, e *unstable.ParserError) (next int, more bool) {
	data := p.text.data
	at := p.offset(e)
	from := lineStart(data, at)
	next = nextLine(data, at)
	if start < from && beginsExpression(line(data, from)) {
		// The error is that a line begins before the last value is closed.
		next = from
	}
	problem := p.explain(start, at, len(e.Highlight), e.Message)
	if m := unitNumber.FindSubmatch(line(data, from)); m != nil && len(p.bare) < maxSyntax {
		p.bare = append(p.bare, bareQuantity{p.current, strings.Trim(string(m[1]), "\"' \t"), string(m[2]), len(p.report.found)})
	}
	p.report.Add(problem.at, Syntax, problem.hint, "%s", problem.message)
	if start < len(data) && data[start] == '[' && start <= at {
		p.meant(start)
	}
	p.damage()
	if p.syntax++; p.syntax >= maxSyntax {
		if next < len(data) {
			p.report.Add(problem.at, Syntax, "", "that are %d syntax errors: the rest of the file is not read", maxSyntax)
		}
		return next, false
	}
	return next, true
}

var headerStart = regexp.MustCompile(`^\[\[?[ \t]*([A-Za-z0-9_-]+)`)

// meant makes the section that a broken header at start was meant to begin
// the current one, as far as can be told, so that its keys are not taken for
// those of the section before.
func (p *tomlReader) meant(start int) {
	section := int32(0)
	if m := headerStart.FindSubmatchIndex(line(p.text.data, start)); m != nil {
		key := unstable.Node{
			Kind: unstable.Key,
			Data: p.text.data[start+m[2] : start+m[3]],
			Raw:  unstable.Range{Offset: uint32(start + m[2] - p.base), Length: uint32(m[3] - m[2])},
		}
		if slices.Contains(p.lists, string(key.Data)) {
			section = p.item(root, &key, p.place(key.Raw))
		}
	}
	if section == 0 {
		section = p.add(node{start: uint32(start), end: uint32(start + 1), kind: KindSection})
	}
	p.current = section
}

func lineStart(data []byte, at int) int { return 1 + bytes.LastIndexByte(data[:at], '\n') }

// line is the line that begins at from, without its ending.
func line(data []byte, from int) []byte {
	return bytes.TrimRight(data[from:nextLine(data, from)], "\r\n")
}

var expressionStart = regexp.MustCompile(`^[ \t]*(\[\[?[ \t]*[A-Za-z_]|[A-Za-z0-9_"'-][A-Za-z0-9_."' \t-]*=)`)

// beginsExpression reports whether a line looks like a header or a key with
// its equals sign.
func beginsExpression(line []byte) bool { return expressionStart.Match(line) }

// explain turns a parser's error in the expression at start into a problem in
// the words of people who write these files. at and length say what the parser
// points at.
func (p *tomlReader) explain(start, at, length int, message string) found {
	data := p.text.data
	for back := 1; back < utf8.UTFMax && back <= at; back++ { // the parser may stop within a character
		if _, size := utf8.DecodeRune(data[at-back:]); size > back {
			at -= back
			break
		}
	}
	from := lineStart(data, at)
	s := syntaxAt{
		line:   line(data, from),
		column: at - from,
		opened: start < from && beginsExpression(line(data, from)),
	}
	length = max(min(length, len(s.line)-s.column), 1)
	if m, ok := s.recognise(); ok {
		if m.length > 0 {
			at, length = from+m.start, m.length
		}
		return found{at: p.stretch(at, length), message: m.message, hint: m.hint}
	}
	if start < from {
		number, _, _ := p.text.line(start)
		s.since = number
	}
	words, hint := s.plain(message)
	return found{at: p.stretch(at, length), message: words, hint: hint}
}

func (p *tomlReader) stretch(at, length int) Place {
	end := min(at+length, len(p.text.data))
	return Place{p.text, uint32(min(at, end)), uint32(end)}
}

// syntaxAt is where the parser stopped: a line, the byte column in it, and
// what is known of the expression.
type syntaxAt struct {
	line   []byte
	column int
	opened bool // the line begins a new expression inside an open one
	since  int  // the line on which the expression begins, 0 if this one
}

// mistake is a recognised mistake; start and length mark it in the line, a
// zero length leaves the parser's mark.
type mistake struct {
	start, length int
	message, hint string
}

// here is what stands at the parser's mark.
func (s *syntaxAt) here() []byte { return s.line[min(s.column, len(s.line)):] }

// recognise names the mistakes that people make most.
func (s *syntaxAt) recognise() (mistake, bool) {
	here := s.here()
	first, size := utf8.DecodeRune(here)
	switch {
	case len(here) == 0:
	case here[0] == 0:
		return mistake{message: "NUL byte", hint: "is this a text file, saved as UTF-8?"}, true
	case first == utf8.RuneError && size == 1:
		return mistake{message: "invalid UTF-8", hint: "save the file as UTF-8"}, true
	case here[0] == '\r':
		return mistake{message: "a carriage return without a newline", hint: "end lines with a newline"}, true
	case strings.ContainsRune("“”„«»‘’‚", first):
		return mistake{message: "typographic quote " + string(first), hint: `use straight quotes: "`}, true
	}
	if s.opened {
		return mistake{message: "a list or text that began above is not closed"}, true
	}
	for _, try := range []func() (mistake, bool){s.decimalComma, s.number, s.bareWord, s.separator} {
		if m, ok := try(); ok {
			return m, true
		}
	}
	return mistake{}, false
}

var commaNumber = regexp.MustCompile(`=[ \t]*([+-]?[0-9]+,[0-9]+)[ \t]*(#.*)?$`)

// decimalComma recognises `kv = 0,5`.
func (s *syntaxAt) decimalComma() (mistake, bool) {
	m := commaNumber.FindSubmatchIndex(s.line)
	if m == nil {
		return mistake{}, false
	}
	number := string(s.line[m[2]:m[3]])
	return mistake{m[2], m[3] - m[2], "decimal comma in " + number, "write " + strings.Replace(number, ",", ".", 1)}, true
}

var (
	unitNumber = regexp.MustCompile(`^[ \t]*([^=]*)=[ \t]*([+-]?[0-9][0-9_.]*[ \t]*(?:[A-Za-zµμΩΩ°%/€£$″]+[A-Za-z0-9µμΩΩ°²³%/.·€£$]*|:[ \t]*[0-9.]+))[ \t]*(?:#.*)?$`)
	dotNumber  = regexp.MustCompile(`^[ \t]*[^=]*=[ \t]*([+-]?)(\.[0-9]+|[0-9]+\.)[ \t]*(#.*)?$`)
	bareRange  = regexp.MustCompile(`^[ \t]*[^=]*=[ \t]*([+-]?[0-9][0-9.]*\.\.[+-]?[0-9][0-9.]*(?:/[0-9.]+)?)[ \t]*(#.*)?$`)
	zeroNumber = regexp.MustCompile(`^[ \t]*[^=]*=[ \t]*([+-]?)0+([0-9][0-9.]*)[ \t]*(#.*)?$`)
)

// number recognises numbers with a unit, without a digit beside the point,
// and with leading zeros, and ranges of them.
func (s *syntaxAt) number() (mistake, bool) {
	if m := bareRange.FindSubmatchIndex(s.line); m != nil {
		whole := string(s.line[m[2]:m[3]])
		return mistake{m[2], m[3] - m[2], whole + " is no number", "a range of numbers stands in quotes: write " + Quote(whole)}, true
	}
	if m := unitNumber.FindSubmatchIndex(s.line); m != nil {
		whole := string(s.line[m[4]:m[5]])
		return mistake{m[4], m[5] - m[4], visible(whole) + " is no number", "a number with its unit stands in quotes: write " + Quote(whole)}, true
	}
	if m := dotNumber.FindSubmatchIndex(s.line); m != nil {
		sign, digits := string(s.line[m[2]:m[3]]), string(s.line[m[4]:m[5]])
		full := sign + digits + "0"
		if strings.HasPrefix(digits, ".") {
			full = sign + "0" + digits
		}
		return mistake{m[2], m[5] - m[2], sign + digits + " needs a digit on both sides of the point", "write " + full}, true
	}
	if m := zeroNumber.FindSubmatchIndex(s.line); m != nil {
		number := string(s.line[m[2]:m[3]]) + string(s.line[m[4]:m[5]])
		return mistake{m[2], m[5] - m[2], "a number does not begin with 0", "write " + number}, true
	}
	return mistake{}, false
}

var wordValue = regexp.MustCompile(`^[ \t]*[^="']*=[ \t]*([\pL_][^"'#,]*?)[ \t]*(#.*)?$`)

// bareWord recognises `side = motor` and `sensored = yes`.
func (s *syntaxAt) bareWord() (mistake, bool) {
	m := wordValue.FindSubmatchIndex(s.line)
	if m == nil {
		return mistake{}, false
	}
	word := string(s.line[m[2]:m[3]])
	hint := "write " + Quote(word)
	if items := strings.FieldsFunc(word, func(c rune) bool { return c == ';' }); len(items) > 1 {
		for i := range items {
			items[i] = Quote(strings.TrimSpace(items[i]))
		}
		hint = "write [" + strings.Join(items, ", ") + "]"
	}
	switch strings.ToLower(word) {
	case "true", "yes", "on":
		hint = "write true"
	case "false", "no", "off":
		hint = "write false"
	case "none", "null", "nil", "nan", "inf", "infinity", "unknown":
		hint = "leave the key out where there is no value"
	}
	return mistake{m[2], m[3] - m[2], "text needs quotes", hint}, true
}

var colonValue = regexp.MustCompile(`^[ \t]*["']?([A-Za-z0-9_-]+)["']?[ \t]*:[ \t]*(.*)$`)

// separator recognises `key: value`, a comma or semicolon at a line's end,
// and comments that do not begin with #.
func (s *syntaxAt) separator() (mistake, bool) {
	text := bytes.TrimLeft(s.line, " \t")
	indent := len(s.line) - len(text)
	here := s.here()
	switch {
	case bytes.HasPrefix(text, []byte("//")) || bytes.HasPrefix(text, []byte(";")):
		return mistake{indent, 1, "this is no key", "a comment begins with #"}, true
	case colonValue.Match(s.line):
		m := colonValue.FindSubmatchIndex(s.line)
		return mistake{m[3], m[4] - m[3], "a key is followed by =", "write " + visible(string(s.line[m[2]:m[3]])) + " = …"}, true
	case len(here) > 0 && (here[0] == ',' || here[0] == ';') && len(bytes.TrimSpace(here[1:])) == 0:
		return mistake{s.column, 1, "a line does not end with " + string(here[:1]), "take it out"}, true
	}
	return mistake{}, false
}

// plain says in plain words what the parser's message means, with a hint where
// there is one.
func (s *syntaxAt) plain(message string) (words, hint string) {
	since := ""
	if s.since > 0 {
		since = " (it begins on line " + strconv.Itoa(s.since) + ")"
	}
	for _, known := range []struct{ part, words, hint string }{
		{"unterminated", "text is not closed by a quote" + since, ""},
		{"not terminated", "text is not closed by three quotes" + since, ""},
		{"cannot have new lines", "text is not closed by a quote" + since, ""},
		{"control character", "control character", "take it out"},
		{"carriage returns", "a carriage return without a newline", "end lines with a newline"},
		{"invalid escape", "unknown escape in text", `write \\ for a backslash, or put the text in single quotes`},
		{"array is incomplete", "list is not closed by ]" + since, ""},
		{"inline table is incomplete", "table is not closed by }" + since, ""},
		{"expected ']]'", "a [[header]] ends with ]]", ""},
		{"expected ']' to close", "a [header] ends with ]", ""},
		{"expected '=' after key", "a key is followed by =", ""},
		{"expected newline", "the line goes on after the value", "one key and its value stand on a line"},
		{"expected ',' or ']'", "the items of a list are separated by commas", ""},
		{"expected ',' or '}'", "the keys of an inline table are separated by commas", ""},
		{"expected value, not end", "a value is missing after =", ""},
		{"unexpected character U+000A", "a value is missing after =", ""},
		{"unexpected character U+000D", "a value is missing after =", ""},
	} {
		if strings.Contains(message, known.part) {
			return known.words, known.hint
		}
	}
	return "not valid TOML: " + message + since, ""
}
