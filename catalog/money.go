package catalog

import (
	"math"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// Prices of a catalog are in one currency, that of its first file: EUR where that names
// none. A later file that names none has it too. What a later file, or a price itself,
// has in another is turned into it by [rates].

// ratesKey is the key of the rates at the top level.
const ratesKey = "rates"

// defaultCurrency is the currency of a catalog that names none.
const defaultCurrency = "EUR"

// maxCurrency is the longest currency, in bytes: a code or a sign.
const maxCurrency = 8

// pricePlaces is to how many parts of the currency a price is rounded that was in
// another.
const pricePlaces = 10_000

// dearest is the most that one of a currency is in another.
const dearest = 1e6

// Rate is what one of another currency is in the catalog's.
type Rate struct {
	Currency string
	Rate     float64
	Parts    int // whose prices it turned
	Pos      Position
}

// money is what a reader knows of currencies.
type money struct {
	scopes   map[string]*scope // by name
	order    []*scope
	rates    []rate
	payments []payment
	from     map[*Part]string // the file of a price that a change gave
}

// scope is files of one currency: a TOML file, or the CSV files of a folder.
type scope struct {
	currency string // "": the catalog's
	at       field.Place
}

// rate is a rate as a file has it.
type rate struct {
	Rate
	scope string
	at    field.Place
}

// payment is a price that names its currency.
type payment struct {
	at       field.Place
	part     *Part
	currency string // "": that of its file
}

// scopeName is the name of the scope of a file.
func scopeName(file string) string {
	if isSheet(Source{Name: file}) {
		return file[:len(file)-len(baseName(file))] + "*.csv"
	}
	return file
}

// isCurrency reports whether a text may be the code or the sign of a currency.
func isCurrency(s string) bool {
	return s != "" && len(s) <= maxCurrency && !strings.ContainsRune(s, ' ')
}

// settle makes the first file's currency the catalog's: it does not change by what is
// laid over that file.
func (r *reader) settle() {
	r.catalog.Currency = ""
	if len(r.catalog.sources) > 0 {
		if s := r.money.scopes[scopeName(r.catalog.sources[0].Name)]; s != nil {
			r.catalog.Currency = s.currency
		}
	}
}

// ownPlace is where the catalog's currency comes from, in words.
func (r *reader) ownPlace() string {
	first := r.catalog.sources[0].Name
	if s := r.money.scopes[scopeName(first)]; s != nil {
		return "as in " + where(s.at)
	}
	return "as in " + first + ", which names none"
}

// setCurrency notes the currency that a file names.
func (r *reader) setCurrency(file, currency string, at field.Place) {
	if !isCurrency(currency) {
		r.report.Add(at, field.WrongText, `such as "EUR"`, "currency is %s, must be a code or a sign of at most %d bytes", field.Quote(currency), maxCurrency)
		return
	}
	name := scopeName(file)
	if old := r.money.scopes[name]; old != nil {
		if old.currency != currency {
			r.report.Add(at, field.Contradiction, "", "currency is %s, must be %s as in %s", field.Quote(currency), field.Quote(old.currency), where(old.at))
		}
		return
	}
	if r.money.scopes == nil {
		r.money.scopes = map[string]*scope{}
	}
	s := &scope{currency, at}
	r.money.scopes[name] = s
	r.money.order = append(r.money.order, s)
}

// rates reads a [rates]: numbers by currency.
func (r *reader) rates(file string, s field.Section) {
	type values [field.MaxKeys]float64
	var fields []field.Field[values]
	for e := range s.Entries() {
		if key := e.Key(); !isCurrency(key) {
			r.report.Add(e.At, field.WrongText, `such as USD = 0.92`, "%s is no currency: a code or a sign of at most %d bytes", field.Quote(key), maxCurrency)
		} else if at := slices.IndexFunc(fields, func(f field.Field[values]) bool { return unit.SameCurrency(f.Key, key) }); at >= 0 {
			r.report.Add(e.At, field.GivenTwice, "take out either", "%s is the same currency as %s above", field.Quote(key), field.Quote(fields[at].Key))
		} else {
			i := len(fields)
			fields = append(fields, field.Field[values]{Key: key, Min: 1 / dearest, Max: dearest, Number: func(v *values) *float64 { return &v[i] }})
		}
	}
	t := field.NewTable("["+ratesKey+"]", fields)
	read := t.Blank()
	given := t.DecodeOwn(s, &read, &r.report)
	for i, f := range fields {
		if x := read[i]; !math.IsNaN(x) {
			at := given.Place(f.Key)
			r.money.rates = append(r.money.rates, rate{Rate{Currency: f.Key, Rate: x, Pos: positionOf(at)}, scopeName(file), at})
		}
	}
}

// paid notes the currency that a part's price names.
func (r *reader) paid(part *Part, at field.Place) {
	if part.currency != "" {
		r.money.payments = append(r.money.payments, payment{at, part, part.currency})
		part.currency = ""
	}
}

// priceFrom notes that a part's price is of another file than the part.
func (m *money) priceFrom(part *Part, file string) {
	if m.from == nil {
		m.from = map[*Part]string{}
	}
	m.from[part] = file
}

// convert turns prices into the catalog's currency, and reports what has no rate.
func (r *reader) convert() {
	own := r.catalog.currency()
	x := exchange{reader: r, own: own, named: map[*Part]payment{}}
	x.known()
	for _, s := range r.money.order {
		if !unit.SameCurrency(s.currency, own) && x.rate(s.currency) == nil {
			r.report.Add(s.at, field.Contradiction, x.hint("", s.currency), "currency is %s, not %s %s, and has no rate", field.Quote(s.currency), field.Quote(own), r.ownPlace())
		}
	}
	for _, p := range r.money.payments {
		x.named[p.part] = p
	}
	for _, p := range r.money.payments {
		if x.named[p.part] == p && p.currency != "" && !math.IsNaN(p.part.Price) && !unit.SameCurrency(p.currency, own) && x.rate(p.currency) == nil {
			r.report.Add(p.at, field.Contradiction, x.hint("write it in "+own+", or ", p.currency), "price is in %s, must be in %s, the catalog's currency", field.Quote(p.currency), own)
		}
	}
	if r.report.Len() == 0 {
		x.turn()
	}
}

// exchange turns prices into one currency.
type exchange struct {
	*reader
	own   string
	rates []*Rate
	named map[*Part]payment
}

// known gathers the rates into the catalog's currency: those of files that name it or
// none, the last where several have one. Those of other files are into theirs.
func (x *exchange) known() {
	for _, r := range x.money.rates {
		if s := x.money.scopes[r.scope]; s != nil && !unit.SameCurrency(s.currency, x.own) {
			continue
		}
		if unit.SameCurrency(r.Currency, x.own) {
			if r.Rate.Rate != 1 {
				x.report.Add(r.at, field.Contradiction, "name the other currency, and what one of it is in "+x.own, "%s is the catalog's currency, of which one is 1", field.Quote(r.Currency))
			}
			continue
		}
		if old := x.rate(r.Currency); old != nil {
			*old = r.Rate
			continue
		}
		x.rates = append(x.rates, &r.Rate)
	}
}

// rate is the rate of a currency, nil for none.
func (x *exchange) rate(currency string) *Rate {
	for _, r := range x.rates {
		if unit.SameCurrency(r.Currency, currency) {
			return r
		}
	}
	return nil
}

// hint says how to give a rate, after another way out, or why one that is there does not
// count.
func (x *exchange) hint(or, currency string) string {
	for _, r := range x.money.rates {
		if s := x.money.scopes[r.scope]; s != nil && unit.SameCurrency(r.Currency, currency) {
			return "the rate at " + where(r.at) + " is not taken, since that file is in " + s.currency + ": put [rates] into a file in " + x.own + ", or into one that names no currency"
		}
	}
	return or + "say what one is in " + x.own + ": [rates] and below it " + tomlKey(currency) + " = …"
}

// tomlKey is a key as TOML has it.
func tomlKey(key string) string {
	if strings.Trim(key, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-") == "" {
		return key
	}
	return field.TOML(key)
}

// turn turns the prices, once nothing is wrong.
func (x *exchange) turn() {
	turned := map[string]bool{}
	for _, p := range x.catalog.Parts() {
		currency := x.named[p].currency
		if currency == "" {
			file := p.Pos.File
			if from, ok := x.money.from[p]; ok {
				file = from
			}
			if s := x.money.scopes[scopeName(file)]; s != nil {
				currency = s.currency
			}
		}
		if currency == "" || unit.SameCurrency(currency, x.own) || math.IsNaN(p.Price) {
			continue
		}
		r := x.rate(currency)
		p.Price = math.Round(p.Price*r.Rate*pricePlaces) / pricePlaces
		if !turned[p.ID] { // which catalogs that are merged have several times
			turned[p.ID] = true
			r.Parts++
		}
	}
	for _, r := range x.rates {
		x.catalog.Rates = append(x.catalog.Rates, *r)
	}
}
