package catalog

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// kindKey is the key of a filter that no part has: the name of its kind.
const kindKey = "kind"

// MaxFilter is the longest text of a filter, in bytes.
const MaxFilter = 4096

// ParseFilter reads a filter for the parts of the named kinds, of every kind
// if none is named; only their keys may stand in it. What is wrong with the
// text is returned as a *field.Problem without a file, with the place in the
// text and the nearest key or word.
func ParseFilter(text string, kinds ...string) (*Filter, error) {
	src := field.Source{Data: []byte(text)}
	if len(text) > MaxFilter {
		return nil, field.ProblemIn(field.Source{}, 0, 0, field.TooLarge, "", fmt.Sprintf("the filter is %d bytes long, at most %d", len(text), MaxFilter))
	}
	tokens, problem := scan(src)
	if problem != nil {
		return nil, problem
	}
	p := filterParser{src: src, tokens: tokens, kinds: kinds, keys: keysOf(kinds)}
	root := p.any()
	if p.problem == nil && p.next().kind != tokenEnd {
		p.trailing()
	}
	if p.problem != nil {
		return nil, p.problem
	}
	return &Filter{root}, nil
}

// keysOf are the keys of the named kinds, or of every kind, and kind.
func keysOf(kinds []string) map[string]*field.Info {
	keys := map[string]*field.Info{kindKey: {Key: kindKey, Type: field.TypeWord, Words: KindNames()}}
	for _, k := range registry {
		in := k.info()
		if len(kinds) > 0 && !slices.Contains(kinds, in.Name) {
			continue
		}
		for i := range in.Fields {
			keys[in.Fields[i].Key] = &in.Fields[i]
		}
	}
	return keys
}

// filterParser reads tokens by recursive descent. After the first problem it
// reads on without effect.
type filterParser struct {
	src     field.Source
	tokens  []token
	at      int
	kinds   []string
	keys    map[string]*field.Info
	problem *field.Problem
}

func (p *filterParser) next() token { return p.tokens[p.at] }

func (p *filterParser) take() token {
	t := p.tokens[p.at]
	if t.kind != tokenEnd {
		p.at++
	}
	return t
}

// fail notes what is wrong with a token.
func (p *filterParser) fail(t token, code field.Code, hint, message string) {
	if p.problem == nil {
		p.problem = field.ProblemIn(p.src, t.start, t.end, code, hint, message)
	}
}

// keyword takes a word if it comes next.
func (p *filterParser) keyword(word string) bool {
	if t := p.next(); t.kind != tokenWord || t.text != word {
		return false
	}
	p.at++
	return true
}

// any reads conditions joined by or.
func (p *filterParser) any() *condition {
	c := p.all()
	for p.problem == nil && p.keyword("or") {
		c = &condition{op: opOr, left: c, right: p.all()}
	}
	return c
}

// all reads conditions joined by and.
func (p *filterParser) all() *condition {
	c := p.one()
	for p.problem == nil && p.keyword("and") {
		c = &condition{op: opAnd, left: c, right: p.one()}
	}
	return c
}

// one reads one condition: a comparison, a condition in parentheses, or a denied one.
func (p *filterParser) one() *condition {
	switch t := p.take(); {
	case t.kind == tokenWord && t.text == "not":
		return &condition{op: opNot, left: p.one()}
	case t.kind == tokenOpen:
		c := p.any()
		if p.problem == nil && p.next().kind == tokenClose {
			p.at++
			return c
		}
		if p.next().kind == tokenEnd {
			p.fail(t, field.Syntax, "", "( is not closed")
		}
		p.trailing()
		return c
	case t.kind == tokenWord && t.text == "unknown":
		return p.unknown(t)
	case t.kind == tokenWord && !isKeyword(t.text):
		return p.comparison(t)
	default:
		p.noCondition(t)
		return nil
	}
}

func isKeyword(word string) bool {
	return word == "and" || word == "or" || word == "not" || word == "unknown"
}

// noCondition reports what stands where a condition should.
func (p *filterParser) noCondition(t token) {
	switch {
	case t.kind == tokenEnd && t.start == 0:
		p.fail(t, field.Syntax, "such as kv > 150", "the filter is empty")
	case t.kind == tokenEnd:
		p.fail(t, field.Syntax, "", "a condition is missing at the end")
	case t.kind == tokenOperator && t.text == "!":
		p.fail(t, field.Syntax, "write not", "! is no operator")
	case t.kind == tokenQuoted:
		p.fail(t, field.Syntax, "a comparison begins with a key, without quotes", "a value stands where a condition should")
	default:
		p.fail(t, field.Syntax, "", "a condition is missing before "+string(p.src.Data[t.start:t.end]))
	}
}

// unknown reads what follows the word unknown.
func (p *filterParser) unknown(t token) *condition {
	const hint = "such as unknown(resistance_mohm)"
	if p.take().kind != tokenOpen {
		p.fail(t, field.Syntax, hint, "unknown takes a key in parentheses")
		return nil
	}
	key := p.take()
	if key.kind != tokenWord {
		p.fail(t, field.Syntax, hint, "unknown takes a key in parentheses")
		return nil
	}
	if p.key(key) == nil {
		return nil
	}
	if key.text == kindKey {
		p.fail(key, field.Contradiction, "", "the kind of a part is always known")
	}
	if p.take().kind != tokenClose {
		p.fail(t, field.Syntax, hint, "unknown takes one key in parentheses")
	}
	return &condition{op: opUnknown, key: key.text}
}

// key finds the key that a word names, and reports a word that names none.
func (p *filterParser) key(t token) *field.Info {
	in := p.keys[t.text]
	if in != nil || p.problem != nil {
		return in
	}
	of := "any kind"
	if len(p.kinds) > 0 {
		of = strings.Join(p.kinds, ", ")
	}
	hint := ""
	switch near, ok := field.Nearest(t.text, slices.Values(slices.Sorted(maps.Keys(p.keys)))); {
	case keysOf(nil)[t.text] != nil:
		hint = "another kind has it: " + kindWith(t.text)
	case ok:
		hint = "did you mean " + near + "?"
	}
	if field.IsNumber(t.text) {
		hint = "a comparison begins with a key: kv > 150"
	}
	p.fail(t, field.UnknownKey, hint, "no key "+field.Quote(t.text)+" in "+of)
	return nil
}

// kindWith is the first kind that has a key.
func kindWith(key string) string {
	for _, k := range registry {
		if k.field(key) != nil {
			return k.info().Name
		}
	}
	return ""
}

// comparison reads what follows a key.
func (p *filterParser) comparison(t token) *condition {
	in := p.key(t)
	if in == nil {
		return nil
	}
	sign := p.next()
	if sign.kind != tokenOperator {
		if classOf(in) == classFlag {
			return &condition{op: opEqual, key: t.text, value: operand{class: classFlag, flag: true}}
		}
		p.fail(t, field.Syntax, "such as "+t.text+" "+example(in), t.text+" is compared to nothing")
		return nil
	}
	p.at++
	op, ok := p.operator(sign)
	if !ok {
		return nil
	}
	if classOf(in) != classNumber && op >= opBelow && op <= opAtLeast {
		p.fail(sign, field.WrongType, "", sign.text+" compares numbers, and "+t.text+" is "+string(in.Type))
	}
	if op == opContains && classOf(in) != classText {
		p.fail(sign, field.WrongType, "", "~ looks into texts, and "+t.text+" is "+string(in.Type))
	}
	value := p.take()
	if value.kind != tokenQuoted && (value.kind != tokenWord || isKeyword(value.text)) {
		p.fail(sign, field.Syntax, "", "a value is missing after "+sign.text)
		return nil
	}
	return &condition{op: op, key: t.text, value: p.operand(in, op, value)}
}

// example is a comparison of a key, without the key.
func example(in *field.Info) string {
	switch {
	case classOf(in) == classNumber:
		return "> " + field.FormatNumber(max(in.Min, 1))
	case len(in.Words) > 0:
		return "= " + in.Words[0]
	}
	return `~ "text"`
}

// operator is the operator that a token is; it reports those of other
// languages.
func (p *filterParser) operator(t token) (operator, bool) {
	for op := opEqual; op <= opContains; op++ {
		if t.text == op.sign() {
			return op, true
		}
	}
	hint := "operators: = != < <= > >= ~"
	switch t.text {
	case "==":
		hint = "write ="
	case "<>", "~=", "!~":
		hint = "write !=, or not and ~"
	case "=<":
		hint = "write <="
	case "=>":
		hint = "write >="
	case "&", "&&":
		hint = "write and"
	case "|", "||":
		hint = "write or"
	}
	p.fail(t, field.Syntax, hint, t.text+" is no operator")
	return 0, false
}

// operand reads the value of a comparison with a key.
func (p *filterParser) operand(in *field.Info, op operator, t token) operand {
	o := operand{class: classOf(in), text: t.text}
	switch o.class {
	case classNumber:
		x, currency, wrong, hint := in.ReadNumber(t.text)
		switch {
		case wrong == ", must be a number":
			wrong += unitOf(in)
		case currency != "":
			wrong, hint = ": prices are compared as numbers, in the catalog's currency", ""
		}
		if wrong != "" {
			p.fail(t, field.WrongType, hint, in.Key+" is compared to "+field.Quote(t.text)+wrong)
		}
		return operand{class: classNumber, number: x}
	case classFlag:
		if t.text != "true" && t.text != "false" {
			p.fail(t, field.WrongType, "", in.Key+" is compared to "+field.Quote(t.text)+", must be true or false")
		}
		return operand{class: classFlag, flag: t.text == "true"}
	}
	if in.Words != nil && op != opContains && !slices.Contains(in.Words, t.text) {
		hint := "words: " + strings.Join(in.Words, " ")
		if near, ok := field.Nearest(t.text, slices.Values(in.Words)); ok {
			hint = "did you mean " + near + "?"
		}
		p.fail(t, field.UnknownWord, hint, in.Key+" is never "+field.Quote(t.text))
	}
	return o
}

// unitOf is the unit of a key as the end of a sentence.
func unitOf(in *field.Info) string {
	if in.Unit == "" {
		return ""
	}
	return " of " + in.Unit
}

// trailing reports what stands after a condition and does not join it to
// another.
func (p *filterParser) trailing() {
	switch t := p.next(); t.kind {
	case tokenClose:
		p.fail(t, field.Syntax, "", ") closes nothing")
	case tokenOperator:
		if _, ok := p.operator(t); ok {
			p.fail(t, field.Syntax, "write two comparisons and join them with and", "a comparison has one operator and one value")
		}
	case tokenWord:
		lower := strings.ToLower(t.text)
		if isKeyword(lower) && lower != t.text {
			p.fail(t, field.Syntax, "write "+lower, field.Quote(t.text)+" joins nothing")
			return
		}
		p.fail(t, field.Syntax, "join conditions with and or or; put a value of several words in quotes", field.Quote(t.text)+" follows a condition")
	default:
		p.fail(t, field.Syntax, "join conditions with and or or", "a condition is followed by another")
	}
}
