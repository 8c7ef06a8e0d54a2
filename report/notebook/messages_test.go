package notebook

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"

	"smeltbook/assay/source"
)

// head is front matter without a fault; the body after it begins on line 5.
const head = "---\ntitle: T\ndata: [a.csv]\n---\n"

func texts(ns source.Notices) string {
	var lines []string
	for _, n := range ns {
		lines = append(lines, n.Error())
	}
	return strings.Join(lines, "\n")
}

func TestMessages(t *testing.T) {
	for _, tt := range []struct{ name, src, want string }{
		{"no front matter", "Hello\n", "notebook.md, line 1: the notebook does not begin with front matter; start it with a line ---, then title: and data:, then another line ---"},
		{"front matter open", "---\ntitle: T\n", "notebook.md, line 1: the front matter that begins here has no end; close it with a line ---"},
		{"nothing to read", "---\ntitle: T\n---\n", "line 1: the notebook does not say which files to read; add a line such as data: [lab/*.xlsx]"},
		{"no title", "---\ndata: a.csv\n---\n", "line 1: the notebook has no title; add a line title:"},
		{"misspelt key", "---\ndata: a.csv\ntitel: T\n---\n", `line 3: there is no key "titel" here; did you mean "title"?`},
		{"unknown key", "---\ntitle: T\ndata: a.csv\nlaboratory: X\n---\n", `line 4: there is no key "laboratory" here; the keys are title, subtitle, authors,`},
		{"misspelt group key", "---\ntitle: T\ndata: a.csv\ngroups:\n  dug: {orgin: excavated}\n---\n", `line 5: there is no key "orgin" here; did you mean "origin"?`},
		{"misspelt reading", "---\ntitle: T\ndata: a.csv\nsheets:\n  a.csv:\n    header_rwo: 2\n---\n", `line 6: there is no key "header_rwo" here; did you mean "header_row"?`},
		{"key twice", "---\ntitle: T\ndata: a.csv\ntitle: U\n---\n", `line 4: the key "title" is given twice, first on line 2; keep one`},
		{"wrong type", "---\ntitle: [T]\ndata: a.csv\n---\n", `line 2: "title" should be one piece of text, but a list stands there`},
		{"groups as a list", "---\ntitle: T\ndata: a.csv\ngroups: [fired]\n---\n", `line 4: "groups" should be lines of the form "key: value", but a list stands there`},
		{"seed", "---\ntitle: T\ndata: a.csv\nseed: soon\n---\n", `line 4: "seed" should be a whole number, zero or more, but "soon" stands there`},
		{"draws", "---\ntitle: T\ndata: a.csv\ndraws: 3\n---\n", `line 4: "draws" is 3; use a number from 50 to 1000000`},
		{"basis", "---\ntitle: T\ndata: a.csv\nrecipe: {basis: normalized}\n---\n", `line 4: "basis" is "normalized", which is not known; did you mean normalised?`},
		{"iron", "---\ntitle: T\ndata: a.csv\nrecipe:\n  iron: {slag: magnetite}\n---\n", `line 5: the iron of "slag" is "magnetite", which is not known; use FeO or Fe2O3`},
		{"misspelt recipe", "---\ntitle: T\ndata: a.csv\nrecipe: {sulfur: {slag: sulphide}}\n---\n", `line 4: there is no key "sulfur" here; did you mean "sulphur"?`},
		{"sulphur", "---\ntitle: T\ndata: a.csv\nrecipe:\n  sulphur: {slag: sulfide}\n---\n", `line 5: the sulphur of "slag" is "sulfide", which is not known; did you mean sulphide?`},
		{"copper", "---\ntitle: T\ndata: a.csv\nrecipe:\n  copper:\n    ore: malachite\n---\n", `line 6: the copper of "ore" is "malachite", which is not known; use Cu, CuO or Cu2O`},
		{"kind", "---\ntitle: T\ndata: a.csv\nrecipe:\n  iron: {slagg: FeO}\n---\n", `line 5: "slagg" under "iron" is no kind of sample; did you mean slag?`},
		{"below the limit", "---\ntitle: T\ndata: a.csv\nrecipe: {below_limit: hlaf}\n---\n", `line 4: "below_limit" is "hlaf", which is not known; did you mean half?`},
		{"prills", "---\ntitle: T\ndata: a.csv\nrecipe: {prills: 3}\n---\n", `line 4: "prills" is "3", which is not known; use as_analysed, without or with`},
		{"loi", "---\ntitle: T\ndata: a.csv\nrecipe: {loi: volatile}\n---\n", `line 4: "loi" is "volatile", which is not known; did you mean volatiles?`},
		{"metal alone", "---\ntitle: T\ndata: a.csv\nrecipe:\n  metal:\n    KR-S04: {share: 1.4}\n---\n", `line 6: the metal of "KR-S04" needs its share of the sample and its copper`},
		{"metal of 120 %", "---\ntitle: T\ndata: a.csv\nrecipe:\n  metal:\n    KR-S04: {share: 1.4, Cu: 96, Fe: 24}\n---\n", `line 6: the metal of "KR-S04" is impossible`},
		{"metal misspelt", "---\ntitle: T\ndata: a.csv\nrecipe:\n  metal:\n    KR-S04: {share: 1.4, Cu: 96, seived: true}\n---\n", `line 6: there is no key "seived" here; did you mean "sieved"?`},
		{"uncertainty", "---\ntitle: T\ndata: a.csv\nuncertainty: {XRF: 5}\n---\n", `line 4: the uncertainty of "XRF" should be relative, 0.05 or 5 %`},
		{"backslash", "---\ntitle: T\ndata: [lab\\xrf.xlsx]\n---\n", `has a backslash; write folders with /`},
		{"outside", "---\ntitle: T\ndata:\n  - ../secret.csv\n---\n", `line 4: "../secret.csv" in "data" leads out of the notebook's folder`},
		{"broken YAML", "---\ntitle: T\ndata: [a.csv\n---\n", "the front matter could not be read as YAML from about here"},
		{"tab before a key", "---\ntitle: T\ngroups:\n\tfired: {kind: slag}\n---\n", "line 4: the front matter could not be read as YAML from about here: a tab is used for indentation"},
		{"colon in a value", "---\ntitle: Orrin: two\ndata: a.csv\n---\n", "line 2: the front matter could not be read as YAML from about here: a colon stands where none can be"},
		{"alias", "---\ntitle: &a T\ndata: a.csv\n---\n", "line 2: \"title\" uses a YAML anchor or alias"},
		{"not UTF-8", head + "caf\xe9\n", "line 5: the notebook is not UTF-8 text; save it again with the encoding UTF-8"},

		{"misspelt entry", head + "\n```spred\n```\n", "line 6: there is no entry `spred`; did you mean `spread`?"},
		{"entry in braces", head + "```{ternary}\n```\n", "line 5: an entry is asked for without braces; write ```ternary"},
		{"options on the info line", head + "```ternary isotherms: 50\n```\n", "line 5: \"isotherms: 50\" stands behind `ternary`; write options on lines of their own below"},
		{"options that are no mapping", head + "```ternary\n- a\n```\n", "line 6: the options of `ternary` should be lines of the form \"key: value\", but a list stands there"},
		{"broken options", head + "```ternary\ngroups: [a\n```\n", "the options of `ternary` could not be read as YAML from about here"},
		{"id twice", head + "```data\nid: a\n```\n```data\nid: a\n```\n", "line 8: the entry has the id \"a\", which that of line 5 has already"},
		{"nested entry", head + "- item\n\n  ```data\n  ```\n", "line 7: the entry `data` stands inside a list, a quotation or a footnote; move it to the left margin"},

		{"value open", head + "At {{ median \"fired\" and more\n", "line 5: a value begins here with {{ but does not end; close it with }}"},
		{"value quote open", head + "\nAt {{ median \"fired }} and\n", "line 6: the value {{ median \"fired }} cannot be read: the quotation mark \" is not closed"},
		{"value empty", head + "At {{ }}.\n", "cannot be read: it is empty"},
		{"value with commas", head + "At {{ median \"fired\", \"x\" }}.\n", "cannot be read: a space is missing behind \"fired\""},
		{"value like a function", head + "At {{ median(fired) }}.\n", "cannot be read: ( is not needed; put spaces between the words"},
		{"value with curly quotes", head + "At {{ median “fired” }}.\n", "the curly quotation mark “ is not understood; use the straight \""},
		{"value without a word", head + "At {{ \"fired\" }}.\n", "it should begin with a word such as median, not with \"fired\""},

		{"script link", head + "[x](javascript:alert%281%29)\n", "line 5: the link to \"javascript:alert%281%29\" is left out"},
		{"hidden script link", head + "[x](java&#115;cript:alert)\n", "is left out; links may lead to"},
		{"absolute link", head + "[x](//example.org/x)\n", "is left out; links may lead to"},
		{"file link", head + "<file:///etc/passwd>\n", "line 5: the link to \"file:///etc/passwd\" is left out"},
		{"image from afar", head + "![x](https://example.org/x.png)\n", "line 5: the image \"https://example.org/x.png\" is left out; put the picture beside the notebook"},
		{"image above", head + "![x](a/../../x.png)\n", "is left out; put the picture beside the notebook"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			n, notices := Parse("notebook.md", []byte(tt.src))
			if n == nil {
				t.Fatal("no notebook")
			}
			if got := texts(notices); !strings.Contains(got, tt.want) || strings.Contains(got, "\n") {
				t.Errorf("notices\n%s\nwant one with\n%s", got, tt.want)
			}
		})
	}
}

func TestEveryMistakeIsTold(t *testing.T) {
	src := "---\ntitel: T\nseed: x\ngroups:\n  a: {knid: slag}\n---\n```spred\n```\n{{ }}\n"
	_, notices := Parse("notebook.md", []byte(src))
	if got := len(notices.Of(source.Error)); got != 5 {
		t.Errorf("%d errors, want 5:\n%s", got, texts(notices))
	}
}

func TestLineEndsOfOtherSystems(t *testing.T) {
	src := strings.ReplaceAll("\ufeff"+head+"\nAt {{ median a }}.\n\n```data\nlimit: 3\n```\n", "\n", "\r\n")
	n, notices := Parse("notebook.md", []byte(src))
	if len(notices) > 0 {
		t.Fatalf("notices: %s", texts(notices))
	}
	if c := n.Calls(); len(c) != 1 || c[0].Line != 6 {
		t.Errorf("calls %v, want one on line 6", c)
	}
	if e := n.Entries(); len(e) != 1 || e[0].Line != 8 || e[0].Options.Content[0].Line != 9 {
		t.Errorf("entries %v, want one on line 8 with its option on line 9", e)
	}
}

func TestDecodeOptions(t *testing.T) {
	type options struct {
		Groups    []string
		Isotherms float64
		OnlyFirst bool
		Corners   map[string]string
	}
	src := head + "```ternary\ntitle: X\ngroups: fired\nisotherm: 50\nonly_first: maybe\ncorners: {top: CaO}\n```\n"
	n, _ := Parse("notebook.md", []byte(src))
	var o options
	notices := n.Entries()[0].Decode(&o)
	want := "notebook.md, line 8: there is no key \"isotherm\" here; did you mean \"isotherms\"?\n" +
		"notebook.md, line 9: \"only_first\" should be true or false, but \"maybe\" stands there"
	if got := texts(notices); got != want {
		t.Errorf("notices\n%s\nwant\n%s", got, want)
	}
	if len(o.Groups) != 1 || o.Groups[0] != "fired" || o.Corners["top"] != "CaO" {
		t.Errorf("options %+v", o)
	}
}

func TestPicturesComeFromTheFolder(t *testing.T) {
	// One grey dot, with a comment beside it that is no part of the report.
	var dot bytes.Buffer
	if err := png.Encode(&dot, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	beside := "\x00\x00\x00\x0c" + "tEXtAuthor\x00Reeve"
	beside += string(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE([]byte(beside[4:]))))
	written := dot.String()[:33] + beside + dot.String()[33:]
	files := fstest.MapFS{"pictures/furnace 1.png": {Data: []byte(written)}, "pictures/bad.png": {Data: []byte("PNG")}}
	n, _ := Parse("notebook.md", []byte(head+"![the *bowl*](pictures/furnace%201.png) ![b](gone.png) ![c](a.exe) ![d](pictures/bad.png)\n"))
	r, notices := n.Blocks[0].(*Prose).Render(Sources{Values: echo, Files: files})
	want := `<p><img src="data:image/png;base64,` + base64.StdEncoding.EncodeToString(dot.Bytes()) + `" alt="the bowl"> <span class="no-picture">b</span> <span class="no-picture">c</span> <span class="no-picture">d</span></p>` + "\n"
	if string(r.HTML) != want {
		t.Errorf("HTML\n%s\nwant\n%s", r.HTML, want)
	}
	wantNotices := "notebook.md, line 5: the picture \"gone.png\" is left out: it cannot be opened; check the name, upper and lower case too\n" +
		"notebook.md, line 5: the picture \"a.exe\" is left out; use a PNG, JPEG, GIF, WebP or SVG file\n" +
		"notebook.md, line 5: the picture \"pictures/bad.png\" is left out: it is no JPEG or PNG picture, or it is damaged; open it in a picture program and save it again"
	if got := texts(notices); got != wantNotices {
		t.Errorf("notices\n%s\nwant\n%s", got, wantNotices)
	}
}

func TestHeadingIDsAreUnique(t *testing.T) {
	n, _ := Parse("notebook.md", []byte(head+"# A\n# A 2\n# A\n# {{ x }}\n# a!\n# Ōre\n"))
	r, _ := n.Blocks[0].(*Prose).Render(Sources{Values: echo})
	var got []string
	for _, h := range r.Headings {
		got = append(got, h.ID)
	}
	want := "s-a s-a-2 s-a-3 s-section s-a-4 s-ōre"
	if strings.Join(got, " ") != want {
		t.Errorf("ids %v, want %s", got, want)
	}
}

func TestManyOpenValuesAreToldOnceALine(t *testing.T) {
	_, notices := Parse("notebook.md", []byte(head+strings.Repeat("{{ a ", 2000)+"\n"))
	if len(notices) != 1 {
		t.Errorf("%d notices, want 1", len(notices))
	}
}
