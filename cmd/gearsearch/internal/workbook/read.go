//go:build !js

package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// Read gives each sheet of a workbook that is shown and has something in it as CSV,
// a row of it in a row. The error is field.Problems.
func Read(book catalog.Source) (sheets []catalog.Source, err error) {
	if hint := foreign(book.Data); hint != "" {
		return nil, wrong(book.Name, hint, "this is no workbook in the .xlsx form")
	}
	// The library has been seen to panic on files that no spreadsheet writes.
	defer func() {
		if recover() != nil {
			sheets, err = nil, wrong(book.Name, "save it again in a spreadsheet, or as CSV", "the workbook cannot be read")
		}
	}()
	if unpacked(book.Data) > MaxUnpacked {
		return nil, wrong(book.Name, "take the parts out of it, as CSV", "unpacked the workbook is larger than %d MB", MaxUnpacked>>20)
	}
	f, err := excelize.OpenReader(bytes.NewReader(book.Data), excelize.Options{UnzipSizeLimit: MaxUnpacked, UnzipXMLSizeLimit: MaxUnpacked, RawCellValue: true})
	if err != nil {
		return nil, wrong(book.Name, "save it again in a spreadsheet, or as CSV", "the workbook cannot be read: %v", err)
	}
	defer f.Close()
	room := field.MaxSize
	for _, name := range f.GetSheetList() {
		if shown, err := f.GetSheetVisible(name); err != nil || !shown {
			continue
		}
		data, err := sheet(f, book.Name, name, &room)
		if err != nil {
			return nil, err
		}
		if data != nil {
			sheets = append(sheets, catalog.Source{Name: book.Name, Sheet: name, Data: data})
		}
	}
	if len(sheets) == 0 {
		return nil, wrong(book.Name, "a hidden sheet is not read", "no sheet of the workbook has anything in it")
	}
	return sheets, nil
}

// unpacked is how many bytes the files of an archive say that they have; 0 of what is no
// archive. The library stops at the limit whatever they say.
func unpacked(data []byte) uint64 {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return 0
	}
	sum := uint64(0)
	for _, f := range archive.File {
		sum += min(f.UncompressedSize64, MaxUnpacked+1)
	}
	return sum
}

// foreign says what to do with a file that is no workbook; "" for one that may be.
func foreign(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return "an old .xls, or one with a password: save it as .xlsx or CSV, without a password"
	case !bytes.HasPrefix(data, []byte("PK")):
		return "save it as .xlsx or CSV in a spreadsheet"
	}
	return ""
}

// sheet writes a sheet as CSV, nil for an empty one. Each row is read twice, once as
// the number that it holds and once as it is shown: what is shown about a number is
// its unit.
func sheet(f *excelize.File, book, name string, room *int) ([]byte, error) {
	raw, err := f.Rows(name)
	if err != nil {
		return nil, wrong(book, "", "sheet %s cannot be read: %v", field.Quote(name), err)
	}
	defer raw.Close()
	shown, err := f.Rows(name)
	if err != nil {
		return nil, wrong(book, "", "sheet %s cannot be read: %v", field.Quote(name), err)
	}
	defer shown.Close()
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	filled := false
	for number := 1; raw.Next() && shown.Next(); number++ {
		values, err := raw.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, wrong(book, "", "sheet %s, row %d cannot be read: %v", field.Quote(name), number, err)
		}
		seen, err := shown.Columns(excelize.Options{RawCellValue: false})
		if err != nil {
			return nil, wrong(book, "", "sheet %s, row %d cannot be read: %v", field.Quote(name), number, err)
		}
		row, any := cells(values, seen)
		switch {
		case any && number > MaxRows:
			return nil, wrong(book, "split it", "sheet %s has something in row %d: no more than %d rows are read", field.Quote(name), number, MaxRows)
		case number > MaxRows:
			continue
		case any && len(row) > field.MaxKeys:
			return nil, wrong(book, "take the rest away", "sheet %s has something in column %s of row %d: no more than %d columns are read", field.Quote(name), field.ColumnName(len(row)-1), number, field.MaxKeys)
		case !any:
			b.WriteByte('\n') // so that rows keep their numbers
		default:
			filled = true
			_ = w.Write(row) // to memory
			w.Flush()
		}
		if b.Len() > *room {
			return nil, wrong(book, "split it", "the sheets of the workbook are larger than %d MB", field.MaxSize>>20)
		}
	}
	if err := errors.Join(raw.Error(), shown.Error()); err != nil {
		return nil, wrong(book, "", "sheet %s cannot be read: %v", field.Quote(name), err)
	}
	if !filled {
		return nil, nil
	}
	*room -= b.Len()
	return b.Bytes(), nil
}

// cells is a row as texts; any tells whether it has something in it.
func cells(values, seen []string) (row []string, any bool) {
	for i, v := range values {
		as := v
		if i < len(seen) {
			as = seen[i]
		}
		text := strings.TrimSpace(cell(v, as))
		row = append(row, text)
		any = any || text != ""
	}
	for len(row) > 0 && row[len(row)-1] == "" {
		row = row[:len(row)-1]
	}
	return row, any
}

// shownNumber is a number as a spreadsheet shows it, with what stands about it.
var shownNumber = regexp.MustCompile(`^([^0-9.,()\[\]-]*)-?[0-9][0-9.,' \x{a0}]*([^0-9]*)$`)

// cell is the text of a cell that holds a value and is shown as a text. Of a number
// all digits are taken, in the decimal system as far as they are sure, and what is
// shown about it is put behind: % of a share, the sign of a currency, a unit.
func cell(value, shown string) string {
	x, err := strconv.ParseFloat(value, 64)
	switch {
	case err != nil || value == "":
		return value
	case shown == "TRUE" || shown == "FALSE":
		return strings.ToLower(shown)
	case shown == value: // a text of digits, or a number as it is
		return value
	}
	if day, ok := date(x, shown); ok {
		return day
	}
	about := shownNumber.FindStringSubmatch(shown)
	if about == nil {
		return shown
	}
	unit := strings.TrimSpace(about[1] + about[2])
	if unit == "%" {
		x *= 100
	}
	return strings.TrimSpace(field.FormatNumber(x) + " " + unit)
}

// date is a number of days as a date, where it is shown as one: with its year.
func date(days float64, shown string) (string, bool) {
	day, err := excelize.ExcelDateToTime(days, false)
	if err != nil || day.Year() < 1950 || !strings.ContainsAny(shown, "-/. ") || !strings.Contains(shown, strconv.Itoa(day.Year())) {
		return "", false
	}
	return day.Format(time.DateOnly), true
}

// wrong is what is wrong with a workbook.
func wrong(name, hint, format string, args ...any) error {
	var r field.Report
	r.Add(r.Start(name), field.Syntax, hint, "%s", fmt.Sprintf(format, args...))
	return r.Err()
}
