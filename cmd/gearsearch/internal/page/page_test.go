package page

import (
	"fmt"
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	tb := &Table{Columns: []Column{{Title: "", Right: true}, {Title: "score", Right: true}, {Title: "motor mΩ", Stack: "p"}, {Title: "pack", Stack: "p"}, {Title: "km/h", Right: true, Stack: "n"}, {Title: "held by", Right: true, Stack: "n"}}}
	tb.Add("1", "84.2", "2 × ov-63m-180", "town-12s4p", "38.2", "motor A")
	tb.Add("2", "84.2", "2 × 日本-63m-180", "town-12s4p", "38.2", "erpm")
	var p Page
	p.Heading("Builds")
	p.Table(tb)
	p.List([]string{"a b c", "dd ee"})
	for _, w := range []int{80, 50, 40} {
		fmt.Println(w)
		p.WriteText(os.Stdout, Style{Width: w})
	}
	p.WriteMarkdown(os.Stdout)
}
