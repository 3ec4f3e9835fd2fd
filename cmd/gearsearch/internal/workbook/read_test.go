//go:build !js

package workbook

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"gearsearch/catalog"
)

// made is a workbook as a spreadsheet writes it.
func made(t testing.TB, fill func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fill(f)
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// row puts values into a row from column A on.
func row(f *excelize.File, sheet string, number int, values ...any) {
	cell, _ := excelize.CoordinatesToCellName(1, number)
	_ = f.SetSheetRow(sheet, cell, &values)
}

// style shows a cell in a format.
func style(f *excelize.File, sheet, cell, format string) {
	id, _ := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	_ = f.SetCellStyle(sheet, cell, cell, id)
}

func TestRead(t *testing.T) {
	data := made(t, func(f *excelize.File) {
		_ = f.SetSheetName("Sheet1", "Garage")
		row(f, "Garage", 1, "kind", "id", "kv", "price", "efficiency", "mass_g", "sensored", "note", "priced")
		row(f, "Garage", 3, "motor", "007", 170.25, 1089.5, nil, 500, true, "a, \"b\"", time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC))
		row(f, "Garage", 4, "gear_drive", "g", nil, 80, 0.953, 0.5)
		style(f, "Garage", "C3", "0")                // shown without its digits
		style(f, "Garage", "D3", `[$$-409]#,##0.00`) // in another currency
		style(f, "Garage", "E4", "0%")
		style(f, "Garage", "F4", `0.0" kg"`)
		style(f, "Garage", "I3", "yyyy-mm-dd")
		_, _ = f.NewSheet("Notes")
		row(f, "Notes", 1, "to buy")
		_ = f.SetSheetVisible("Notes", false)
		_, _ = f.NewSheet("Empty")
	})
	sheets, err := Read(catalog.Source{Name: "garage.xlsx", Data: data})
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) != 1 || sheets[0].Name != "garage.xlsx" || sheets[0].Sheet != "Garage" {
		t.Fatalf("%d sheets, the first %+v", len(sheets), sheets)
	}
	want := "kind,id,kv,price,efficiency,mass_g,sensored,note,priced\n\n" +
		"motor,007,170.25,1089.5 $,,500,true,\"a, \"\"b\"\"\",2026-03-01\n" +
		"gear_drive,g,,80,95.3 %,0.5 kg\n"
	if got := string(sheets[0].Data); got != want {
		t.Errorf("it is\n%s, want\n%s", got, want)
	}
}

// TestReadIsACatalog: mistakes name the sheet, its row and its column.
func TestReadIsACatalog(t *testing.T) {
	data := made(t, func(f *excelize.File) {
		_ = f.SetSheetName("Sheet1", "Motors")
		row(f, "Motors", 1, "id", "kv")
		row(f, "Motors", 2, "a", 170)
		row(f, "Motors", 5, "b", "fast")
		_, _ = f.NewSheet("Rest")
		row(f, "Rest", 1, "id", "price")
		row(f, "Rest", 2, "c", 1)
	})
	sheets, err := Read(catalog.Source{Name: "parts.xlsx", Data: data})
	if err != nil {
		t.Fatal(err)
	}
	_, err = catalog.Read(sheets...)
	for _, says := range []string{
		`parts.xlsx:5:3: sheet "Motors", row 5, column B: kv is "fast", must be a number`,
		`sheet "Rest" has no column kind, and its name is no kind of parts`,
		"hint: add a column kind, name the sheet after the kind of its parts, or hide it to leave it out",
	} {
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v\ndoes not say %s", err, says)
		}
	}
	c, err := catalog.Read(catalog.Source{Name: "parts.xlsx", Sheet: "Motors", Data: []byte("id,kv\na,170\n")})
	if err != nil || len(c.Motors) != 1 {
		t.Errorf("%v", err)
	}
}

// packed is an archive of files.
func packed(t testing.TB, files map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range files {
		w, err := z.Create(name)
		if err == nil {
			_, err = io.WriteString(w, text)
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

// plain are the files of a workbook with one sheet.
func plain(rows string) map[string]string {
	return map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>`,
		"_rels/.rels":                `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="A" sheetId="1" r:id="r1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml":   `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` + rows + `</sheetData></worksheet>`,
	}
}

// TestReadHostile: what is no workbook, or too large a one, is refused in words.
func TestReadHostile(t *testing.T) {
	bomb := plain(`<row r="1"><c r="A1" t="inlineStr"><is><t>kv</t></is></c></row>` + strings.Repeat(" ", MaxUnpacked))
	many := plain("")
	for _, name := range []string{"a", "b", "c"} {
		many["xl/media/"+name] = strings.Repeat("x", MaxUnpacked/2)
	}
	for _, tt := range []struct {
		why, says string
		data      []byte
	}{
		{"no archive", "this is no workbook in the .xlsx form", []byte("kind,kv\n")},
		{"old or locked", "an old .xls, or one with a password", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")},
		{"cut short", "the workbook cannot be read", packed(t, plain(""))[:400]},
		{"another archive", "the workbook cannot be read", packed(t, map[string]string{"word/document.xml": "<a/>"})},
		{"a bomb", "unpacked the workbook is larger than 24 MB", packed(t, bomb)},
		{"a bomb in pieces", "unpacked the workbook is larger than 24 MB", packed(t, many)},
		{"an empty sheet", "no sheet of the workbook has anything in it", packed(t, plain(""))},
		{"a cell far down", `sheet "A" has something in row 1048576: no more than 20000 rows are read`, packed(t, plain(`<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="A1048576"><v>1</v></c></row>`))},
		{"a cell far out", `sheet "A" has something in column XFD of row 1: no more than 200 columns are read`, packed(t, plain(`<row r="1"><c r="XFD1"><v>1</v></c></row>`))},
		{"a text that there is not", "", packed(t, plain(`<row r="1"><c r="A1" t="s"><v>-1</v></c></row>`))},
	} {
		sheets, err := Read(catalog.Source{Name: "x.xlsx", Data: tt.data})
		switch {
		case tt.says == "":
		case err == nil:
			t.Errorf("%s: read as %q", tt.why, sheets[0].Data)
		case !strings.Contains(err.Error(), tt.says) || !strings.HasPrefix(err.Error(), "x.xlsx:1:1: "):
			t.Errorf("%s: %v", tt.why, err)
		}
	}
}

// FuzzRead reads any rows and any bytes as a workbook: it never panics, and what it
// gives reads as CSV.
func FuzzRead(f *testing.F) {
	f.Add([]byte(`<row r="1"><c r="A1" t="inlineStr"><is><t>kv</t></is></c><c r="B1" s="1"><v>0.5</v></c></row>`), true)
	f.Add([]byte(`<row r="2"><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c><c t="s"><v>9</v></c></row>`), true)
	f.Add(packed(f, plain("")), false)
	f.Fuzz(func(t *testing.T, data []byte, rows bool) {
		if rows {
			data = packed(t, plain(string(data)))
		}
		sheets, err := Read(catalog.Source{Name: "x.xlsx", Data: data})
		if err == nil && len(sheets) == 0 {
			t.Fatal("no sheet and no error")
		}
		for _, s := range sheets {
			if g, _ := catalog.ReadGrid(s.Data); len(g) == 0 {
				t.Fatalf("nothing in %q", s.Data)
			}
		}
	})
}
