package deposit

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"
)

// repack zips files below a folder.
func repack(t testing.TB, files map[string][]byte, more ...*zip.FileHeader) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		w, err := z.Create(path.Join("x", name))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(files[name]); err != nil {
			t.Fatal(err)
		}
	}
	for _, h := range more {
		w, err := z.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte("target")); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// reseal makes manifests anew, as somebody would who hides a change.
func reseal(files map[string][]byte) {
	load, tags := map[string][]byte{}, map[string][]byte{}
	for name, data := range files {
		if strings.HasPrefix(name, "data/") {
			load[name] = data
		}
	}
	files[manifest] = manifestOf(load)
	for name, data := range files {
		if !strings.HasPrefix(name, "data/") && name != tagManifest {
			tags[name] = data
		}
	}
	files[tagManifest] = manifestOf(tags)
}

// redescribe makes the description of a changed table fit in size and checksum.
func redescribe(t *testing.T, files map[string][]byte, table string) {
	t.Helper()
	var p dataPackage
	if err := json.Unmarshal(files["data/datapackage.json"], &p); err != nil {
		t.Fatal(err)
	}
	for i, r := range p.Resources {
		if r.Path == table {
			p.Resources[i].Bytes, p.Resources[i].Hash = len(files["data/"+table]), hashPrefix+sum(files["data/"+table])
		}
	}
	data, err := indented(p)
	if err != nil {
		t.Fatal(err)
	}
	files["data/datapackage.json"] = data
}

func TestTamperingIsFound(t *testing.T) {
	whole := packed(t, input(t, nil))
	values := "tables/values.csv"
	swap := func(name, from, to string) func(*testing.T, map[string][]byte) {
		return func(t *testing.T, f map[string][]byte) {
			if !bytes.Contains(f[name], []byte(from)) {
				t.Fatalf("no %q in %s", from, name)
			}
			f[name] = bytes.Replace(f[name], []byte(from), []byte(to), 1)
		}
	}
	// sealed swaps letters of one length in a table and hides it as far as
	// checksums go.
	sealed := func(name, from, to string) func(*testing.T, map[string][]byte) {
		return func(t *testing.T, f map[string][]byte) {
			swap("data/"+name, from, to)(t, f)
			before := len(f["data/datapackage.json"])
			redescribe(t, f, name)
			if len(from) != len(to) || before != len(f["data/datapackage.json"]) {
				t.Fatal("the size of the whole changed")
			}
			reseal(f)
		}
	}
	for name, tt := range map[string]struct {
		says string
		edit func(*testing.T, map[string][]byte)
	}{
		"value changed":    {"data/tables/values.csv is not the file that was deposited", swap("data/"+values, "34,wt%", "35,wt%")},
		"report changed":   {"data/report.html is not the file", swap("data/report.html", "doctype", "DOCTYPE")},
		"sheet removed":    {"data/campaign/lab.csv is missing", func(_ *testing.T, f map[string][]byte) { delete(f, "data/campaign/lab.csv") }},
		"file added":       {"data/extra.txt was added", func(_ *testing.T, f map[string][]byte) { f["data/extra.txt"] = []byte("x") }},
		"tag file added":   {"notes.txt was added", func(_ *testing.T, f map[string][]byte) { f["notes.txt"] = []byte("x") }},
		"readme changed":   {"README.md is not the file", swap(readme, "archive", "ARCHIVE")},
		"manifest changed": {"manifest-sha256.txt is not the file", swap(manifest, "a", "b")},
		"manifest gone":    {"manifest-sha256.txt is missing", func(_ *testing.T, f map[string][]byte) { delete(f, manifest) }},
		"no bag":           {"does not declare a bag", func(_ *testing.T, f map[string][]byte) { delete(f, bagDeclaration) }},
		"sealed: described otherwise": {"values.csv is not the table that datapackage.json describes", func(t *testing.T, f map[string][]byte) {
			swap("data/"+values, "34,wt%", "35,wt%")(t, f)
			reseal(f)
		}},
		"sealed: no number":   {"values.csv: row 2, value: \"3x\" is not a number", sealed(values, "wt%,34,", "wt%,3x,")},
		"sealed: no sample":   {"there is no sample \"KR-S09\"", sealed(values, "KR-S01", "KR-S09")},
		"sealed: no class":    {"is none of the words", sealed(values, ",lt,", ",xx,")},
		"sealed: headings":    {"headings are not the fields", sealed(values, "analyte", "analyst")},
		"sealed: no file":     {"which is not among the inputs", sealed(values, "lab.csv", "lob.csv")},
		"sealed: formula":     {"could be run as a formula", sealed(values, "'=LS-S01", "==LS-S01")},
		"sealed: sheet":       {"lab.csv is not the input that the tables were made from", func(t *testing.T, f map[string][]byte) { swap("data/campaign/lab.csv", "34", "35")(t, f); reseal(f) }},
		"sealed: twice":       {"stands there twice", sealed("tables/samples.csv", "'=LS-S01", `"KR-S01"`)},
		"sealed: description": {"datapackage.json cannot be read", func(t *testing.T, f map[string][]byte) { swap("data/datapackage.json", "{", "[")(t, f); reseal(f) }},
		"sealed: size":        {"bag-info.txt states another size", func(t *testing.T, f map[string][]byte) { swap(bagInfo, "Oxum: ", "Oxum: 1")(t, f); reseal(f) }},
	} {
		t.Run(name, func(t *testing.T) {
			files := unpack(t, whole)
			tt.edit(t, files)
			if _, err := prove(repack(t, files)); err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v, want %q", err, tt.says)
			}
		})
	}
	if _, err := prove(whole[:len(whole)/2]); err == nil || !strings.Contains(err.Error(), "no zip archive") {
		t.Errorf("half an archive: %v", err)
	}
}

func TestTricksAreRefused(t *testing.T) {
	files := unpack(t, packed(t, input(t, nil)))
	link := &zip.FileHeader{Name: "x/data/link"}
	link.SetMode(fs.ModeSymlink | 0o777)
	for name, h := range map[string]*zip.FileHeader{
		"up":           {Name: "x/../../etc/passwd"},
		"absolute":     {Name: "/etc/passwd"},
		"backslash":    {Name: `x\..\evil`},
		"drive":        {Name: "x/C:evil"},
		"control":      {Name: "x/da\x1bta"},
		"no folder":    {Name: "evil"},
		"other folder": {Name: "y/evil"},
		"same name":    {Name: "x/Readme.md"},
		"long":         {Name: "x/" + strings.Repeat("a", 2000)},
		"link":         link,
	} {
		if _, err := prove(repack(t, files, h)); err == nil || strings.Contains(err.Error(), "was added") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestBombsAreNotUnpacked(t *testing.T) {
	files := unpack(t, packed(t, input(t, nil)))
	files["data/report.html"] = make([]byte, 4<<20) // four megabytes in four kilobytes
	data := repack(t, files)
	small := limits{entries: 100, name: 1000, unpacked: 1 << 20, kept: 1 << 19}
	if _, err := small.verify(context.Background(), bytes.NewReader(data), int64(len(data))); err == nil || !strings.Contains(err.Error(), "larger than anything") {
		t.Errorf("too many bytes: %v", err)
	}
	small.entries = 3
	if _, err := small.verify(context.Background(), bytes.NewReader(data), int64(len(data))); err == nil || !strings.Contains(err.Error(), "more than the 3") {
		t.Errorf("too many files: %v", err)
	}
}

// A manifest after RFC 8493, section 2.1.3: the checksum, spaces, the path; line
// ends and per cent signs in a path are encoded.
func TestManifest(t *testing.T) {
	got := string(manifestOf(map[string][]byte{"data/a%\nb": nil}))
	// SHA-256 of nothing: FIPS 180-4 examples (csrc.nist.gov).
	if want := "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  data/a%25%0Ab\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if nameDecoder.Replace("data/a%25%0Ab") != "data/a%\nb" {
		t.Error("the path does not come back")
	}
}

func FuzzVerify(f *testing.F) {
	files := map[string][]byte{
		bagDeclaration:          []byte(declaration),
		"data/t.csv":            []byte("a\n1\n"),
		"data/method.json":      []byte("{}"),
		"data/datapackage.json": []byte(`{"resources":[{"name":"t","path":"t.csv","bytes":4,"hash":"` + hashPrefix + sum([]byte("a\n1\n")) + `","schema":{"fields":[{"name":"a","type":"number"}],"missingValues":[""],"primaryKey":["a"]}}]}`),
	}
	size := len(files["data/t.csv"]) + len(files["data/method.json"]) + len(files["data/datapackage.json"])
	files[bagInfo] = fmt.Appendf(nil, "Payload-Oxum: %d.3\n", size)
	reseal(files)
	seed := repack(f, files)
	if _, err := prove(seed); err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Add([]byte("PK"))
	f.Fuzz(func(t *testing.T, data []byte) {
		small := limits{entries: 100, name: 100, unpacked: 1 << 22, kept: 1 << 22}
		p, err := small.verify(context.Background(), bytes.NewReader(data), int64(len(data)))
		if err == nil && (p.Files == 0 || p.Tables == 0) {
			t.Errorf("an archive without files or tables was proved: %+v", p)
		}
	})
}
