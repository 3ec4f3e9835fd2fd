package looks

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
)

// element is an element of a drawing, or a text in one. A page makes it an
// element by itself, so that no text is ever read as markup there.
type element struct {
	Name       string            `json:"name,omitempty"` // "" for a text
	Attributes map[string]string `json:"attributes,omitempty"`
	Inside     []*element        `json:"inside,omitempty"`
	Text       string            `json:"text,omitempty"`
}

// elements reads a drawing of package plot back.
func elements(svg string) (*element, error) {
	d := xml.NewDecoder(strings.NewReader(svg))
	open := []*element{{}}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		top := open[len(open)-1]
		switch x := token.(type) {
		case xml.StartElement:
			e := &element{Name: x.Name.Local, Attributes: map[string]string{}}
			for _, a := range x.Attr {
				if a.Name.Local != "xmlns" {
					e.Attributes[a.Name.Local] = a.Value
				}
			}
			top.Inside = append(top.Inside, e)
			open = append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if text := string(x); strings.TrimSpace(text) != "" {
				top.Inside = append(top.Inside, &element{Text: text})
			}
		}
	}
	if root := open[0]; len(root.Inside) == 1 && root.Inside[0].Name == "svg" {
		return root.Inside[0], nil
	}
	return nil, errors.New("a drawing is not one svg element")
}
