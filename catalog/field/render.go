package field

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Quote returns s in double quotes for a message: control and other
// unprintable characters escaped, and shortened where it is very long.
func Quote(s string) string {
	const most = 60 // characters: longer is no help to a reader
	if utf8.RuneCountInString(s) > most {
		n := 0
		for i := range s {
			if n++; n > most {
				return strconv.Quote(s[:i]) + "…"
			}
		}
	}
	return strconv.Quote(s)
}

// visible returns s with every character that does not print escaped.
func visible(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		shown, _ := show(r, s[i:i+n])
		b.WriteString(shown)
		i += n
	}
	return b.String()
}

// show returns how one character is shown and how many columns that takes.
// raw is its bytes.
func show(r rune, raw string) (string, int) {
	switch {
	case r == '\t':
		return "    ", 4
	case r == utf8.RuneError && len(raw) == 1:
		return fmt.Sprintf(`\x%02x`, raw[0]), 4
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r):
		return raw, 0
	case !strconv.IsPrint(r):
		q := strconv.QuoteRune(r)
		q = q[1 : len(q)-1]
		return q, len(q)
	case wide(r):
		return raw, 2
	}
	return raw, 1
}

// wide reports whether r takes two columns on a terminal: the main blocks of
// East Asian wide characters (Unicode Standard Annex 11) and the emoji.
func wide(r rune) bool {
	return r >= 0x1100 && (r <= 0x115f ||
		r >= 0x2e80 && r <= 0xa4cf ||
		r >= 0xac00 && r <= 0xd7a3 ||
		r >= 0xf900 && r <= 0xfaff ||
		r >= 0xfe30 && r <= 0xfe6f ||
		r >= 0xff00 && r <= 0xff60 ||
		r >= 0xffe0 && r <= 0xffe6 ||
		r >= 0x1f300 && r <= 0x1faff ||
		r >= 0x20000 && r <= 0x3fffd)
}

// The window of a source line that is shown around a problem, in columns.
const (
	windowBefore = 60
	windowMarked = 40
	windowAfter  = 40
)

// render shows the stretch start to end (offsets in line) of line: the
// printable line, windowed where it is long, and the column (from 0) and
// width of the stretch in it. The width is at least 1.
func render(line []byte, start, end int) (shown string, column, width int) {
	start = min(max(start, 0), len(line))
	end = min(max(end, start), len(line))
	from, cutBefore := windowStart(line, start)
	var b strings.Builder
	if cutBefore {
		b.WriteString("…")
		column = 1
	}
	after := 0
	for i := from; i < len(line); {
		if width >= windowMarked && i < end || after >= windowAfter {
			b.WriteString("…")
			break
		}
		r, n := utf8.DecodeRune(line[i:])
		s, w := show(r, string(line[i:i+n]))
		b.WriteString(s)
		switch {
		case i < start:
			column += w
		case i < end:
			width += w
		default:
			after += w
		}
		i += n
	}
	return strings.TrimRight(b.String(), " "), column, max(width, 1)
}

// windowStart steps back from start by at most windowBefore characters.
func windowStart(line []byte, start int) (from int, cut bool) {
	from = start
	for n := 0; from > 0; n++ {
		if n == windowBefore {
			return from, true
		}
		_, size := utf8.DecodeLastRune(line[:from])
		from -= size
	}
	return 0, false
}

// Few lists the first three of several names for a message, and says how many
// more there are.
func Few(names []string) string {
	const most = 3
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most], ", ") + " and " + strconv.Itoa(len(names)-most) + " more"
}
