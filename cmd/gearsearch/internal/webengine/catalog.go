package webengine

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// contents is what a catalog holds.
type contents struct {
	Title    string      `json:"title,omitempty"`
	Currency string      `json:"currency"`
	Demo     bool        `json:"demo"` // the embedded demo parts, alone or with others
	Files    []string    `json:"files"`
	Total    int         `json:"total"`
	Shelves  []shelfSize `json:"shelves"` // by slot and the kinds that fill it, then the kinds that fill none

	Invented string `json:"invented,omitempty"` // what is to be said of demo parts
}

// shelfSize is how many parts of a kind fill a slot, or how many of a kind there are that
// fills none.
type shelfSize struct {
	Name string `json:"name"` // of the shelf: the slot as it is called for the kind, or the kind
	Slot string `json:"slot,omitempty"`
	Kind string `json:"kind"`
	N    int    `json:"n"`

	Says map[string]string `json:"says,omitempty"` // what a part of the kind says to stand here, by key

	Invented int `json:"invented,omitempty"` // of them, of the demo
}

// readCatalog reads files as the catalog. On an error the catalog stays as it
// was.
func (e *Engine) readCatalog(r *request) (*contents, error) {
	c := e.demo
	if len(r.Files) > 0 {
		var err error
		if c, err = catalog.Read(r.sources()...); err != nil {
			return nil, err
		}
	}
	e.supersede()
	e.mu.Lock()
	e.catalog = c
	e.mu.Unlock()
	return newContents(c, r.Demo || len(r.Files) == 0), nil
}

// sources are the files of the request, and the demo parts before them where they
// are wanted or nothing else is there.
func (r *request) sources() []field.Source {
	var out []field.Source
	if r.Demo || len(r.Files) == 0 {
		out = catalog.DemoSources()
	}
	for i := range r.Files {
		out = append(out, r.Files[i].source())
	}
	return out
}

func newContents(c *catalog.Catalog, demo bool) *contents {
	out := &contents{Title: c.Title, Currency: c.Currency, Demo: demo, Files: c.Files, Invented: say.InventedNote(c)}
	slotted := map[string]bool{}
	for _, s := range constraints.Slots() {
		for i, kind := range s.Kinds() {
			slotted[kind] = true
			out.add(c, shelfSize{Name: s.Called(i > 0), Slot: s.String(), Kind: kind, Says: s.Says()})
		}
	}
	for _, kind := range catalog.KindNames() {
		if !slotted[kind] {
			out.add(c, shelfSize{Name: kind, Kind: kind})
		}
	}
	return out
}

// add counts the parts of a shelf and adds it.
func (out *contents) add(c *catalog.Catalog, size shelfSize) {
	for p := range partsOf(c, size.Slot, size.Kind) {
		size.N++
		if p.Invented() {
			size.Invented++
		}
	}
	out.Shelves = append(out.Shelves, size)
	out.Total += size.N
}

// partsOf yields the parts of a kind that fill a slot, all of the kind for no
// slot.
func partsOf(c *catalog.Catalog, slot, kind string) iter.Seq[*catalog.Part] {
	fills := map[string]bool{}
	s, slotted := constraints.SlotNamed(slot)
	if slotted {
		for p := range s.Parts(c) {
			fills[p.ID] = true
		}
	}
	return func(yield func(*catalog.Part) bool) {
		for name, p := range c.Parts() {
			if name == kind && (!slotted || fills[p.ID]) && !yield(p) {
				return
			}
		}
	}
}

// shelf is a stretch of the parts of a slot or kind.
type shelf struct {
	Found int    `json:"found"` // parts that match, in all
	From  int    `json:"from"`
	Parts []part `json:"parts"`

	Keys []partKey `json:"keys"` // of the kind, in the order of a table
}

// partKey is a key of a kind of parts.
type partKey struct {
	Key      string   `json:"key"`
	Label    string   `json:"label"` // without the unit
	Unit     string   `json:"unit,omitempty"`
	Is       string   `json:"is"` // the type of its value, in words
	Words    []string `json:"words,omitempty"`
	Range    string   `json:"range,omitempty"`
	Meaning  string   `json:"meaning"`
	Default  string   `json:"default,omitempty"` // what absence means
	Required bool     `json:"required,omitempty"`
	Number   bool     `json:"number,omitempty"`
	Used     bool     `json:"used,omitempty"` // a part of the shelf has it
}

// part is one part of the catalog.
type part struct {
	ID    string   `json:"id"`
	Name  string   `json:"name,omitempty"`
	Price string   `json:"price"`
	Owned bool     `json:"owned,omitempty"`
	Note  string   `json:"note,omitempty"`
	File  string   `json:"file,omitempty"` // that it stands in, "" for the demo
	Facts []string `json:"facts"`          // what tells it from others of its kind, most telling first

	Cells map[string]string `json:"cells"` // the keys that it has, as somebody would type them

	Invented bool `json:"invented,omitempty"` // of the demo
}

// shelfStretch is how many parts one reply lists.
const shelfStretch = 48

func (e *Engine) shelf(r *request) (*shelf, error) {
	kind := r.Kind
	if r.Slot != "" {
		s, ok := constraints.SlotNamed(r.Slot)
		switch {
		case !ok:
			return nil, fmt.Errorf("there is no slot %s", field.Quote(r.Slot))
		case kind == "":
			kind = s.Kind()
		case !slices.Contains(s.Kinds(), kind):
			return nil, fmt.Errorf("no %s goes into the slot %s", field.Quote(kind), s)
		}
	}
	c, find := e.parts(), strings.ToLower(strings.TrimSpace(r.Find))
	out := &shelf{From: max(0, r.From), Parts: []part{}, Keys: partKeys(c, kind)}
	for p := range partsOf(c, r.Slot, kind) {
		if !strings.Contains(p.ID, find) && !strings.Contains(strings.ToLower(p.Name), find) {
			continue
		}
		if out.Found >= out.From && len(out.Parts) < shelfStretch {
			out.Parts = append(out.Parts, newPart(c, kind, p))
		}
		out.Found++
	}
	return out, nil
}

func newPart(c *catalog.Catalog, kind string, p *catalog.Part) part {
	out := part{ID: p.ID, Name: p.Name, Owned: p.Owned, Note: p.Note, Facts: []string{}, Cells: map[string]string{}, Invented: p.Invented()}
	if !p.OfDemo() {
		out.File = p.Pos.File
	}
	if cost := p.Cost(1); known(cost) != nil {
		out.Price = say.Money(cost) + " " + c.Currency
	}
	var mass []string // tells least, and stands last
	for info, value := range c.Values(kind, p.ID) {
		if value == nil {
			continue
		}
		out.Cells[info.Key] = catalog.CellText(value)
		if aside(info.Key) {
			continue
		}
		if info.Key == "mass_g" {
			mass = append(mass, fact(info, value))
			continue
		}
		out.Facts = append(out.Facts, fact(info, value))
	}
	out.Facts = append(out.Facts, mass...)
	return out
}

// aside reports whether a key tells no part from others of its kind.
func aside(key string) bool {
	switch key {
	case "id", "name", "price", "sold_in", "priced", "source", "owned", "made", "note", "link", "side":
		return true
	}
	return false
}

// fact is a key of a part with its value.
func fact(info *field.Info, value any) string {
	text := textOf(value)
	if list, ok := value.([]string); ok {
		text = strings.Join(list, " ")
	}
	if value == true {
		return quantity.Label(info.Key, "")
	}
	return strings.TrimSpace(quantity.Label(info.Key, info.Unit) + " " + text + " " + info.Unit)
}

func isBrief(src field.Source) bool {
	var report field.Report
	root := field.Parse(src, &report).Root()
	for _, k := range constraints.BriefKeys() {
		if root.Value(k.Section).Kind() != field.KindAbsent {
			return true
		}
	}
	return false
}

// demoBrief is what an embedded brief asks.
func demoBrief(r *request) (*sorted, error) {
	src, ok := catalog.DemoBrief(r.Name)
	if !ok {
		return nil, fmt.Errorf("there is no embedded brief %s", field.Quote(r.Name))
	}
	b, err := constraints.ReadBrief(src)
	if err != nil {
		return nil, err
	}
	return &sorted{Is: isABrief, Values: valuesOf(b)}, nil
}
