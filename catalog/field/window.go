package field

import "bytes"

// windows feeds the text to the parser in windows of at most MaxExpression
// bytes, cut at line ends, so that the parser's own memory is bounded and a
// value that never ends is found out early.
func (p *tomlReader) windows(at int) {
	data := p.text.data
	for at < len(data) && !p.over {
		end := windowEnd(data, at)
		if end == at {
			p.tooLong(at)
			p.damage()
			at = nextLine(data, at)
			continue
		}
		done, wrong := p.expressions(at, end)
		if wrong == nil {
			at = end
			continue
		}
		if end < len(data) && p.offset(wrong) >= end-1 {
			// The window cut the expression short, unless it fills the window.
			next := at
			if done > at {
				next = nextLine(data, done)
			} else {
				next = skipBlank(data, at)
			}
			if next > at {
				at = next
				continue
			}
			p.tooLong(at)
			p.damage()
			at = end
			continue
		}
		first := at
		if done > at {
			first = nextLine(data, done)
		}
		next, more := p.syntaxError(skipBlank(data, first), wrong)
		if !more {
			return
		}
		at = next
	}
}

// tooLong reports an expression that fills more than a window.
func (p *tomlReader) tooLong(at int) {
	window := p.text.data[at:min(at+MaxExpression, len(p.text.data))]
	place := Place{p.text, uint32(at), uint32(min(at+1, len(p.text.data)))}
	if i := bytes.IndexByte(window, 0); i >= 0 {
		place.start += uint32(i)
		place.end = place.start + 1
		p.report.Add(place, Syntax, "is this a text file, saved as UTF-8?", "NUL byte")
		return
	}
	p.report.Add(place, TooLarge, "", "a line or value is longer than %d bytes", MaxExpression)
}

// windowEnd returns the end of the window that begins at at: after the last
// newline that fits, the end of the text if all of it fits, at itself if not
// even one line fits.
func windowEnd(data []byte, at int) int {
	if len(data)-at <= MaxExpression {
		return len(data)
	}
	return at + 1 + bytes.LastIndexByte(data[at:at+MaxExpression], '\n')
}

// nextLine returns the offset of the line after the one that holds at.
func nextLine(data []byte, at int) int {
	if i := bytes.IndexByte(data[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(data)
}

// skipBlank returns the offset of the first character at or after at that is
// neither blank nor in a comment.
func skipBlank(data []byte, at int) int {
	for at < len(data) {
		switch data[at] {
		case ' ', '\t', '\r', '\n':
			at++
		case '#':
			at = nextLine(data, at)
		default:
			return at
		}
	}
	return at
}
