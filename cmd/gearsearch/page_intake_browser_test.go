package main

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// dropData drops a file that is no text on the page.
func (p *onPage) dropData(name string, data []byte) {
	p.t.Helper()
	p.text(fmt.Sprintf(`(() => {
		const data = Uint8Array.from(atob(%q), (c) => c.charCodeAt(0)), carried = new DataTransfer();
		carried.items.add(new File([data], %q));
		for (const type of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(type, { dataTransfer: carried, bubbles: true, cancelable: true }));
		return "";
	})()`, base64.StdEncoding.EncodeToString(data), name))
}

// pasteOn pastes a text onto an element.
func (p *onPage) pasteOn(selector, text string) {
	p.t.Helper()
	p.text(fmt.Sprintf(`(() => {
		const carried = new DataTransfer();
		carried.setData("text/plain", %q);
		document.querySelector(%q).dispatchEvent(new ClipboardEvent("paste", { clipboardData: carried, bubbles: true, cancelable: true }));
		return "";
	})()`, text, selector))
}

// owned is how many parts of the reader's own a table has.
func (p *onPage) owned() int {
	p.t.Helper()
	return browsertest.Value[int](p.Tab, "document.querySelectorAll('[data-own]').length")
}

// take takes the rows that are shown.
func (p *onPage) take() {
	p.t.Helper()
	p.change(func() {
		p.text("(document.getElementById('intake-take').scrollIntoView({ block: 'center' }), '')") // clear of the status line
		p.Press("#intake-take")
		p.Wait("!document.querySelector('.intake')")
	})
}

// workbook is an .xlsx file of one sheet with texts, numbers and a share in percent,
// and of a hidden one; filling is put into it as it is.
func workbook(t *testing.T, filling string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`},
		{"xl/workbook.xml", `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Old" sheetId="2" state="hidden" r:id="r2"/><sheet name="Drives" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Target="worksheets/sheet1.xml"/><Relationship Id="r2" Target="worksheets/sheet1.xml"/></Relationships>`},
		{"xl/sharedStrings.xml", `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>name</t></si><si><r><t>rat</t></r><r><t>io</t></r></si><si><t>efficiency</t></si><si><t>Sheet drive</t></si></sst>`},
		{"xl/styles.xml", `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><cellXfs><xf numFmtId="0"/><xf numFmtId="9"/></cellXfs></styleSheet>`},
		{"xl/worksheets/sheet1.xml", `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="D1" t="s"><v>2</v></c></row><row r="2"><c r="A2" t="s"><v>3</v></c><c r="B2"><v>3.3999999999999999</v></c><c r="D2" s="1"><v>0.95</v></c></row></sheetData></worksheet>` + filling},
	} {
		w, err := z.Create(f[0])
		if err == nil {
			_, err = w.Write([]byte(f[1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestPageTakesSpreadsheets drops and pastes rows of spreadsheets: under a wrong name,
// with headings of their own, as a workbook, onto a table.
func TestPageTakesSpreadsheets(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	before := p.shown("#status-text b")

	// Thirty motors under a name that does not tell, one with a mistake.
	var sheet strings.Builder
	sheet.WriteString("My motors;;;;;\nModel;KV (rpm/V);R [mΩ];Shaft;Price EUR;colour\n")
	const motors = 30
	for i := range motors {
		kv := fmt.Sprint(120 + 5*i)
		if i == 7 {
			kv = "fast"
		}
		fmt.Fprintf(&sheet, "Sheet %d;%s;%d,5;8;%d;red\n", i, kv, 20+i, 80+i)
	}
	p.drop("my build - motor (1).csv", strings.Replace(sheet.String(), "Model;", "Part name;", 1))
	p.Wait("document.getElementById('intake-take') || document.querySelector('.intake [role=alert]')")
	if says := p.shown("#intake-title"); !strings.Contains(says, "my build - motor (1).csv: 30 rows") {
		t.Errorf("the page says %q", says)
	}
	if kind := p.text("document.getElementById('intake-kind').value"); kind != "motor" {
		t.Errorf("taken for %q", kind)
	}
	if out := p.shown("#intake-out"); !strings.Contains(out, "colour") || !strings.Contains(out, "Part name") {
		t.Errorf("left out: %q", out)
	}
	if now := p.shown("#status-text b"); now != before {
		t.Errorf("rows that are not taken change the answer from %q to %q", before, now)
	}
	p.choose("#column-0", "name")
	p.Wait("document.getElementById('intake-out') && !document.getElementById('intake-out').textContent.includes('Part name')")
	p.picture("intake")
	if says := p.shown("#intake-wrong"); !strings.HasPrefix(says, "One row has a mistake") {
		t.Errorf("of the mistake the page says %q", says)
	}
	p.take()
	if n := p.owned(); n != motors {
		t.Errorf("%d own parts, want %d", n, motors)
	}
	if says := p.ownSays(7, "kv"); !strings.Contains(says, `kv is "fast", must be a number`) {
		t.Errorf("beside the wrong cell: %q", says)
	}
	if value := p.text("document.querySelector('" + ownCell(7, "kv") + "').value"); value != "fast" {
		t.Errorf("the wrong cell is now %q", value)
	}
	if says := p.text("document.getElementById('crate').innerText"); !strings.Contains(says, "29 of your own") {
		t.Errorf("the page says\n%s", says)
	}
	p.picture("intake-taken")

	// A row pasted onto a table, columns in any order, a unit in brackets.
	p.pasteOn("#add-wheel", "Tyre\tDiameter (in)\tName\nrubber\t6\tPasted wheel\n")
	p.Wait("document.getElementById('intake-take')")
	p.take()
	if says := p.ownSays(motors, "diameter_mm"); !strings.Contains(says, "read as 152.4 mm") {
		t.Errorf("of six inches the page says %q", says)
	}
	// Without headings: the order of the table.
	p.Press("#paste-wheel")
	p.Wait("document.activeElement.id === 'pasted'")
	p.text("(document.getElementById('pasted').value = 'Bare wheel\\t12\\t97', '')")
	p.Press("#pasted-read")
	p.Wait("document.getElementById('intake-take')")
	p.take()
	if value := p.text("document.querySelector('" + ownCell(motors+1, "diameter_mm") + "').value"); value != "97" {
		t.Errorf("the bare wheel has %q mm", value)
	}

	// A workbook: its hidden sheet is left, percents are percents.
	p.dropData("motors.xlsx", workbook(t, ""))
	p.Wait("document.getElementById('intake-take')")
	if kind := p.text("document.getElementById('intake-kind').value"); kind != "gear_drive" {
		t.Errorf("the workbook is taken for %q", kind)
	}
	p.take()
	for key, want := range map[string]string{"name": "Sheet drive", "ratio": "3.4", "efficiency": "95%"} {
		if value := p.text("document.querySelector('" + ownCell(motors+2, key) + "').value"); value != want {
			t.Errorf("of the workbook %s is %q, want %q", key, value, want)
		}
	}

	// Where nothing tells the kind it is asked.
	p.drop("parts.csv", "name,price\nThing,9\n")
	p.Wait("document.getElementById('intake-kind')")
	if says := p.text("document.querySelector('.intake').innerText"); !strings.Contains(says, "What are these? The headings do not tell.") {
		t.Errorf("the page says\n%s", says)
	}
	p.picture("intake-asks")
	p.choose("#intake-kind", "remote")
	p.Wait("document.getElementById('intake-take')")
	p.Press("#intake-leave")

	// What is not read is refused in words, and nothing is taken.
	const mebibyte = 1 << 20
	for _, f := range []struct {
		name, says string
		data       []byte
	}{
		{"bomb.xlsx", "unpacked it is larger than 20 MB", workbook(t, strings.Repeat(" ", 30*mebibyte))},
		{"old.xls", "old .xls form", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")},
		{"sheet.pdf", "PDF", []byte("%PDF-1.7")},
		{"text.docx", "no workbook in it", zipOf(t, "word/document.xml")},
		{"cut.xlsx", "cut short", workbook(t, "")[:400]},
	} {
		p.dropData(f.name, f.data)
		p.Wait(fmt.Sprintf("(document.querySelector('#file-problems pre') || {textContent: ''}).textContent.includes(%q)", f.says))
	}
	if n := p.owned(); n != motors+3 {
		t.Errorf("%d own parts, want %d", n, motors+3)
	}
}

// TestPageTakesRowsOfSeveralKinds pastes and drops a table whose rows say what they are:
// each kind is shown with its own columns, and all are taken at once.
func TestPageTakesRowsOfSeveralKinds(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("parts")
	p.Wait("document.getElementById('add-motor')")
	p.pasteOn("#add-motor", "Part\tName\tKV (rpm/V)\tDiameter\tProfile\tLinks\tPrice\n"+
		"motor\tPasted motor\t170\t\t\t\t80\n"+
		"wheels\tPasted wheel\t\t97\t\t\t12\n"+
		"Chain\tPasted chain\t\t\tchain-06c\t48\t9\n"+
		"thingamabob\tPasted thing\t\t\t\t\t3\n")
	p.Wait("document.getElementById('intake-take')")
	kinds := func() string {
		return p.text("[...document.querySelectorAll('.intake .piece > p:first-child select')].map((s) => s.value || '?').join(' ')")
	}
	if got := kinds(); got != "motor wheel chain ?" {
		t.Errorf("taken for %q", got)
	}
	if says := p.text("document.querySelector('.intake').innerText"); !strings.Contains(says, "1 row of “wheels”:") || !strings.Contains(says, "What is “thingamabob”? Without a kind it is left out:") || !strings.Contains(says, "Take these 3 parts") {
		t.Errorf("the page says\n%s", says)
	}
	p.picture("intake-kinds")
	p.choose("#intake-kind-3", "remote")
	p.Wait("document.getElementById('intake-take') && document.getElementById('intake-take').textContent === 'Take these 4 parts'")
	p.choose("#column-0-1", "note") // the wheel's name
	p.Wait("(document.getElementById('column-0-1') || {}).value === 'note'")
	p.choose("#column-0-1", "name")
	p.Wait("(document.getElementById('column-0-1') || {}).value === 'name'")
	p.take()
	for _, id := range []string{"pasted-motor", "pasted-wheel", "pasted-chain"} {
		p.Wait("document.getElementById('face-" + id + "')")
	}
	if n := p.owned(); n != 4 {
		t.Errorf("%d own parts, want 4", n)
	}
	for i, key := range []string{"kv", "diameter_mm", "links"} {
		if value := p.text("document.querySelector('" + ownCell(i, key) + "').value"); value != map[string]string{"kv": "170", "diameter_mm": "97", "links": "48"}[key] {
			t.Errorf("of the rows %s is %q", key, value)
		}
	}

	// As a file: by people's headings it is shown first, by keys it is a catalog.
	p.drop("my parts.csv", "Category;Name;KV;Diameter\nmotor;Dropped motor;150;\nwheel;Dropped wheel;;110\n")
	p.Wait("document.getElementById('intake-take')")
	if got := kinds(); got != "motor wheel" {
		t.Errorf("of the file taken for %q", got)
	}
	p.take()
	p.drop("more.csv", "kind,id,kv,diameter_mm\nmotor,filed-motor,160,\nwheel,filed-wheel,,112\n")
	p.Wait("state.contents.files.includes('more.csv')")
	if says := p.text("document.querySelector('.files').innerText"); !strings.Contains(says, "6 of your own") || !strings.Contains(says, "more.csv") {
		t.Errorf("the files are %q", says)
	}
}

// zipOf is an archive with an empty file.
func zipOf(t *testing.T, name string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if _, err := z.Create(name); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestPagePartsByKeyboard fills in a wheel without a mouse: Enter begins a row and goes
// down, Tab goes on, Escape takes back, and the focus is never lost.
func TestPagePartsByKeyboard(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("parts")
	p.Wait("document.getElementById('add-wheel')")
	at := func() string { return p.text("document.activeElement.id") }
	key := func(keys ...string) {
		for _, k := range keys {
			p.Do(chromedp.KeyEvent(k))
		}
	}
	p.text("(document.getElementById('add-wheel').focus(), '')")
	key(kb.Enter)
	if at() != "cell-0-name" {
		t.Fatalf("a new row begins at %q", at())
	}
	key("Typed", kb.Tab, kb.Tab)
	if at() != "cell-0-diameter_mm" {
		t.Fatalf("two tabs behind the name is %q", at())
	}
	if says := p.text("document.getElementById('about-wheel').innerText"); !strings.Contains(says, "outside diameter, unloaded; 30 to 700 mm") {
		t.Errorf("of the cell the page says %q", says)
	}
	p.change(func() {
		key("100", kb.Enter)
		p.Wait("document.activeElement.id === 'cell-1-name'")
	})
	if value := p.text("document.getElementById('cell-0-diameter_mm').value"); value != "100" {
		t.Errorf("the diameter is %q", value)
	}
	key(kb.Escape) // the empty row goes away
	if at() != "add-wheel" || p.owned() != 1 {
		t.Errorf("an empty row that is left: %d rows, the focus at %q", p.owned(), at())
	}
	p.text("(document.getElementById('cell-0-diameter_mm').focus(), document.activeElement.select(), '')")
	key("9", kb.Escape)
	if value := p.text("document.getElementById('cell-0-diameter_mm').value"); value != "100" {
		t.Errorf("after Escape the diameter is %q", value)
	}
	// A part of the demo as the start of one's own.
	p.text("(document.querySelector('#shelves [aria-labelledby=shelf-wheel] tr:not(.own) .more').focus(), '')")
	key(kb.Enter, kb.Tab, kb.Tab)
	if !strings.HasPrefix(at(), "from-") {
		t.Fatalf("behind ⋯ is %q", at())
	}
	p.change(func() {
		key(kb.Enter)
		p.Wait("document.querySelectorAll('[data-own]').length === 2")
	})
	if at() != "cell-1-name" {
		t.Errorf("the copy begins at %q", at())
	}
	p.Wait("document.getElementById('notes-1-').innerText.includes('invented')")
	p.change(func() {
		key("Mine", kb.Tab)
		p.Wait("!document.getElementById('notes-1-').innerText.includes('invented, as long')")
	})
}
