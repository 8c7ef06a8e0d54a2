package source

import (
	"errors"
	"fmt"
	"testing"
)

func TestCellReadsLikeASpreadsheet(t *testing.T) {
	for want, c := range map[string]Cell{
		`lab/xrf.xlsx, sheet "Slag", cell B6`: {"lab/xrf.xlsx", "Slag", "B6"},
		"lab/xrf.csv, cell B6":                {"lab/xrf.csv", "", "B6"},
		"lab/xrf.csv":                         {File: "lab/xrf.csv"},
		"":                                    {},
	} {
		if got := c.String(); got != want {
			t.Errorf("%#v reads %q, want %q", c, got, want)
		}
		if c.IsZero() != (want == "") {
			t.Errorf("IsZero of %#v", c)
		}
	}
}

func TestNotices(t *testing.T) {
	var ns Notices
	at := Cell{File: "a.csv", Ref: "C3"}
	ns.Add(Note, "UNIT_FROM_ROW", at, "unit %s taken from row %d", "wt%", 2)
	ns.Add(Warning, "TOTAL_LOW", Cell{}, "the total is low")
	if ns.Failed() {
		t.Error("a warning is no failure")
	}
	ns.Add(Error, "NOT_A_NUMBER", at, "x is not a number")
	if !ns.Failed() || len(ns.Of(Warning)) != 1 || len(ns.Of(Note)) != 1 {
		t.Errorf("notices: %v", ns)
	}
	if got := ns[0].Error(); got != "a.csv, cell C3: unit wt% taken from row 2" {
		t.Errorf("sentence %q", got)
	}
	if got := ns[1].Error(); got != "the total is low" {
		t.Errorf("sentence without address %q", got)
	}
	var n Notice
	if err := fmt.Errorf("reading: %w", ns[2]); !errors.As(err, &n) || n.Code != "NOT_A_NUMBER" {
		t.Errorf("a notice does not come back from %v", err)
	}
	for s, want := range map[Severity]string{Note: "note", Warning: "warning", Error: "error", 9: "severity(9)"} {
		if s.String() != want {
			t.Errorf("severity %d reads %q", int(s), s)
		}
	}
}
