package main

import (
	"encoding/json"
	"fmt"
	"io"
)

// writeRecord writes a record as JSON to be read by programs and by people.
func writeRecord(w io.Writer, record any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(record)
}

// deliver writes an answer whole to a file, whose name it then prints, or where
// there is none to standard output.
func deliver(out string, answer []byte, st streams) error {
	if out == "" {
		_, err := st.out.Write(answer)
		return err
	}
	if err := writeWhole(out, answer); err != nil {
		return err
	}
	_, err := fmt.Fprintln(st.out, out)
	return err
}
