package say

import (
	"strings"
	"time"
)

// priceKeeps is how long a price is taken for one of today: a year (common practice,
// no published source).
const priceKeeps = 365 * 24 * time.Hour

// PriceFrom says from when and from where a price is, "" where neither is told.
func PriceFrom(day, source string) string {
	if day == "" || source == "" {
		return day + source
	}
	return day + ", " + source
}

// OldPrice reports whether a price of a day is over a year old; a day that is not told
// is not.
func OldPrice(day, today string) bool {
	then, err := time.Parse(time.DateOnly, day)
	now, err2 := time.Parse(time.DateOnly, today)
	return err == nil && err2 == nil && now.Sub(then) > priceKeeps
}

// Price is the day of the price of something.
type Price struct{ Of, Day string }

// OldPrices says which prices are over a year old, "" where none is.
func OldPrices(prices []Price, today string) string {
	var old []string
	for _, p := range prices {
		if OldPrice(p.Day, today) {
			old = append(old, p.Of+" ("+p.Day+")")
		}
	}
	if old == nil {
		return ""
	}
	return "Over a year old, so ask again before you buy: the price of " + strings.Join(old, ", ") + "."
}
