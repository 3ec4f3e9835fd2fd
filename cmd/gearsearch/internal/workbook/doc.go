// Package workbook reads workbooks (.xlsx: ECMA-376), and writes none. A workbook is
// a packed archive: what comes out of it is bounded before it is unpacked.
package workbook

// The most that is read of a workbook.
const (
	MaxUnpacked = 24 << 20 // bytes of all its files
	MaxRows     = 20_000   // of a sheet
)
