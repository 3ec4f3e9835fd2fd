package catalog

import (
	"bytes"
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// Draft is a part that somebody is filling in: the texts of its cells by key.
type Draft struct {
	Kind  string            `json:"kind"`
	Cells map[string]string `json:"cells"`
}

// Checked is a draft as a catalog reads it.
type Checked struct {
	ID    string            // its own, or one made for it
	Keys  []Entered         // what could be read
	Said  map[string]string // how a cell is read that is not read as it stands, by key
	Wrong []Slip
	// Copied: it is a part of the demo catalog with another id, and as invented.
	Copied bool
}

// Slip is something wrong with a draft: with one cell, or, where Key is "", with
// the part as a whole. The problem has no place.
type Slip struct {
	Key     string
	Problem *field.Problem
}

// CheckDrafts reads drafts as parts of a catalog whose other files stand beside
// them, and gives what is wrong with each. file is those in which nothing is
// wrong, as a catalog file of that name; it has no data where there is none. What
// is wrong with the other files is left to Read.
func CheckDrafts(name string, drafts []Draft, beside ...Source) (list []Checked, file Source) {
	before := newReader()
	for _, src := range beside {
		before.file(src)
	}
	before.readAll()
	taken := map[string]bool{}
	for id := range before.ids {
		taken[id] = true
	}
	for _, d := range drafts {
		taken[strings.TrimSpace(d.Cells["id"])] = true
	}
	for _, d := range drafts {
		list = append(list, d.check(taken))
	}
	out := sheetWriter{name: name, currency: cmp.Or(before.catalog.Currency, defaultCurrency), drafts: drafts, list: list}
	out.judge(beside, true)
	for out.judge(beside, false) {
	}
	file = out.file(false)
	markCopied(list, file)
	return list, file
}

// markCopied marks the drafts that are copied from the demo.
func markCopied(list []Checked, file Source) {
	c, err := alone(file)
	if err != nil || file.Data == nil {
		return
	}
	c.markCopies()
	for _, p := range c.Parts() {
		for i := range list {
			if list[i].ID == p.ID && len(list[i].Wrong) == 0 {
				list[i].Copied = p.copied
			}
		}
	}
}

// check reads the cells of a draft, each by itself.
func (d Draft) check(taken map[string]bool) Checked {
	out := Checked{Said: map[string]string{}}
	k, ok := KindNamed(d.Kind)
	if !ok {
		out.Wrong = append(out.Wrong, Slip{"", &field.Problem{Code: field.UnknownKind, Message: "there is no kind " + field.Quote(d.Kind)}})
		return out
	}
	for i := range k.Fields {
		in := &k.Fields[i]
		text := strings.TrimSpace(d.Cells[in.Key])
		if in.Key == "id" && text == "" {
			text = freeID(k, d.Cells["name"], taken)
			out.Said["id"] = text
		}
		if in.Key == "id" {
			out.ID = text
		}
		toml, said, wrong := readTyped(k.Name, in, text)
		switch {
		case wrong != nil:
			out.Wrong = append(out.Wrong, Slip{in.Key, wrong})
		case toml != "":
			out.Keys = append(out.Keys, Entered{in.Key, toml})
			if said != "" {
				out.Said[in.Key] = said
			}
		}
	}
	return out
}

// readTyped reads a cell as somebody types it: with a decimal comma, yes for true,
// a list with commas. said is how it is read, where that is not as it stands.
func readTyped(kindName string, in *field.Info, text string) (toml, said string, wrong *field.Problem) {
	plain := AsCell(in, text)
	if in.Numeric() {
		if plain, wrong = field.Pointed(plain); wrong != nil {
			return "", "", wrong
		}
	}
	toml, err := ReadEntered(kindName, in.Key, plain)
	if errors.As(err, &wrong) || toml == "" || !in.Numeric() {
		return toml, "", wrong
	}
	switch {
	case strings.HasPrefix(toml, `"`) && strings.Trim(toml, `"`) == text: // a range
	case in.Kind == &unit.Money && strings.HasPrefix(toml, `"`): // with its currency
		if plain != text {
			said = plain
		}
	case toml != text && !field.IsNumber(text):
		said = strings.TrimSpace(toml + " " + in.Unit)
	}
	return toml, said, nil
}

// AsCell is what somebody types for a key as a cell of a CSV file has it: the items
// of a list may stand with commas between them, and true and false may be yes and no.
func AsCell(in *field.Info, text string) string {
	switch in.Type {
	case field.TypeTexts:
		items := strings.FieldsFunc(text, func(c rune) bool { return c == ',' || c == '|' || c == ';' })
		for i := range items {
			items[i] = strings.TrimSpace(items[i])
		}
		return strings.Join(items, field.ListSeparator)
	case field.TypeFlag:
		switch strings.ToLower(strings.TrimSpace(text)) {
		case "yes", "y":
			return "true"
		case "no", "n":
			return "false"
		}
	}
	return text
}

// freeID is an id that no part has: made of a name, or else the kind, with a
// number where that takes one. It is taken then.
func freeID(k KindInfo, name string, taken map[string]bool) string {
	base := slug(name)
	first := base
	if base == "" {
		base = strings.ReplaceAll(k.Name, "_", "-")
		first = base + "-1"
	}
	id := first
	for n := 1; taken[id]; n++ {
		id = base + "-" + strconv.Itoa(n)
	}
	taken[id] = true
	return id
}

// slug is a name as an id: its letters and digits, the rest as single dashes.
func slug(name string) string {
	const most = 40
	var b strings.Builder
	for _, c := range strings.ToLower(name) {
		switch {
		case b.Len() >= most:
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.TrimRight(b.String(), "-")
}

// sheetWriter writes drafts as a catalog file and finds what is wrong with them
// there.
type sheetWriter struct {
	name, currency string
	drafts         []Draft
	list           []Checked
	lines          []line // of the file last written
}

// line is what stands in a line of the file: a key of a draft, or "" for its header.
type line struct {
	draft int // -1: none
	key   string
}

// file writes the drafts, those alone in which nothing is wrong unless all are
// wanted.
func (w *sheetWriter) file(all bool) Source {
	var b bytes.Buffer
	none := line{-1, ""}
	w.lines = []line{none, none}
	b.WriteString("schema = 1\ncurrency = " + field.TOML(w.currency) + "\n")
	written := false
	for i := range w.list {
		k, ok := KindNamed(w.drafts[i].Kind)
		if !ok || !all && len(w.list[i].Wrong) > 0 {
			continue
		}
		written = true
		b.WriteByte('\n')
		w.lines = append(w.lines, none)
		for n, text := range k.Table(w.list[i].Keys) {
			key := ""
			if n > 0 { // below the header
				key, _, _ = strings.Cut(text, " ")
			}
			b.WriteString(text + "\n")
			w.lines = append(w.lines, line{i, key})
		}
	}
	if !written {
		return Source{Name: w.name}
	}
	return Source{Name: w.name, Data: b.Bytes()}
}

// judge reads the drafts with the files beside them, and notes what is wrong with
// each. It reports whether a draft that was right before is found wrong.
func (w *sheetWriter) judge(beside []Source, all bool) (worse bool) {
	file := w.file(all)
	if file.Data == nil {
		return false
	}
	r := newReader()
	for _, src := range beside {
		r.file(src)
	}
	r.file(file)
	_, err := r.done()
	problems, _ := err.(field.Problems)
	wrong, missing := map[int][]Slip{}, map[int]int{} // by draft
	for i := range problems {
		p := &problems[i]
		if p.File != w.name || p.Line < 1 || p.Line > len(w.lines) || w.lines[p.Line-1].draft < 0 {
			continue
		}
		at := w.lines[p.Line-1]
		key := at.key
		if key == "" {
			key = w.lacks(at.draft, p, missing)
		}
		if !slices.ContainsFunc(w.list[at.draft].Wrong, func(s Slip) bool { return s.Key == key && key != "" }) {
			hint := p.Hint
			if p.Code == field.DuplicateID { // drafts change no parts of files
				hint = ""
			}
			wrong[at.draft] = append(wrong[at.draft], Slip{key, &field.Problem{Code: p.Code, Message: p.Message, Hint: hint}})
		}
	}
	for i, slips := range wrong {
		worse = worse || len(w.list[i].Wrong) == 0
		w.list[i].Wrong = append(w.list[i].Wrong, slips...)
	}
	return worse
}

// lacks is the key that a problem says a draft does not have, "" for none. The
// required keys that are missing are reported in the order of their table.
func (w *sheetWriter) lacks(draft int, p *field.Problem, before map[int]int) string {
	if p.Code != field.Missing {
		return ""
	}
	n := before[draft]
	before[draft]++
	k, _ := KindNamed(w.drafts[draft].Kind)
	for i := range k.Fields {
		key := k.Fields[i].Key
		written := strings.TrimSpace(w.drafts[draft].Cells[key]) != "" && !slices.ContainsFunc(w.list[draft].Wrong, func(s Slip) bool { return s.Key == key })
		if !k.Fields[i].Required || written {
			continue
		}
		if n == 0 {
			return key
		}
		n--
	}
	return ""
}

// Drafts are the parts of a catalog file as drafts, in the order of the format, a
// family part by part, but one with ranges as one draft. The file is read by itself: what it refers to need not be in
// it.
func Drafts(src Source) ([]Draft, error) {
	c, err := alone(src)
	if err != nil {
		return nil, err
	}
	var out []Draft
	for _, k := range registry {
		for row := range writtenRows(k, c, true) {
			d := Draft{k.info().Name, map[string]string{}}
			for in, v := range row {
				if v != nil && !implied(in, v) {
					d.Cells[in.Key] = CellText(v)
				}
			}
			out = append(out, d)
		}
	}
	return out, nil
}

// SheetOf is the parts of a kind in a catalog file as WriteCSV writes them. The
// file is read by itself, as Drafts does.
func SheetOf(src Source, kindName string) ([]byte, error) {
	c, err := alone(src)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = c.WriteCSV(&b, kindName)
	return b.Bytes(), err
}

// alone reads a file without looking up what it refers to.
func alone(src Source) (*Catalog, error) {
	r := newReader()
	r.file(src)
	r.readAll()
	return r.catalog, r.report.Err()
}

// ReadsAsIs reports whether Read reads a sheet as it is: its headings are keys, or it
// remembers what they are.
func ReadsAsIs(src Source) bool {
	r := newReader()
	name := csvName(src)
	s := sheetReader{reader: r, sheet: field.ParseSheet(src, nil, &r.report)}
	memory, remembers := s.sheet.Remembered()
	s.memory = memory
	k, known := kindNamed(name)
	switch header := s.sheet.Header(); {
	case header.Damaged():
		return false
	case remembers:
		return true
	case s.mixed():
		return s.headings(nil)
	case known:
		k.header(r, s.sheet)
	default:
		return name == headName
	}
	return r.report.Len() == 0 || r.report.Err().(field.Problems)[0].Line > 1
}

// CellText is a value of a key as somebody would type it.
func CellText(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case []string:
		return strings.Join(v, ", ")
	case float64:
		return field.FormatNumber(v)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	}
	return field.Cell(v)
}
