package sheet

import "io"

// scanTexts reads the part of the shared texts.
func scanTexts(r io.Reader, most scanLimits) ([]string, error) {
	x := newXMLScan(r)
	var (
		out                []string
		kept               texts
		text               []byte
		inText, inPhonetic bool
	)
	for {
		tok, err := x.next()
		if err == io.EOF {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		switch name := string(x.name); {
		case tok == xmlText:
			if inText {
				text = append(text, x.text...)
			}
		case tok == xmlStart && name == "si" && x.depth() == 2:
			text = text[:0]
		case tok == xmlEnd && name == "si" && x.depth() == 1:
			if len(out) >= most.cells {
				return nil, tooManyCellsError{}
			}
			out = append(out, unescape(kept.keep(text)))
			if kept.size > most.textBytes {
				return nil, tooMuchTextError{}
			}
		case name == "t":
			inText = tok == xmlStart && !inPhonetic && x.depth() >= 3
		case name == "rPh":
			inPhonetic = tok == xmlStart
		}
	}
}
