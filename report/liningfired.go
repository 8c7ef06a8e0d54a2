package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/phase/lining"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// stageNames are the stages in words.
var stageNames = map[lining.Stage]string{
	lining.NoVitrification: "no vitrification",
	lining.Initial:         "initial",
	lining.Extensive:       "extensive",
	lining.ContinuousFine:  "continuous, fine bloating",
	lining.Coarse:          "continuous, coarse bloating",
}

// checkSeen reads the stages that the notebook says were seen.
func (b *builder) checkSeen(e *notebook.Entry, seen map[string]string) bool {
	ok := true
	var stages []string
	for _, s := range lining.Stages() {
		stages = append(stages, string(s))
	}
	for _, id := range sortedKeys(seen) {
		if _, found := b.study.Campaign.Sample(id); !found {
			b.fail(e, "UNKNOWN_SAMPLE", "seen: there is no sample %q%s", id, source.DidYouMean(id, b.study.Campaign.SampleIDs()))
			ok = false
		}
		if stageNames[lining.Stage(seen[id])] == "" {
			b.fail(e, "UNKNOWN_STAGE", "seen: %q is no stage of vitrification%s; use one of %s", seen[id], source.DidYouMean(seen[id], stages), strings.Join(stages, ", "))
			ok = false
		}
	}
	return ok
}

// firedTable gives the temperatures of the stages for the kind of clay of each
// wall, and of the stage seen where the notebook states one.
func (b *builder) firedTable(groups pair, seen map[string]string, used liningUsed) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("Temperature at which each clay would reach a stage of vitrification, fired in %s gas, in °C ± 50.", used.atmosphere),
		Columns: []page.Column{{Head: "sample"}, {Head: "clay"}},
		Notes:   []string{fmt.Sprintf("After Maniatis & Tite 1981, the table from memory: bands for clays in general, each end unsure by some 50 °C; a clay counts as calcareous above %g wt%% CaO. Siliceous and refractory clays come to the last two stages later. Which stage a wall is at takes a scanning microscope.", used.limit)},
	}
	for _, s := range lining.Stages() {
		t.Columns = append(t.Columns, page.Column{Head: stageNames[s], Unit: "°C", Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "seen"})
	for i, g := range groups {
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			yes, ns, err := lining.Calcareous(s.AsReported, lining.Settings{CalcareousLimit: used.limit})
			if err != nil {
				row.Cells = append(row.Cells, page.Cell{Text: "not known", Class: page.Absent, Note: err.Error()})
			} else {
				row.Cells = append(row.Cells, clayCell(yes, ns))
			}
			for _, stage := range lining.Stages() {
				row.Cells = append(row.Cells, bandCell(stage, yes, used.atmosphere, err))
			}
			saw := page.Cell{Text: "not looked for", Class: page.Absent}
			if stage := lining.Stage(seenOf(seen, s.ID)); stage != "" {
				saw = page.Cell{Text: stageNames[stage], Sub: bandCell(stage, yes, used.atmosphere, err).Text + " °C"}
			}
			row.Cells = append(row.Cells, saw)
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

// seenOf finds a sample among the keys of the notebook, letter case aside.
func seenOf(seen map[string]string, id string) string {
	for _, k := range sortedKeys(seen) {
		if strings.EqualFold(k, id) {
			return seen[k]
		}
	}
	return ""
}

func clayCell(calcareous bool, ns source.Notices) page.Cell {
	c := page.Cell{Text: "ordinary"}
	if calcareous {
		c.Text = "calcareous"
	}
	for _, n := range ns {
		c.Note = strings.Join(nonEmpty(c.Note, n.Message), "; ")
	}
	return c
}

func bandCell(stage lining.Stage, calcareous bool, in lining.Atmosphere, err error) page.Cell {
	if err != nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}
	}
	band, err := lining.FiredAt(stage, calcareous, in)
	if err != nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}
	}
	switch {
	case math.IsInf(band.Lo, -1):
		return page.Cell{Text: fmt.Sprintf("< %.0f", band.Hi)}
	case math.IsInf(band.Hi, 1):
		return page.Cell{Text: fmt.Sprintf("> %.0f", band.Lo)}
	}
	return page.Cell{Text: fmt.Sprintf("%.0f–%.0f", band.Lo, band.Hi)}
}
