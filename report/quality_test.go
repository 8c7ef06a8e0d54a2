package report_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// captioned finds the table whose caption starts so.
func captioned(t *testing.T, e *page.Entry, start string) *page.Table {
	t.Helper()
	for _, x := range tables(e) {
		if strings.HasPrefix(x.Caption, start) {
			return x
		}
	}
	t.Fatalf("no table %q", start)
	return nil
}

// cell finds a row by its first cells and returns the cell under a head.
func cell(t *testing.T, x *page.Table, head string, first ...string) page.Cell {
	t.Helper()
	for _, r := range x.Rows {
		same := true
		for i, f := range first {
			same = same && r.Cells[i].Text == f
		}
		if !same {
			continue
		}
		for i, c := range x.Columns {
			if c.Head == head {
				return r.Cells[i]
			}
		}
	}
	t.Fatalf("%q: no cell %s of %v", x.Caption, head, first)
	return page.Cell{}
}

func TestQualityEntry(t *testing.T) {
	e, messages, _ := entry(t, "quality\ngroups: [fired, dug]")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	if n := len(figures(e)); n != 2 {
		t.Errorf("%d figures, want the control chart and the two methods", n)
	}
	text := words(e)
	for _, want := range []string{"Control chart of Fe in BHVO-2 by handheld XRF", "drift", "Cu in slag by handheld XRF against wet chemistry and WD-XRF, n\u00a0=\u00a028", "P₂O₅ in OV-QC1 by WD-XRF", "blanks by WD-XRF hold CuO"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	if strings.Contains(text, "QC₁") {
		t.Error("the name of a control is set as a formula")
	}
	refs := captioned(t, e, "Reference materials")
	// The certificate of BHVO-2 prints 49.9 ± 0.6 for SiO2 (USGS, seen).
	if c := cell(t, refs, "certified", "BHVO-2", "SiO₂"); c.Text != "49.90" || c.Sub != "± 0.60" || !strings.Contains(c.Note, "USGS Certificate of Analysis BHVO-2") {
		t.Errorf("SiO2 of BHVO-2: %+v", c)
	}
	// CCRMP prints a 95 % interval of 0.08 for copper of CCU-1f, dry 23.56.
	if c := cell(t, refs, "certified", "CCU-1f", "Cu", "wet chemistry"); c.Text != "23.560" || c.Sub != "± 0.040" || !strings.Contains(c.Note, "halved") || !strings.Contains(c.Note, "dry") {
		t.Errorf("Cu of CCU-1f: %+v", c)
	}
	if c := cell(t, refs, "z′", "BHVO-2", "P₂O₅"); c.Class != page.Flagged {
		t.Errorf("phosphorus is not marked: %+v", c)
	}
	verdicts := captioned(t, e, "What the values are fit for")
	if c := cell(t, verdicts, "use", "SiO₂", "WD-XRF"); c.Text == "–" {
		t.Errorf("no silica is fit for use: %+v", c)
	}
	if c := cell(t, verdicts, "use", "P₂O₅", "WD-XRF"); c.Text != "–" {
		t.Errorf("phosphorus is fit for use: %+v", c)
	}
	if c := cell(t, verdicts, "because", "P₂O₅", "WD-XRF"); !strings.Contains(strings.Join(verdicts.Notes, "\n"), strings.Split(c.Text, ", ")[0]+": ") {
		t.Errorf("the reason %q is not explained: %v", c.Text, verdicts.Notes)
	}
	if c := cell(t, captioned(t, e, "Handheld readings"), "n", "Cu", "slag"); c.Text != "28" {
		t.Errorf("copper in slag by both methods: %+v", c)
	}
}

func TestQualityEntryOptions(t *testing.T) {
	e, messages, _ := entry(t, "quality\nshow: Fe\nkind: slag\ncontrol: OV-QC1\nchart: SiO2")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	if text := words(e); !strings.Contains(text, "Control chart of SiO₂ in OV-QC1") || !strings.Contains(text, "Fe in slag by handheld XRF") {
		t.Error(text)
	}
	for block, want := range map[string]string{
		"quality\nchart: Au":      "no control chart is for Au",
		"quality\nshow: SiO2":     "no line between two methods is for SiO2",
		"quality\ncontrol: W-2":   "no control chart is for W-2",
		"quality\ngroups: [cold]": "cold",
	} {
		if _, messages, _ := entry(t, block); len(messages) == 0 || !strings.Contains(messages[0], want) {
			t.Errorf("%q: %v", block, messages)
		}
	}
}

// A campaign without any control gets an entry that says so.
func TestQualityWithoutControls(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"xrf.csv":     "WD-XRF\nSample,SiO2,FeO,CaO,Al2O3\n,wt%,wt%,wt%,wt%\nS-1,32,58,4,5\nS-2,31,59,4,5\n",
		"samples.csv": "id,kind,origin\nS-1,slag,excavated\nS-2,slag,experimental\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	front := "---\ntitle: t\ndata: [xrf.csv, samples.csv]\n---\n"
	n, _ := notebook.Parse(assay.NotebookName, []byte(front))
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(0, 50), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, messages, _ := entryOf(t, s, front, "quality")
	if len(messages) > 0 || len(figures(e)) != 0 {
		t.Fatal(messages, len(figures(e)))
	}
	if text := words(e); !strings.Contains(text, "no reference material, no duplicate of a sample and no blank") || !strings.Contains(text, "0 are fit for use") {
		t.Error(text)
	}
}

func TestMethodsTellOfQuality(t *testing.T) {
	s, front := demo()
	e, _, _ := entryOf(t, s, front, "quality\n```\n\n```methods")
	if text := words(e); !strings.Contains(text, "Quality of the analyses") || !strings.Contains(text, "BHVO-2: USGS Certificate of Analysis") || strings.Contains(text, "Corrected readings") {
		t.Error(text)
	}
	e, _, _ = entry(t, "methods")
	if text := words(e); !strings.Contains(text, "Recovery in per cent, by WD-XRF SiO₂ 99.7–100.2") || strings.Contains(text, "Control charts") {
		t.Errorf("what the controls show is told in any case, charts where they stand: %s", text)
	}
}
