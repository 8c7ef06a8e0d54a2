package sheet

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
)

// Codes of refusals. The first four are for workbooks that must not be read.
const (
	codeTooLarge  = "E_TOO_LARGE"
	codeMalformed = "E_MALFORMED"
	codeEntity    = "E_XML_ENTITY"
	codeLegacy    = "E_LEGACY_XLS"
	codeEncrypted = "E_ENCRYPTED"
	codeMissing   = "E_MISSING_FILE"
	codeForm      = "E_NOT_A_SPREADSHEET"
	codeEmpty     = "E_EMPTY_FILE"
)

// load reads a file into memory, no more of it than the limit.
func load(path string, limits Limits) ([]byte, *refusal) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, refuse(codeMissing, "there is no such file; check the name in the notebook, or put the file there")
	case err != nil:
		return nil, refuse(codeMissing, "the file cannot be opened (%v); check that you may read it", cause(err))
	case info.IsDir():
		return nil, refuse(codeForm, "this is a folder, not a spreadsheet; name a file in it")
	case !info.Mode().IsRegular():
		return nil, refuse(codeForm, "this is not an ordinary file; name a spreadsheet")
	case info.Size() > limits.FileBytes:
		return nil, tooLong(limits)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, refuse(codeMissing, "the file cannot be opened (%v); close it elsewhere or check that you may read it", cause(err))
	}
	defer f.Close()
	return loadFrom(f, limits)
}

// loadFrom reads a stream into memory, no more of it than the limit.
func loadFrom(in io.Reader, limits Limits) ([]byte, *refusal) {
	data, err := io.ReadAll(io.LimitReader(in, limits.FileBytes+1))
	if err != nil {
		return nil, refuse(codeMissing, "the file cannot be read to its end (%v); copy it again", cause(err))
	}
	if int64(len(data)) > limits.FileBytes {
		return nil, tooLong(limits)
	}
	return data, nil
}

func tooLong(limits Limits) *refusal {
	return refuse(codeTooLarge, "the file is larger than %s; keep the assay tables in a file of their own, or raise `file_bytes` under `limits:` in the notebook", megabytes(limits.FileBytes))
}

// cause strips the path from an error of the file system.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

type form uint8

const (
	formText form = iota
	formWorkbook
)

// sniff tells from the first bytes what a file is, whatever its name says.
func sniff(data []byte) (form, *refusal) {
	starts := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	head := bytes.ToLower(bytes.TrimLeft(data[:min(len(data), 2048)], "\xef\xbb\xbf \t\r\n"))
	switch {
	case len(data) == 0 || len(bytes.TrimSpace(data)) == 0:
		return 0, refuse(codeEmpty, "the file is empty; export it again")
	case starts("PK\x03\x04"):
		return formWorkbook, nil
	case starts("PK\x05\x06"):
		return 0, refuse(codeMalformed, "the file is an empty archive, not a workbook; save the spreadsheet again")
	case starts("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
		// "EncryptedPackage", as the directory of the compound file spells it.
		if bytes.Contains(data, utf16Text("EncryptedPackage")) {
			return 0, refuse(codeEncrypted, "the workbook is protected by a password; open it, take the password off and save it as .xlsx")
		}
		return 0, refuse(codeLegacy, "this is an old binary workbook (.xls) or one protected by a password, whatever its name says; open it, take off any password and save it as .xlsx or .csv")
	case starts("%PDF"):
		return 0, refuse(codeForm, "this is a PDF document; ask the laboratory for the table as .xlsx or .csv")
	case starts("{\\rtf"):
		return 0, refuse(codeForm, "this is a text document (RTF), not a spreadsheet; save the table as .xlsx or .csv")
	case bytes.HasPrefix(head, []byte("<html")), bytes.HasPrefix(head, []byte("<!doctype")), bytes.HasPrefix(head, []byte("<table")):
		return 0, refuse(codeForm, "this is a web page under the name of a spreadsheet; open it in a spreadsheet program and save it as .xlsx or .csv")
	case bytes.HasPrefix(head, []byte("<?xml")), bytes.HasPrefix(head, []byte("<workbook")):
		return 0, refuse(codeForm, "this is an XML export, not a workbook; open it in a spreadsheet program and save it as .xlsx or .csv")
	case starts("\x89PNG"), starts("\xff\xd8\xff"), starts("GIF8"), starts("II*\x00"), starts("MM\x00*"):
		return 0, refuse(codeForm, "this is a picture, not a spreadsheet; ask for the table as .xlsx or .csv")
	case starts("7z\xbc\xaf"), starts("Rar!"), starts("\x1f\x8b"):
		return 0, refuse(codeForm, "this is a packed archive; unpack it and name the spreadsheet in it")
	}
	return formText, nil
}

func utf16Text(s string) []byte {
	out := make([]byte, 0, 2*len(s))
	for i := 0; i < len(s); i++ {
		out = append(out, s[i], 0)
	}
	return out
}
