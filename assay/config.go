package assay

import (
	"smeltbook/assay/quality"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Config is what a campaign's notebook says about its data: which files to
// read, how the groups are made and by which recipe analyses become
// compositions. Paths are relative to the campaign and use slashes.
type Config struct {
	Data      []string      // files or globs
	DataLines []int         // lines of the notebook, for messages, as long as Data or empty
	Groups    []GroupRule   // in the order of the notebook
	Methods   []MethodRule  // analytical method of files or sheets
	Sheets    []SheetRule   // how to read a sheet where the guess is wrong
	Limits    sheet.Limits  // what a file may ask of the machine; zero fields as sheet.DefaultLimits
	Recipe    Recipe        // how analyses become compositions
	Extra     []Uncertainty // relative uncertainty assumed by method, overriding the built-in assumptions
	Quality   Demands       // what is asked of the analyses
}

// lineOf is one of some lines of the notebook, the notebook as a whole where
// there are none.
func lineOf(lines []int, i int) source.Cell {
	if i >= len(lines) {
		return source.Cell{File: NotebookName}
	}
	return source.Line(NotebookName, lines[i])
}

// GroupRule makes a group of all samples that meet every condition given; an
// empty condition is met by all.
type GroupRule struct {
	Name    string
	Kinds   []string // slag, ore, lining, …
	Origins []string // experimental, excavated, natural
	Sites   []string
	Runs    []string
	Samples []string // sample ids
	Except  []string // sample ids left out
	Line    int      // line of the notebook, for messages
}

// MethodRule names the analytical method of a file, or of one sheet of it.
type MethodRule struct {
	File, Sheet string // Sheet empty for all sheets
	Method      string
	Line        int // line of the notebook, for messages
}

// SheetRule overrules how a sheet is read.
type SheetRule struct {
	File, Sheet string // Sheet empty for all sheets
	Reading     sheet.Reading
	Line        int // line of the notebook, for messages
}

// Uncertainty is a relative standard uncertainty assumed for a method.
type Uncertainty struct {
	Method   string
	Relative float64 // 0.05 for 5 %
}

// Demands are what is asked of the analyses where the built-in rules are not to
// hold.
type Demands struct {
	Totals  map[string]quality.TotalLimits // by method
	Targets map[string]float64             // relative standard deviation wanted, by analyte; 0.02 for 2 %
}
