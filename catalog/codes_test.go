package catalog

import (
	"errors"
	"slices"
	"testing"

	"gearsearch/catalog/field"
)

// What is wrong is told by a code too, whatever the words.
func TestProblemsHaveCodes(t *testing.T) {
	const motor, belt = "[[motor]]\nid = 'm'\nkv = 190\n", "[[belt]]\nid = 'b'\nteeth = 60\n"
	tests := []struct {
		why, body string
		want      []field.Code
	}{
		{"not TOML", motor + "shaft_mm = = 8", []field.Code{field.Syntax}},
		{"a number with its unit", motor + "shaft_mm = 8 mm", []field.Code{field.Syntax}},
		{"a key that there is not", motor + "shaft = 8", []field.Code{field.UnknownKey}},
		{"a kind that there is not", "[[engine]]\nid = 'e'", []field.Code{field.UnknownKey}},
		{"a word of no list", motor + "shaft_key = 'round'", []field.Code{field.UnknownWord}},
		{"a profile that there is not", belt + "profile = 'xyz'", []field.Code{field.UnknownID}},
		{"a text for a number", motor + "shaft_mm = 'eight'", []field.Code{field.WrongType}},
		{"one table for a list", "[motor]\nid = 'm'\nkv = 190", []field.Code{field.WrongType}},
		{"an id with a space", "[[motor]]\nid = 'm 1'\nkv = 190", []field.Code{field.WrongText}},
		{"more poles than there can be", motor + "pole_pairs = 1000", []field.Code{field.OutOfRange}},
		{"a number beyond all", motor + "shaft_mm = 1e999", []field.Code{field.OutOfRange}},
		{"no kv", "[[motor]]\nid = 'm'", []field.Code{field.Missing}},
		{"a key given twice", motor + "kv = 170", []field.Code{field.GivenTwice}},
		{"two parts of one id", motor + motor, []field.Code{field.DuplicateID}},
		{"keys that exclude each other", "[[wire]]\nid = 'w'\nawg = 10\narea_mm2 = 5", []field.Code{field.Contradiction}},
		{"two at once", motor + "shaft = 8\nshaft_key = 'round'", []field.Code{field.UnknownKey, field.UnknownWord}},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			_, err := Read(Source{Name: "parts.toml", Data: []byte("schema = 1\n" + test.body)})
			var problems field.Problems
			if !errors.As(err, &problems) {
				t.Fatalf("is read: %v", err)
			}
			var got []field.Code
			for _, p := range problems {
				got = append(got, p.Code)
			}
			if !slices.Equal(got, test.want) {
				t.Errorf("codes %v, want %v\n%v", got, test.want, err)
			}
		})
	}
}

func TestFilterProblemsHaveCodes(t *testing.T) {
	for _, test := range []struct {
		text string
		want field.Code
	}{
		{"weight > 3", field.UnknownKey},
		{"kv > many", field.WrongType},
		{"shaft_key = round", field.UnknownWord},
		{"kv >", field.Syntax},
		{"kv > 'many", field.Syntax},
	} {
		_, err := ParseFilter(test.text, "motor")
		var p *field.Problem
		if !errors.As(err, &p) || p.Code != test.want {
			t.Errorf("%s: %v, want the code %s", test.text, err, test.want)
		}
	}
}
