package tables

import (
	"fmt"
	"io"
	"strings"

	"smeltbook/report/page"
)

// longRows is from how many rows on a table may break over pages.
const longRows = 36

// WriteLaTeX writes the table for a document, which takes it in by \input and
// loads the packages named in its first line. A value and its ± stand in one cell,
// notes on cells are left to the other formats.
func (t Table) WriteLaTeX(w io.Writer) error {
	var b strings.Builder
	f := t.form()
	fmt.Fprintf(&b, "%% For a document with \\usepackage{%s}.\n", strings.Join(f.packages(), ","))
	caption, body := latexText(t.Caption), t.latexBody(f.columns)
	if beyondLatin(body + caption + strings.Join(t.Notes, "")) {
		b.WriteString("% It holds letters beyond Latin ones: typeset it with an engine for Unicode.\n")
	}
	begin, end := f.around()
	fmt.Fprintf(&b, "%s\n\\renewcommand{\\thetable}{%d}%% as in the notebook; without this line your document counts\n%s\n", begin, t.Number, f.letters())
	spec := "{@{}" + strings.Join(f.columns, "") + "@{}}"
	title := fmt.Sprintf("\\caption{%s}\\label{tab:notebook-%d}", caption, t.Number)
	if head := t.latexHead(f.letter); f.long {
		fmt.Fprintf(&b, "\\begin{longtable}%s\n%s\\\\\n\\toprule\n%s\\midrule\n\\endhead\n\\bottomrule\n\\endfoot\n%s\\end{longtable}\n", spec, title, head, body)
	} else {
		fmt.Fprintf(&b, "%s\n\\begin{tabular}%s\n\\toprule\n%s\\midrule\n%s\\bottomrule\n\\end{tabular}\n", title, spec, head, body)
	}
	notes := t.Notes
	if t.sided() {
		notes = append(notes[:len(notes):len(notes)], page.Fired.Shape()+" fired, "+page.Dug.Shape()+" dug")
	}
	if len(notes) > 0 {
		b.WriteString("\n\\par\\smallskip\\noindent\n\\begin{minipage}{\\linewidth}\\footnotesize\\raggedright\n")
		for _, n := range notes {
			b.WriteString(latexText(n) + "\\par\n")
		}
		b.WriteString("\\end{minipage}\n")
	}
	b.WriteString(end + "\n")
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("tables: %w", err)
	}
	return nil
}

// latexHead sets the heads, broken into lines that end above the values: what
// stands above columns, then head, the line under it and unit.
func (t Table) latexHead(letters []int) string {
	var b strings.Builder
	var spans, rules []string
	for i := 0; i < len(t.Columns); {
		end := i + 1
		for end < len(t.Columns) && t.Columns[end].Group == t.Columns[i].Group {
			end++
		}
		spans = append(spans, fmt.Sprintf("\\multicolumn{%d}{c}{%s}", end-i, latexText(t.Columns[i].Group)))
		if t.Columns[i].Group != "" {
			rules = append(rules, fmt.Sprintf("\\cmidrule(lr){%d-%d}", i+1, end))
		}
		i = end
	}
	if len(rules) > 0 {
		b.WriteString(strings.Join(spans, " & ") + " \\\\\n" + strings.Join(rules, " ") + "\n")
	}
	heads := make([][]string, len(t.Columns))
	deepest := 0
	for i, c := range t.Columns {
		heads[i] = headLines(c, letters[i])
		deepest = max(deepest, len(heads[i]))
	}
	for line := range deepest {
		cells := make([]string, len(t.Columns))
		for i, c := range t.Columns {
			place := "l"
			if c.Numeric {
				place = "r"
			}
			text := ""
			if at := line - deepest + len(heads[i]); at >= 0 {
				text = heads[i][at]
			}
			cells[i] = fmt.Sprintf("\\multicolumn{1}{%s}{%s}", place, latexText(text))
		}
		b.WriteString(strings.Join(cells, " & ") + " \\\\\n")
	}
	return b.String()
}

func (t Table) latexBody(columns []string) string {
	var b strings.Builder
	for _, r := range t.Rows {
		cells := make([]string, len(r.Cells))
		for i, c := range r.Cells {
			cells[i] = c.latex(columns[i])
		}
		if shape := r.Side.Shape(); shape != "" {
			cells[0] = latexText(shape) + "~" + cells[0]
		}
		b.WriteString(strings.Join(cells, " & ") + " \\\\\n")
	}
	return b.String()
}

// latex sets a cell for a column: a value with its ±, or two lines.
func (c Cell) latex(column string) string {
	text := latexText(c.printed())
	if c.Mark != "" {
		text += "\\textsuperscript{" + latexText(c.Mark) + "}"
	}
	if !c.U.Empty() {
		text += "\\,$\\pm$\\,\\mbox{" + latexText(c.U.Text) + "}"
	}
	if c.Below == "" {
		return text
	}
	below := "{\\scriptsize " + latexText(c.Below) + "}"
	if strings.Contains(column, "p{") {
		return text + "\\newline " + below
	}
	return "\\begin{tabular}[t]{@{}" + column + "@{}}" + text + "\\\\" + below + "\\end{tabular}"
}

// printed is the value as the page has it.
func (c Cell) printed() string {
	if rest, ok := strings.CutPrefix(c.Value.Text, "-"); ok && c.Value.IsNumber {
		return "−" + rest
	}
	return c.Value.Text
}
