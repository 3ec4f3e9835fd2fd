// Package field reads tables of a document by field tables: one row for each
// key, which says the key's name, unit, range, allowed words and meaning, and
// where its value goes. Everything about a key is in its row, so decoding,
// conversion to SI units, range checks, hints at the nearest key, CSV headers
// and the reference page all come from one place.
//
// A document is TOML 1.0 (Parse) or CSV (ParseCSV). Both become the same light
// tree of sections, keys and values that know their place in the text, and
// Table.Decode reads a section of either into a value of the caller's type.
// Decoding never stops at a problem: a Report gathers all of them, each with
// its place, and Report.Err gives them as one error, sorted by place, ready to
// print:
//
//	parts.toml:3:6: kv is 0.19, must be 5 to 10000 rpm/V
//	    kv = 0.19
//	         ^^^^
//	    hint: times 1000 it would fit: write it in rpm/V
//
// # What is refused beyond the grammar
//
// Unknown and repeated keys, values of the wrong type, NaN and infinities,
// numbers out of range, words not in a list, and text with control characters
// (C0, C1, DEL, directional controls, line separators, invalid UTF-8). So no
// accepted text can move a terminal's cursor, and text that is quoted in a
// message is escaped.
//
// # Limits
//
// A document holds at most MaxSize bytes, MaxValues values, MaxKeys keys in a
// section, MaxItems items in a list and MaxDepth levels; one expression spans
// at most MaxExpression bytes. The tree takes about 30 bytes for each key and
// value beside the text itself.
//
// Lines and columns count from 1; a column counts characters, not bytes.
package field
