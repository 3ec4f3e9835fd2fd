package layout

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func htmlOf(t interface{ Fatal(...any) }, text *Text) string {
	var b strings.Builder
	if err := text.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestHTML(t *testing.T) {
	text := &Text{}
	text.Heading("Builds & more")
	text.Paragraph("A paragraph.")
	text.List([]string{"one", "two <i>"})
	table := &Table{
		Columns: []Column{{Right: true}, {Title: "new"}, {Title: "km/h", Right: true}, {Title: "to pay", Right: true, Extra: true}, {Title: "watch", Spare: true}},
		Legend:  []Gloss{{Titles: []string{"km/h"}, Text: ": top speed"}, {Sign: "!", Text: ": thin"}, {Sign: "!!", Text: ": beyond it"}},
	}
	table.Rows = [][]Cell{
		{{Text: "1"}, {Text: "quay-107"}, {Text: "32.6!", Tone: Warn}, {Text: "58 "}, {Text: "no"}},
		{{Text: "2"}, {}, {Text: "31.1!!", Tone: Bad}, {}, {}},
	}
	text.Table(table)
	text.Notes(Note{Label: "next", Text: "gearsearch sheet 'a b'", Typed: true}, Note{Label: "cautions", Text: "7"})
	text.Entry("speed: 30 km/h", Note{Label: "formula", Text: "v = a t"})
	text.Entry("mass: 12 kg")
	text.Verbatim("gearsearch a > b", "gearsearch c")
	want := `
<h3>Builds &amp; more</h3>
<p>A paragraph.</p>
<ul>
<li>one</li>
<li>two &lt;i&gt;</li>
</ul>
<table>
<thead>
<tr><td></td><th scope="col">new</th><th scope="col" class="number">km/h</th><th scope="col" class="number">to pay</th></tr>
</thead>
<tbody>
<tr><td class="number">1</td><th scope="row">quay-107</th><td class="number warn">32.6<span class="sign">!<span class="hidden"> thin</span></span></td><td class="number">58</td></tr>
<tr><td class="number">2</td><td></td><td class="number bad">31.1<span class="sign">!!<span class="hidden"> beyond it</span></span></td><td class="number"></td></tr>
</tbody>
</table>
<p class="legend">km/h: top speed; !: thin; !!: beyond it.</p>
<dl class="notes">
<dt>next</dt><dd><code>gearsearch sheet &#39;a b&#39;</code></dd>
<dt>cautions</dt><dd>7</dd>
</dl>
<ul class="entries">
<li class="entry">
<p>speed: 30 km/h</p>
<dl class="notes">
<dt>formula</dt><dd>v = a t</dd>
</dl>
</li>
<li class="entry">
<p>mass: 12 kg</p>
</li>
</ul>
<pre><code>gearsearch a &gt; b
gearsearch c</code></pre>
`
	if diff := cmp.Diff(want, "\n"+htmlOf(t, text)); diff != "" {
		t.Error(diff)
	}
}

// TestHTMLHeads: a table without titles has no heads of columns, and one of numbers
// alone has the first for heads of rows.
func TestHTMLHeads(t *testing.T) {
	table := &Table{Columns: []Column{{Right: true}, {Right: true}}}
	table.Add("1", "2")
	text := &Text{}
	text.Table(table)
	want := `<table>
<tbody>
<tr><th scope="row" class="number">1</th><td class="number">2</td></tr>
</tbody>
</table>
`
	if diff := cmp.Diff(want, htmlOf(t, text)); diff != "" {
		t.Error(diff)
	}
}

// TestHTMLIsWhatIsSaid: whatever a text says, each element is one that the layout has made,
// and the words that are read back are those that were written, in their order.
func TestHTMLIsWhatIsSaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := 0
		hostile := func() string {
			n++
			return rapid.SampledFrom([]string{
				`<script>alert(1)</script>`, `</td><td onclick=x>`, `"'><img src=x>`, `&lt;b&gt;`, `a!`, `!?`, `]]>`, `<!-- `, "plain words", "日本", "`x` </code></pre>",
			}).Draw(t, "text")
		}
		var said []string
		say := func() string {
			s := hostile()
			said = append(said, s)
			return s
		}
		text := &Text{}
		for range rapid.IntRange(1, 6).Draw(t, "blocks") {
			switch rapid.IntRange(0, 6).Draw(t, "kind") {
			case 0:
				text.Heading(say())
			case 1:
				text.Paragraph(say())
			case 2:
				text.List([]string{say(), say()})
			case 3:
				text.Verbatim(say())
			case 4:
				text.Entry(say(), Note{Label: say(), Text: say()})
			case 5:
				text.Notes(Note{Label: say(), Text: say(), Typed: rapid.Bool().Draw(t, "typed")})
			default:
				table := &Table{Columns: []Column{{Title: say()}, {Title: say(), Right: true}}}
				table.Add(say(), say())
				text.Table(table)
			}
		}
		got, elements := readBack(t, "<body>"+htmlOf(t, text)+"</body>")
		for _, name := range elements {
			if !strings.Contains(" body h3 p ul li pre code dl dt dd table thead tbody tr th td ", " "+name+" ") {
				t.Fatalf("an element %s", name)
			}
		}
		want := strings.Join(strings.Fields(strings.Join(said, "")), "")
		if words := strings.Join(strings.Fields(got), ""); words != want {
			t.Fatalf("read back %q, want %q", words, want)
		}
	})
}

// readBack is all text of a document and the names of its elements.
func readBack(t *rapid.T, document string) (text string, elements []string) {
	d := xml.NewDecoder(strings.NewReader(document))
	d.Entity = xml.HTMLEntity
	var b strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return b.String(), elements
		}
		if err != nil {
			t.Fatalf("%v in %s", err, document)
		}
		switch x := token.(type) {
		case xml.StartElement:
			elements = append(elements, x.Name.Local)
		case xml.CharData:
			b.Write(x)
		}
	}
}
