package sheet

import (
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// reportCell tells what was peculiar about one cell of a result column.
func (t *tableReader) reportCell(c *column, cell cell, tok token, ref string) {
	w := t.tally
	if cell.kind == kindText && tok.number && !t.v.g.delimited && tok.class == quantity.Measured {
		w.habit(source.Note, "TEXT_NUMBER", ref, "numbers stored as text were read as numbers (%s)")
	}
	if tok.number && cell.kind == kindText {
		t.reportTraits(tok.traits, cell, ref)
	}
	switch tok.class {
	case quantity.Below, quantity.Above, quantity.Trace, quantity.NotFound:
		w.habit(source.Note, "CENSORED", ref, "values beyond a limit were kept as such, not as numbers (%s)")
	}
	if tok.nd {
		meaning, by := "not detected", ", as a footnote says"
		if t.nd == string(quantity.NotRun) {
			meaning = "not determined"
		}
		switch {
		case t.reading.Nd != "":
			by = ", as the notebook says"
		case t.nd == "":
			by = ""
		}
		meaning += by
		w.habit(source.Note, "ND_MEANING", ref, "\"n.d.\" was read as "+meaning+" (%s)")
	}
	switch {
	case tok.class == quantity.Missing && tok.why == "formula":
		w.each(source.Warning, "FORMULA_NO_VALUE", ref, "the cell holds a formula without a stored result and counts as missing; open the workbook, let it compute and save it")
	case tok.class == quantity.Unusable && tok.why == "date":
		w.each(source.Warning, "DATE_IN_NUMBER", ref, "the cell shows the date %s where a number belongs; type the number again as the laboratory gave it", clip(cell.text))
	case tok.class == quantity.Unusable && cell.kind == kindText && looksLikeDate(cell.text):
		w.each(source.Warning, "DATE_IN_NUMBER", ref, "%q %s", clip(cell.text), tok.why)
	case tok.class == quantity.Unusable:
		w.each(source.Warning, "CELL_ERROR", ref, "%q %s", clip(cell.text), tok.why)
	}
	if tok.class == quantity.Measured && tok.value == 0 && c.finePlaces {
		w.habit(source.Warning, "ZERO_VALUE", ref, "a zero stands among results with two or more decimals (%s); it may mean \"below detection\", ask the laboratory")
	}
}

func (t *tableReader) reportTraits(tr numberTraits, cell cell, ref string) {
	w := t.tally
	file := t.v.g.style
	if tr.comma {
		w.habit(source.Note, "DECIMAL_COMMA", ref, "decimal commas were read (%s)")
	}
	if tr.mixed || (tr.comma && file.marks.decimal == '.') || (tr.point && file.marks.decimal == ',') {
		w.each(source.Warning, "MIXED_DECIMAL_STYLE", ref, "%q uses another decimal mark than the rest of the file and was read by its own; check it", clip(cell.text))
	}
	if tr.grouped {
		w.habit(source.Note, "THOUSANDS_SEPARATOR", ref, "separators of thousands were removed (%s)")
	}
	if tr.oddSpace {
		w.habit(source.Note, "SPACE_FOLDED", ref, "non-breaking, thin or invisible spaces were read as plain ones (%s)")
	}
	if tr.minus {
		w.habit(source.Note, "UNICODE_MINUS", ref, "minus signs other than the hyphen were read as minus (%s)")
	}
}

// places finds out which columns give two or more decimals.
func (t *tableReader) places() {
	for i := range t.cols {
		c := &t.cols[i]
		for n, k := range t.kinds {
			if k != rowData {
				continue
			}
			s := t.v.at(t.b.header+n, c.index).text
			if len(s) > 3 && len(s) < 16 {
				if shape, mark := shapeOf(s); shape == shapeDecimal {
					for p := len(s) - 1; p >= 0 && s[p] != mark; p-- {
						c.finePlaces = c.finePlaces || len(s)-p >= 2
					}
				}
			}
			if c.finePlaces {
				break
			}
		}
	}
}
