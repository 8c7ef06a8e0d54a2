package sheet

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
)

func TestDecodeText(t *testing.T) {
	le := func(s string, mark bool) []byte {
		var out []byte
		if mark {
			out = append(out, 0xff, 0xfe)
		}
		for _, u := range utf16.Encode([]rune(s)) {
			out = append(out, byte(u), byte(u>>8))
		}
		return out
	}
	const text = "Probe;Cu (µg/g)\nKR-1;5\n"
	for name, c := range map[string]struct {
		data []byte
		form string
	}{
		"utf-8":          {[]byte(text), ""},
		"mark":           {append([]byte("\xef\xbb\xbf"), text...), ""},
		"utf-16":         {le(text, true), "UTF-16"},
		"utf-16 no mark": {le(text, false), "UTF-16 without mark"},
		"windows-1252":   {[]byte(strings.ReplaceAll(text, "µ", "\xb5")), "windows-1252"},
	} {
		got, form, bad := decodeText(c.data, "")
		if bad != nil || got != text || form != c.form {
			t.Errorf("%s: %q, %q, %v", name, got, form, bad)
		}
	}
	// Byte B3 is ³ in Windows-1252 and ł in Windows-1250.
	for set, want := range map[string]string{"": "³", "windows-1250": "ł"} {
		if got, _, _ := decodeText([]byte{0xb3}, set); got != want {
			t.Errorf("charset %q: %q, want %q", set, got, want)
		}
	}
}

func TestDelimiter(t *testing.T) {
	for text, want := range map[string]byte{
		"a;b;c\n1,5;2,5;3\n":                   ';',
		"a,b\n1,2\n":                           ',',
		"a\tb\n1,5\t2\n":                       '\t',
		"a|b|c\n1|2|3\n":                       '|',
		"title, with comma\na;b\n1;2\n3;4\n":   ';',
		"\"x;y\",2\n\"a;b;c\",3\n\"q;w\",4\n":  ',',
		"Sample;a;b\n\"KR;1\";1,2;3\nKR;1;2,5": ';',
	} {
		if got := findDelimiter(text); got != want {
			t.Errorf("findDelimiter(%q) = %q, want %q", text, got, want)
		}
	}
}

// TestSplitRecords compares with the standard reader where both agree on what
// a text means: RFC 4180, rows of equal length, no blank lines.
func collectRecords(s string) (rows [][]string, err error) {
	err = splitRecords(s, ',', DefaultLimits(), func(row []string) { rows = append(rows, slices.Clone(row)) })
	return rows, err
}

func TestSplitRecords(t *testing.T) {
	for _, s := range []string{"a,b\n1,2\n", "\"a\nb\",\"c\"\"d\"\r\n1,2\r\n", "a,b,c\n,,x\n", "\"\",b\n1,\"2\"\n"} {
		want, err := csv.NewReader(strings.NewReader(s)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		got, err := collectRecords(s)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("splitRecords(%q) = %q, %v, want %q", s, got, err, want)
		}
	}
	got, err := collectRecords("a,b\n\n\"never closed,1\n2,x\n")
	want := [][]string{{"a", "b"}, {}, {"\"never closed", "1"}, {"2", "x"}}
	if err != nil || len(got) != len(want) {
		t.Fatalf("%q, %v", got, err)
	}
	for i := range want {
		if len(got[i]) != len(want[i]) || (len(got[i]) > 0 && !reflect.DeepEqual(got[i], want[i])) {
			t.Errorf("row %d is %q, want %q", i, got[i], want[i])
		}
	}
}

func FuzzCSV(f *testing.F) {
	for _, glob := range []string{filepath.Join(hardDir, "*.csv"), "testdata/cases/*.txt"} {
		files, err := filepath.Glob(glob)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Add([]byte("Sample,SiO2 %,CaO %\nKR-1,\"31.2,5\n\n\"\"\"\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		limits := Limits{Rows: 200, Columns: 60, Cells: 2000}
		b, err := readBytes(context.Background(), data, "f.csv", Options{Limits: limits})
		if err != nil {
			t.Fatal(err)
		}
		checkBook(t, b)
	})
}

// checkBook asserts what holds of every book, whatever was read.
func checkBook(t *testing.T, b *Book) {
	t.Helper()
	for _, n := range b.Notices {
		if n.Code == "" || n.Message == "" || n.At.File == "" || strings.Contains(n.Message, "(MISSING)") || strings.Contains(n.Message, "%!(EXTRA") {
			t.Fatalf("bad notice %+v", n)
		}
		if strings.HasPrefix(n.Code, "E_") && len(b.Tables)+len(b.Records) > 0 {
			t.Fatalf("%s, and yet %d tables", n.Code, len(b.Tables))
		}
	}
	for _, table := range b.Tables {
		values := 0
		for _, c := range table.Columns {
			if c.Role == RoleAnalyte {
				values++
				if !isAnalyte(c.Analyte) {
					t.Fatalf("column %+v", c)
				}
			}
		}
		for row := range table.Rows() {
			if len(row.Values) != values {
				t.Fatalf("row %q has %d values for %d columns", row.Name, len(row.Values), values)
			}
			for _, v := range row.Values {
				if (v.Class == "") != !math.IsNaN(v.Value) || math.IsInf(v.Value, 0) || v.U < 0 || len(v.From) != 1 {
					t.Fatalf("value %+v", v)
				}
				if _, _, ok := parseRef(v.From[0].Ref); !ok {
					t.Fatalf("address %q", v.From[0].Ref)
				}
				if v.Known() && v.Value < 0 && v.Analyte != "LOI" {
					t.Fatalf("negative %s", v.Analyte)
				}
			}
		}
	}
	for _, r := range b.Records {
		for _, rec := range r.Rows {
			if len(rec.Cells) != len(r.Fields) {
				t.Fatalf("record with %d cells for %d fields", len(rec.Cells), len(r.Fields))
			}
		}
	}
}
