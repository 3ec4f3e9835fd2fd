package gpx

import (
	"bufio"
	"errors"
	"io"
)

// Limits of a file, far above what a day's ride takes: that is some 86 000 points where
// one is recorded each second, of 100 to 500 bytes each with what watches log besides.
const (
	MaxBytes  = 512 << 20 // a million points of 500 bytes; what recorders write, of 130, takes ten seconds
	MaxPoints = 2_000_000
	maxToken  = 1 << 20 // bytes of a tag, a text or a comment: the decoder holds one
	maxDepth  = 64      // levels of elements: GPX has 6, and extensions some more
)

var (
	errTooLarge  = errors.New("too many bytes")
	errLongToken = errors.New("a token is too long")
)

// meter hands a file to the decoder, and ends one that is too large.
type meter struct {
	failed bool // the file could not be read
	from   *bufio.Reader
	total  int // bytes so far
	token  int // of those the ones since a token ended
}

func (m *meter) Read(p []byte) (int, error) {
	n, err := m.from.Read(p)
	m.failed = m.failed || err != nil && err != io.EOF
	if wrong := m.count(n); wrong != nil {
		return 0, wrong
	}
	return n, err
}

// ReadByte is what the decoder calls.
func (m *meter) ReadByte() (byte, error) {
	c, err := m.from.ReadByte()
	if err == nil {
		return c, m.count(1)
	}
	m.failed = m.failed || err != io.EOF
	return c, err
}

func (m *meter) count(n int) error {
	m.total += n
	m.token += n
	switch {
	case m.total > MaxBytes:
		return errTooLarge
	case m.token > maxToken:
		return errLongToken
	}
	return nil
}

// plain reads an encoding of single bytes of which only ASCII means the same
// everywhere, and puts a question mark for anything else: GPX has all that is read of
// it in ASCII.
type plain struct{ from io.Reader }

func (p plain) Read(to []byte) (int, error) {
	n, err := p.from.Read(to)
	for i, c := range to[:n] {
		if c >= 0x80 {
			to[i] = '?'
		}
	}
	return n, err
}
