package page

import (
	"bytes"
	"strings"
	"testing"

	"smeltbook/assay/source"
)

func TestNoticesSetCode(t *testing.T) {
	d := Document{Title: "T"}
	d.Colophon.Notices.Add(source.Note, "A", source.Cell{}, "write `accept_totals: [A<1]` under `recipe:` in the notebook")
	d.Colophon.Notices.Add(source.Note, "B", source.Cell{}, "a lone ` stays")
	var out bytes.Buffer
	if err := Render(&out, d, Assets{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"write <code>accept_totals: [A&lt;1]</code> under <code>recipe:</code> in", "a lone ` stays"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the page has no %q", want)
		}
	}
}

// A short table is not parted: its heading would stand over the first half only.
func TestShortTablesArePrintedWhole(t *testing.T) {
	for rows, want := range map[int]bool{3: false, fewestPaired - 1: false, fewestPaired: true} {
		table := &Table{Compact: true, Columns: []Column{{Head: "a"}}}
		for range rows {
			table.Rows = append(table.Rows, Row{Cells: []Cell{{Text: "1"}}})
		}
		v, _, err := viewPart(table)
		if err != nil || v.Table.Paired != want {
			t.Errorf("%d rows are parted: %t (%v)", rows, v.Table.Paired, err)
		}
	}
}
