package sheet_test

import (
	"context"
	"fmt"
	"log"

	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// A table with decimal commas, points between thousands and German headings.
func ExampleRead() {
	book, err := sheet.Read(context.Background(), "../../testdata/sheets/hard/P02_comma_decimal_cp1252.csv", "lab/ores.csv", sheet.Options{})
	if err != nil {
		log.Fatal(err)
	}
	for row := range book.Tables[0].Rows() {
		cu, _ := row.Value("Cu")
		cao, _ := row.Value("CaO")
		fmt.Printf("%s: Cu %s from %q in %s; CaO %s\n", row.Name, cu.WithUnit(), cu.Raw, cu.From[0], cao.WithUnit())
	}
	for _, n := range book.Notices.Of(source.Warning) {
		fmt.Println(n.Error())
	}
	// Output:
	// LS-E1: Cu 1.235 wt% from "12.350" in lab/ores.csv, cell F2; CaO 2.41 wt%
	// LS-E2: Cu 0.8905 wt% from "8.905" in lab/ores.csv, cell F3; CaO 1.96 wt%
	// LS-E3: Cu 2.17 wt% from "21.700" in lab/ores.csv, cell F4; CaO < 0.05 wt%
	// lab/ores.csv: the text is not UTF-8 and was read as windows-1252; check signs such as µ and ±
}

// A file that is not what its name says is refused with what to do about it.
func ExampleRead_refused() {
	book, err := sheet.Read(context.Background(), "../../testdata/sheets/hard/P16_old_binary.xlsx", "lab/old.xlsx", sheet.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(len(book.Tables), "tables")
	fmt.Println(book.Notices[0].Error())
	// Output:
	// 0 tables
	// lab/old.xlsx: this is an old binary workbook (.xls) or one protected by a password, whatever its name says; open it, take off any password and save it as .xlsx or .csv
}
