package sheet

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/xuri/excelize/v2"
)

// TestSameTableOtherwiseWritten writes the sheets of all cases in other ways
// that mean the same, and expects the same samples and values.
func TestSameTableOtherwiseWritten(t *testing.T) {
	files, err := filepath.Glob("testdata/cases/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var text string
		for _, f := range txtar.Parse(data).Files {
			if f.Name == "sheet.csv" {
				text = string(f.Data)
			}
		}
		name := strings.TrimSuffix(filepath.Base(file), ".txt")
		want := readRows(t, []byte(text))
		for way, data := range map[string][]byte{
			"CR LF":            []byte(strings.ReplaceAll(text, "\n", "\r\n")),
			"CR":               []byte(strings.ReplaceAll(text, "\n", "\r")),
			"byte order mark":  []byte("\ufeff" + text),
			"UTF-16":           inUTF16(text),
			"no break at end":  []byte(strings.TrimSuffix(text, "\n")),
			"workbook":         asWorkbook(t, text, 1, 1),
			"far from corner":  asWorkbook(t, text, 4, 9),
			"between blank":    []byte("\n\n\n" + text + "\n\n\n"),
			"workbook shifted": asWorkbook(t, text, 27, 1),
		} {
			if strings.HasPrefix(text, "sep=") && (way == "between blank") {
				continue // the line that names the delimiter must be the first
			}
			if diff := cmp.Diff(want, readRows(t, data)); diff != "" {
				t.Errorf("%s, %s (-want +got):\n%s", name, way, diff)
			}
		}
	}
}

func readRows(t *testing.T, data []byte) []string {
	t.Helper()
	b, err := readBytes(context.Background(), data, "x", Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rowLines(b)
}

func inUTF16(s string) []byte {
	out := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}

// asWorkbook writes the fields of a text as text cells, from a cell on.
func asWorkbook(t *testing.T, text string, col, row int) []byte {
	t.Helper()
	text, delimiter := delimiterLine(text)
	if delimiter == 0 {
		delimiter = findDelimiter(text)
	}
	f := excelize.NewFile()
	defer f.Close()
	err := splitRecords(text, delimiter, DefaultLimits(), func(fields []string) {
		for i, s := range fields {
			ref, err := excelize.CoordinatesToCellName(col+i, row)
			if err != nil {
				t.Fatal(err)
			}
			if s = unprotect(s); s == "" {
				continue
			}
			if err := f.SetCellStr("Sheet1", ref, s); err != nil {
				t.Fatal(err)
			}
		}
		row++
	})
	if err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return bytes.Clone(buf.Bytes())
}
