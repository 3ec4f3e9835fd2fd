package catalog

import (
	"strconv"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// Filter is a condition that parts fulfil or not, read by ParseFilter:
//
//	kv > 150 and shaft_mm = 8
//	kind = wheel and (tyre = pneumatic or diameter_mm >= 150)
//	name ~ "steel" and not owned
//	unknown(resistance_mohm)
//
// A comparison has a key, an operator and a value: = != < <= > >= for numbers,
// which stand in the key's unit, or with another as in diameter_mm > 8in; = != ~ for texts and words, where ~ is
// "contains", whatever the case; = != for true and false, for which the key
// alone stands too. For a list, such as the hubs of a wheel, = and ~ ask for
// any item, != for none. Besides the keys of catalog files there is kind.
//
// Comparisons are joined by and, or, not, of which not binds closest and or
// least, and by parentheses. A value with blanks or one of ( ) = ! < > ~ & |
// in it stands in quotes, double or single; a quote in it is doubled.
//
// What a part does not give is neither more nor less than anything: the
// comparison is undecided, so is its opposite, and a part is picked only if
// its data decides that. unknown(key) picks the parts that could have the key
// and do not give it. Of kinds that have no such key neither picks any.
type Filter struct {
	root *condition
}

// operator is what a condition does with what it is made of.
type operator uint8

const (
	opOr operator = iota
	opAnd
	opNot
	opUnknown
	opEqual
	opUnequal
	opBelow
	opAtMost
	opAbove
	opAtLeast
	opContains
)

// signs are the operators as they are written.
func (op operator) sign() string {
	return [...]string{"or", "and", "not", "unknown", "=", "!=", "<", "<=", ">", ">=", "~"}[op]
}

// condition is a node of a filter: two conditions joined, one denied, or a key
// held against a value.
type condition struct {
	op          operator
	left, right *condition
	key         string
	value       operand
}

// operand is the value of a comparison; which of the three fields is set depends on
// the key.
type operand struct {
	class  class
	number float64
	text   string
	flag   bool
}

// class is a class of keys that are compared alike.
type class uint8

const (
	classText class = iota
	classNumber
	classFlag
)

func classOf(in *field.Info) class {
	switch in.Type {
	case field.TypeNumber, field.TypeWhole:
		return classNumber
	case field.TypeFlag:
		return classFlag
	}
	return classText
}

// truth is yes, no, or undecided for lack of data.
type truth int8

const (
	no truth = iota - 1
	undecided
	yes
)

func truthOf(b bool) truth {
	if b {
		return yes
	}
	return no
}

// Match reports whether the part fulfils the condition.
func (f *Filter) Match(e Entry) bool { return f.root.test(e) == yes }

// test decides by Kleene's strong logic of three values.
func (c *condition) test(e Entry) truth {
	switch c.op {
	case opOr:
		return max(c.left.test(e), c.right.test(e))
	case opAnd:
		return min(c.left.test(e), c.right.test(e))
	case opNot:
		return -c.left.test(e)
	}
	if c.key == kindKey {
		return c.compare(e.Kind)
	}
	in, value := e.Value(c.key)
	if value == nil && in != nil && in.Default == "false" {
		value = false // a flag that is absent is false
	}
	switch {
	case c.op == opUnknown:
		return truthOf(in != nil && value == nil)
	case value == nil:
		return undecided
	}
	return c.compare(value)
}

// compare holds a value that is there against the operand.
func (c *condition) compare(value any) truth {
	switch v := value.(type) {
	case float64:
		return truthOf(c.op.holds(v, c.value.number))
	case int:
		return truthOf(c.op.holds(float64(v), c.value.number))
	case bool:
		return truthOf((v == c.value.flag) == (c.op == opEqual))
	case string:
		return c.anyOf([]string{v})
	case []string:
		return c.anyOf(v)
	}
	return undecided
}

// holds compares numbers with the tolerance of all comparisons.
func (op operator) holds(x, y float64) bool {
	switch op {
	case opEqual:
		return drive.AtMost(x, y) && drive.AtLeast(x, y)
	case opUnequal:
		return !drive.AtMost(x, y) || !drive.AtLeast(x, y)
	case opBelow:
		return !drive.AtLeast(x, y)
	case opAtMost:
		return drive.AtMost(x, y)
	case opAbove:
		return !drive.AtMost(x, y)
	}
	return drive.AtLeast(x, y)
}

// anyOf compares texts.
func (c *condition) anyOf(texts []string) truth {
	for _, s := range texts {
		if s == c.value.text || c.op == opContains && strings.Contains(strings.ToLower(s), strings.ToLower(c.value.text)) {
			return truthOf(c.op != opUnequal)
		}
	}
	return truthOf(c.op == opUnequal)
}

// String is the filter in a form that reads back as the same.
func (f *Filter) String() string { return f.root.String() }

func (c *condition) String() string {
	switch c.op {
	case opOr:
		return c.left.String() + " or " + c.right.within(opAnd)
	case opAnd:
		return c.left.within(opAnd) + " and " + c.right.within(opNot)
	case opNot:
		return "not " + c.left.within(opNot)
	case opUnknown:
		return "unknown(" + c.key + ")"
	}
	return c.key + " " + c.op.sign() + " " + c.value.String()
}

// within is the condition as part of one that binds as close as op: in
// parentheses where it binds less.
func (c *condition) within(op operator) string {
	if c.op < op {
		return "(" + c.String() + ")"
	}
	return c.String()
}

func (o operand) String() string {
	switch o.class {
	case classNumber:
		return strconv.FormatFloat(o.number, 'f', -1, 64)
	case classFlag:
		return strconv.FormatBool(o.flag)
	}
	return `"` + strings.ReplaceAll(o.text, `"`, `""`) + `"`
}
