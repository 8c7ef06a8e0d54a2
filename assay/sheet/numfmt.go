package sheet

import (
	"archive/zip"
	"encoding/xml"
	"math"
	"strconv"
	"strings"
	"time"
)

// format says what a number format makes of a number.
type format uint8

const (
	formatPlain format = iota
	formatPercent
	formatDate
)

// builtinFormat classifies the formats that have a number only (ECMA-376,
// part 1, 18.8.30).
func builtinFormat(id int) format {
	switch {
	case id == 9 || id == 10:
		return formatPercent
	case id >= 14 && id <= 22, id >= 27 && id <= 36, id >= 45 && id <= 47, id >= 50 && id <= 58:
		return formatDate
	}
	return formatPlain
}

// classifyFormat reads a format code such as "0.00%" or "dd/mm/yyyy". Quoted
// and escaped text, colours and conditions do not count.
func classifyFormat(code string) format {
	code, _, _ = strings.Cut(code, ";") // the format of positive numbers
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case '"':
			end := strings.IndexByte(code[i+1:], '"')
			if end < 0 {
				return formatPlain
			}
			i += end + 1
		case '\\', '_', '*':
			i++
		case '[':
			end := strings.IndexByte(code[i:], ']')
			if end < 0 {
				return formatPlain
			}
			if in := strings.ToLower(code[i+1 : i+end]); in != "" && strings.Trim(in, "h") == "" || strings.Trim(in, "m") == "" && in != "" || strings.Trim(in, "s") == "" && in != "" {
				return formatDate // elapsed time
			}
			i += end
		case '%':
			return formatPercent
		case 'y', 'Y', 'd', 'D', 'm', 'M', 'h', 'H':
			return formatDate
		case 'G', 'g': // General
			if len(code) >= i+7 && strings.EqualFold(code[i:i+7], "General") {
				i += 6
			}
		}
	}
	return formatPlain
}

// styles reads the number formats of the cell styles.
func (a *archive) styles(f *zip.File) ([]format, *refusal) {
	custom := map[int]format{}
	var out []format
	inCells := false
	bad := a.walk(f, func(tok xml.Token, _ int) {
		switch t := tok.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "numFmt":
				if id, err := strconv.Atoi(attr(t, "numFmtId")); err == nil {
					custom[id] = classifyFormat(attr(t, "formatCode"))
				}
			case "cellXfs":
				inCells = true
			case "xf":
				if inCells {
					id, _ := strconv.Atoi(attr(t, "numFmtId"))
					form, ok := custom[id]
					if !ok {
						form = builtinFormat(id)
					}
					out = append(out, form)
				}
			}
		case xml.EndElement:
			if t.Name.Local == "cellXfs" {
				inCells = false
			}
		}
	})
	return out, bad
}

// isoDate writes a date serial in ISO form, with the time where there is one.
// The 1904 system counts 1462 days less.
func isoDate(serial float64, date1904 bool) string {
	if date1904 {
		serial += 1462
	}
	if serial < 0 || serial > 2_958_466 { // year 9999
		return strconv.FormatFloat(serial, 'g', -1, 64)
	}
	if serial < 61 {
		serial++ // the program's calendar has a 29 February 1900
	}
	days := math.Floor(serial)
	seconds := math.Round((serial - days) * 86400)
	t := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(days)).Add(time.Duration(seconds) * time.Second)
	switch {
	case days <= 1 && seconds > 0:
		return t.Format("15:04:05")
	case t.Second() > 0:
		return t.Format("2006-01-02 15:04:05")
	case seconds > 0:
		return t.Format("2006-01-02 15:04")
	}
	return t.Format("2006-01-02")
}
