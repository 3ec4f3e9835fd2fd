package ask

import (
	"os"
	"strconv"
	"time"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// Today is the day by which an answer goes, as 2026-05-01: that of SOURCE_DATE_EPOCH
// where it is set, else the clock's (UTC).
func Today() (string, error) {
	text, ok := os.LookupEnv("SOURCE_DATE_EPOCH")
	if !ok {
		return time.Now().UTC().Format(time.DateOnly), nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 {
		return "", outcome.Usage("it is the seconds since 1970, as in SOURCE_DATE_EPOCH=1764028800", "SOURCE_DATE_EPOCH is %s, no time", field.Quote(text))
	}
	return time.Unix(seconds, 0).UTC().Format(time.DateOnly), nil
}
