package sheet

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/source"
)

// Comments of a workbook, as another program writes them, are told with their cell;
// a sheet full of them is told in short.
func TestCommentsOfCellsAreTold(t *testing.T) {
	f := excelize.NewFile()
	for cell, v := range map[string]any{"A1": "Sample", "B1": "SiO2 (wt%)", "C1": "Cu (wt%)", "A2": "KR-1", "B2": 31.2, "C2": 1.9} {
		if err := f.SetCellValue("Sheet1", cell, v); err != nil {
			t.Fatal(err)
		}
	}
	comment := func(cell, text string) {
		if err := f.AddComment("Sheet1", excelize.Comment{Cell: cell, Author: "TM", Text: text}); err != nil {
			t.Fatal(err)
		}
	}
	told := func() []source.Notice {
		var buf bytes.Buffer
		if err := f.Write(&buf); err != nil {
			t.Fatal(err)
		}
		b, err := readBytes(context.Background(), buf.Bytes(), "lab.xlsx", Options{})
		if err != nil {
			t.Fatal(err)
		}
		var out []source.Notice
		for _, n := range b.Notices {
			if n.Code == "CELL_COMMENT" {
				out = append(out, n)
			}
		}
		return out
	}
	comment("C2", "prill in the bead?")
	if got := told(); len(got) != 1 || got[0].At.Ref != "C2" || got[0].At.Sheet != "Sheet1" || !strings.Contains(got[0].Message, "prill in the bead?") {
		t.Errorf("%v", got)
	}
	comment("B2", "[Threaded comment]\n\nYour version allows you to read this.\n\nComment:\n    measured twice")
	if got := told(); len(got) != 2 || !strings.Contains(got[0].Message+got[1].Message, `"measured twice"`) {
		t.Errorf("%v", got)
	}
	for i := range mostRemarks + 5 {
		comment(fmt.Sprintf("H%d", i+10), "look again")
	}
	if got := told(); len(got) != mostRemarks+1 || !strings.Contains(got[mostRemarks].Message, "7 more cells") {
		t.Errorf("%d notices, the last %v", len(got), got[len(got)-1])
	}
}
