package report_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/notebook"
)

// Whatever of the last report is used again, the bytes are those of a report
// that was made anew.
func TestADraftIsTheReport(t *testing.T) {
	front := "---\ntitle: T\ndata: [lab.csv, samples.csv]\ngroups: {fired: {kind: slag}}\ndraws: 50\n---\n"
	s, _ := twoSlags(t, "", indices)
	options := report.Options{Version: "test"}
	var d report.Draft
	for _, body := range []string{
		"One.\n" + indices + "\n```methods\n```\n",
		"Two, in {{ ref \"indices\" }}.\n\nMore.\n" + indices + "\nBetween.\n\n```methods\n```\n",
		"With {{ value \"A-1\" \"SiO2\" }}.\n" + indices + "\n```methods\n```\n",
		indices + "show: nbo_t\n",
		strings.Replace(indices, "groups", "show: nbo_t\ngroups", 1) + "\nBehind.\n",
		"Three.\n" + indices + indices,
		"No entry.\n",
		"{{ ref \"nothing\" }}\n" + indices,
		"One again.\n" + indices + "\n```methods\n```\n",
	} {
		n, _ := notebook.Parse(assay.NotebookName, []byte(front+body))
		var draft, anew bytes.Buffer
		got, err := d.Write(context.Background(), &draft, s, n, options)
		if err != nil {
			t.Fatal(err)
		}
		want, err := report.Write(context.Background(), &anew, s, n, options)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(draft.Bytes(), anew.Bytes()) || strings.Join(got.Codes(), " ") != strings.Join(want.Codes(), " ") {
			t.Errorf("%q: %d and %d bytes, notices %v and %v", body, draft.Len(), anew.Len(), got, want)
		}
	}
}
