package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// writeCheckText writes what a person has to know, the most important first:
// errors, warnings, how each sheet was understood, and what else was noted.
func writeCheckText(w io.Writer, found inspection) error {
	var b strings.Builder
	errs, warnings, notes := found.notices.Of(source.Error), found.notices.Of(source.Warning), found.notices.Of(source.Note)
	writeGroup(&b, errs, "error", "errors", "to be put right before anything is computed")
	writeGroup(&b, warnings, "warning", "warnings", "to be looked at")
	if len(found.tables)+len(found.records)+len(found.readings) > 0 {
		b.WriteString("How the sheets were understood\n")
		for i := range found.tables {
			writeTable(&b, &found.tables[i])
		}
		for _, r := range found.records {
			writeRecords(&b, r)
		}
		for _, s := range found.readings {
			writeReadings(&b, s)
		}
		b.WriteString("\n")
	}
	writeGroup(&b, notes, "note", "notes", "nothing needs doing")
	if strings.Contains(b.String(), overruleMark) {
		b.WriteString("What follows \"" + strings.TrimSpace(overruleMark) + "\" overrules a guess that is wrong: put it under `sheets:` in the first\nlines of notebook.md. Several for one sheet share one pair of braces.\n\n")
	}
	if c := found.campaign; c != nil {
		fmt.Fprintf(&b, "%d samples, %d of them analysed", len(c.Samples), c.Analysed())
		for _, g := range c.Groups {
			fmt.Fprintf(&b, "; group %s: %d", g.Name, len(g.Samples))
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%s, %s, %s", count(len(errs), "error", "errors"), count(len(warnings), "warning", "warnings"), count(len(notes), "note", "notes"))
	if len(errs) > 0 {
		b.WriteString("; errors stand at the top")
	}
	b.WriteString("\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// overruleMark stands before what a notebook can write to overrule a guess.
const overruleMark = "      or: "

// writeGroup writes the notices of one severity, sheet by sheet.
func writeGroup(b *strings.Builder, ns source.Notices, one, many, what string) {
	if len(ns) == 0 {
		return
	}
	fmt.Fprintf(b, "%s, %s\n", count(len(ns), one, many), what)
	var order []source.Cell
	bySheet := map[source.Cell]source.Notices{}
	for _, n := range ns {
		at := source.Cell{File: n.At.File, Sheet: n.At.Sheet}
		if bySheet[at] == nil {
			order = append(order, at)
		}
		bySheet[at] = append(bySheet[at], n)
	}
	for _, at := range order {
		if at.IsZero() {
			b.WriteString("  the campaign as a whole\n")
		} else {
			fmt.Fprintf(b, "  %s\n", at)
		}
		for _, n := range bySheet[at] {
			ref := n.At.Ref
			if ref != "" {
				ref += ": "
			}
			fmt.Fprintf(b, "    %s%s\n", ref, n.Message)
			writeOverrule(b, at, n.Setting)
		}
	}
	b.WriteString("\n")
}

func writeOverrule(b *strings.Builder, at source.Cell, setting string) {
	if setting == "" {
		return
	}
	key := at.File
	if at.Sheet != "" {
		key += "#" + at.Sheet
	}
	fmt.Fprintf(b, "%s%s: {%s}\n", overruleMark, strconv.Quote(key), setting)
}

// writeTable writes how a laboratory table was read, columns of one unit, basis
// and method on one line.
func writeTable(b *strings.Builder, t *sheet.Table) {
	at := source.Cell{File: t.File, Sheet: t.Sheet}
	headings, orientation := "row "+strconv.Itoa(t.HeaderRow), sheet.SamplesInRows
	if t.Transposed {
		headings, orientation = "column "+strings.TrimRight(t.Columns[0].Ref, "0123456789"), sheet.SamplesInColumns
	}
	fmt.Fprintf(b, "  %s: laboratory table, %s, samples in %s, headings in %s\n", at, count(t.Len(), "analysis", "analyses"), orientation, headings)
	var order []string
	lines := map[string][]string{}
	last := "" // title of the column before
	for _, c := range t.Columns {
		title, text := describeColumn(c)
		if n := len(lines[last]); c.Role == sheet.RoleUncertainty && strings.HasPrefix(last, "in ") && n > 0 {
			lines[last][n-1] += " ±"
			continue
		}
		if lines[title] == nil {
			order = append(order, title)
		}
		lines[title] = append(lines[title], text)
		last = title
	}
	for _, title := range order {
		fmt.Fprintf(b, "    %s: %s\n", title, strings.Join(lines[title], ", "))
	}
	writeOverrule(b, at, fmt.Sprintf("header_row: %d, orientation: %s", t.HeaderRow, orientation))
}

// describeColumn returns what a column is, and the column itself.
func describeColumn(c sheet.Column) (title, text string) {
	header := strings.Join(strings.Fields(c.Header), " ")
	text = c.Ref
	if header != "" {
		text += " " + strconv.Quote(header)
	}
	switch c.Role {
	case sheet.RoleName:
		return "names", text
	case sheet.RoleAnalyte:
		title = "in " + c.Unit
		if c.Unit == "" {
			title = "no unit in the heading"
		}
		for _, more := range []string{c.Basis, c.Method} {
			if more != "" {
				title += ", " + more
			}
		}
		if header == c.Analyte {
			text = c.Ref + " " + c.Analyte
		} else {
			text += " read as " + c.Analyte
		}
		return title, text
	case sheet.RoleUncertainty, sheet.RoleLimit:
		return string(c.Role), text + " of " + c.Analyte
	case sheet.RoleText:
		return "kept as notes", text
	case sheet.RoleIgnored:
		if c.Reason != "" {
			text += " (" + c.Reason + ")"
		}
		return "left out", text
	}
	return string(c.Role), text
}

func writeRecords(b *strings.Builder, r sheet.Records) {
	names := make([]string, len(r.Fields))
	for i, f := range r.Fields {
		names[i] = f.Name
		if f.Unit != "" {
			names[i] += " (" + f.Unit + ")"
		}
	}
	at := source.Cell{File: r.File, Sheet: r.Sheet}
	fmt.Fprintf(b, "  %s: field sheet, headings in row %d, %s: %s\n", at, r.HeaderRow, count(len(r.Rows), "row", "rows"), strings.Join(names, ", "))
}
