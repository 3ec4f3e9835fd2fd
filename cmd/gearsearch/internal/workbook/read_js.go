package workbook

import (
	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// Read refuses a workbook: in a browser the page takes it apart before.
func Read(book catalog.Source) ([]catalog.Source, error) {
	var r field.Report
	r.Add(r.Start(book.Name), field.Syntax, "drop it on the page, which reads its rows", "a workbook is not read here")
	return nil, r.Err()
}
