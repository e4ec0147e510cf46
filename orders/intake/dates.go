package intake

import (
	"math"
	"time"
)

// dateOfSerial is the day a spreadsheet's day number stands for. Numbers below
// 61 count the 29 February 1900 that never was.
func dateOfSerial(f float64, from1904 bool) time.Time {
	days := math.Floor(max(-1e6, min(f, 1e7)))
	switch {
	case from1904:
		days += 1462
	case days < 61:
		days++
	}
	return time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(days))
}
