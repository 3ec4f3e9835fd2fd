package site

import "errors"

// Squeeze writes no page from within a page.
func (*Engines) Squeeze(int) error {
	return errors.New("a page is written by the program outside of a browser")
}
