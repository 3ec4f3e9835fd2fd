// Package catalog reads, checks and holds the parts that a board is built of.
//
// A catalog is one or more TOML files. At the top stand schema = 1, a title
// and the currency ("EUR" unless given; later files have the first one's). Below stand the parts, each kind a list of tables; keys carry their
// unit:
//
//	schema = 1
//	title = "My parts"
//
//	[[motor]]
//	id = "m63"              # the parts m63-170 and m63-190
//	kv = [170, 190]
//	resistance_mohm = [60, 48]
//	shaft_mm = 8
//	price = 99
//
//	[[wheel]]
//	id = "street"           # the part street-97
//	diameter_mm = [97]
//	hub = ["five", "eight"] # a list by nature: one part
//
// A number may stand in quotes with another unit of its kind: diameter_mm =
// "8in", resistance_mohm = "0.033 ohm", ratio = "15:36", which is the larger over
// the smaller, a price with the catalog's currency. In quotes without a unit it
// is an error. In CSV it stands so or bare.
//
// A table with lists in numeric keys stands for a family, as many parts as the
// lists are long; all lists of a table have one length. The id of a family may
// be a list too; else it grows a suffix: a motor its kv, a pulley, a sprocket
// and a belt their teeth, a chain its links, a wheel its diameter_mm, a battery <series>s<parallel>p, where
// one of those keys is a list or the lists have one item only; any other family
// -1, -2 and so on.
//
// A range in quotes, teeth = "12..80" or diameter_mm = "80..100/2.5", stands for its
// numbers, from the lower end to the upper one: the upper end is one of them where the
// steps meet it, to 1e-9 of itself. It has no units; the step is 1 unless given, and
// must be given where the key is not one of whole numbers. Several ranges of a table
// multiply, and multiply with its lists, which count as one range where the first of
// them stands; the first key of the table is the slowest. Ids are as in other families,
// but where what they grow does not tell all parts apart, -1, -2 and so on in that
// order. A table stands for at most field.MaxItems parts.
//
// The first twelve kinds, motor to profile, make a drivetrain. The others are
// accessories, what a board needs around it: bms, switch, fuse, connector,
// wire, charger, remote, box. A family of these grows a number with its unit:
// a bms its series as in -12s, a fuse -80a, a wire -10awg or -4mm2, a charger
// -50.4v.
//
// Ids are unique over all kinds and files. References (a battery's cell, a
// pulley's profile, what a gear drive fits) may be to any file. Kinds gives
// every kind with its keys, their units, ranges, defaults and meanings.
//
// A directory is a catalog too: motor.csv, pulley.csv and so on, with the same
// keys as headers, in any order, and catalog.csv with title and currency. An
// empty cell is an absent key, the items of a list are separated by |, and a row
// is a table, of one part or a family. Rows and
// columns of empty cells, files with other endings and hidden files are passed
// over, CSV files with other names are errors.
//
// A sheet with a column kind may have any name, .csv or .tsv, and rows of all kinds:
// each says what it is, and its columns are the keys of any. Where no column has ids
// they are made of the names. Its headings need not be keys, if a row above them
// remembers what each is taken for (see field.Remembered); PlanSheet finds that out.
// A workbook, which Opened.Sheets takes apart, is as many sheets, each with a column
// kind or named after a kind.
//
// Spreadsheets write CSV in several ways. The header line says which: columns
// may be separated by commas, by semicolons or by tabs; a row such as sep=; may
// stand above it. With semicolons and tabs
// numbers may have a decimal comma, and if one has, none may have a decimal
// point. Separators of thousands are read where they can be taken in one way. A text that a spreadsheet would run as a formula, since it begins with
// = + - @ (or has one of them after a semicolon), is written with an apostrophe
// before that character, and reading takes one apostrophe away from there.
//
// WriteTOML and CSVFiles turn a catalog from one form into the other without
// loss, except that comments are not kept and families of lists become single
// parts. A table with ranges is written as it was.
//
// Everything wrong with the files is reported at once, as field.Problems, each
// with file, line and column, and in a sheet its cell as a spreadsheet names it; a file that cannot be read gives an
// *fs.PathError. No accepted text has control characters in it, so parts can
// be printed as they are.
//
// In memory every number is in SI units (A·h, rpm/V and the electrical rpm are
// kept, being the trade's), and NaN where the catalog does not give it;
// strings are empty and lists nil then. What is assumed in its place is the
// business of whoever computes with it, except for what Battery's methods
// derive.
//
// Numbers on a page decide nothing about safety: lithium packs burn when they
// are built or charged wrongly, and are work for qualified people.
package catalog
