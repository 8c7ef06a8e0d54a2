package sheet

import (
	"strings"
	"time"
)

var dateLayouts = []string{
	"2006-01-02", "2006/01/02", "2006-01-02 15:04", "2006-01-02 15:04:05", "2006-01-02T15:04:05",
	"02.01.2006", "2.1.2006", "02.01.06", "02/01/2006", "01/02/2006", "2/1/2006", "1/2/2006", "2-1-2006", "02-01-2006",
	"2-Jan", "02-Jan", "2 Jan", "2. Jan", "2-Jan-06", "02-Jan-06", "2-Jan-2006", "02-Jan-2006", "2 Jan 2006", "2 January 2006",
	"Jan-06", "Jan-2006", "Jan-2", "Jan 2006",
}

// looksLikeDate reports texts that a spreadsheet program leaves behind when it
// has taken "3-14" or "1.5" for a day. "3-12" itself may be a name.
func looksLikeDate(s string) bool {
	if len(s) < 5 || len(s) > 24 || !strings.ContainsAny(s, "0123456789") {
		return false
	}
	if s[0] < '0' || s[0] > '9' { // a month, or no date
		if _, err := time.Parse("Jan", s[:3]); err != nil {
			return false
		}
	} else if !strings.ContainsAny(s, "-/. ") {
		return false
	}
	for _, layout := range dateLayouts {
		if _, err := time.Parse(layout, s); err == nil {
			return true
		}
	}
	return false
}
