// Package source says where a number stands and what is to be said about it.
//
// Every value that smeltbook reads keeps its Cell, and everything that the
// program has to tell the user about the data travels as a Notice: data, not
// log lines, so that the terminal, the JSON output and the report show the
// same sentences.
package source

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Cell is the address of a value: the file as the notebook names it (slashes,
// relative to the campaign), the sheet (empty for text files) and the cell
// reference in spreadsheet notation, "B6". Any part may be empty when the
// whole sheet or the whole file is meant.
type Cell struct {
	File  string
	Sheet string
	Ref   string
}

// String returns the address in words a person can follow in a spreadsheet
// program: `lab/xrf.xlsx, sheet "Slag", cell B6`.
func (c Cell) String() string {
	var parts []string
	if c.File != "" {
		parts = append(parts, c.File)
	}
	if c.Sheet != "" {
		parts = append(parts, fmt.Sprintf("sheet %q", c.Sheet))
	}
	switch {
	case strings.HasPrefix(c.Ref, "line "):
		parts = append(parts, c.Ref)
	case c.Ref != "":
		parts = append(parts, "cell "+c.Ref)
	}
	return strings.Join(parts, ", ")
}

// Line returns the address of a line of a text file, counted from 1; with 0
// that of the file.
func Line(file string, n int) Cell {
	if n <= 0 {
		return Cell{File: file}
	}
	return Cell{File: file, Ref: fmt.Sprintf("line %d", n)}
}

// LineNumber returns the line of a text file that c is about, 0 where it is
// about none.
func (c Cell) LineNumber() int {
	digits, ok := strings.CutPrefix(c.Ref, "line ")
	n, err := strconv.Atoi(digits)
	if !ok || err != nil {
		return 0
	}
	return n
}

// IsZero reports whether the address is empty.
func (c Cell) IsZero() bool { return c == Cell{} }

// Severity orders notices by what they mean for the user.
type Severity int

const (
	// Note tells what was understood; nothing needs doing.
	Note Severity = iota
	// Warning tells that a number should be looked at; work goes on.
	Warning
	// Error tells that a number, or a file, could not be used.
	Error
)

// String returns the severity in lower case.
func (s Severity) String() string {
	switch s {
	case Note:
		return "note"
	case Warning:
		return "warning"
	case Error:
		return "error"
	}
	return fmt.Sprintf("severity(%d)", int(s))
}

// Notice is one plain sentence about the data, with a stable code for
// programs and the address it is about. A Notice is an error value, so that
// readers may return one where a caller expects an error.
type Notice struct {
	Severity Severity
	Code     string // upper-case words, for example "UNIT_FROM_ROW"
	Message  string // what was found and what to do, without the address
	At       Cell
	// Setting is what the notebook can write for the sheet to overrule a
	// guess, `unit: ppm`; empty where nothing was guessed.
	Setting string
}

// Error returns the address and the sentence.
func (n Notice) Error() string {
	if at := n.At.String(); at != "" {
		return at + ": " + n.Message
	}
	return n.Message
}

// Notices is a list of notices in the order in which they were met.
type Notices []Notice

// Add appends a notice.
func (ns *Notices) Add(s Severity, code string, at Cell, format string, args ...any) {
	*ns = append(*ns, Notice{Severity: s, Code: code, At: at, Message: fmt.Sprintf(format, args...)})
}

// Codes returns the code of each notice, in order.
func (ns Notices) Codes() []string {
	codes := make([]string, len(ns))
	for i, n := range ns {
		codes[i] = n.Code
	}
	return codes
}

// AddNew appends the notices that are not in the list yet.
func (ns *Notices) AddNew(more Notices) {
	for _, n := range more {
		if !slices.Contains(*ns, n) {
			*ns = append(*ns, n)
		}
	}
}

// Of returns the notices of one severity, in order.
func (ns Notices) Of(s Severity) Notices {
	var out Notices
	for _, n := range ns {
		if n.Severity == s {
			out = append(out, n)
		}
	}
	return out
}

// Failed reports whether any notice is an error.
func (ns Notices) Failed() bool { return len(ns.Of(Error)) > 0 }
