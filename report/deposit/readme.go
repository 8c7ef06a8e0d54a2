package deposit

import (
	"fmt"
	"strings"

	"smeltbook/report/caution"
)

// readmeText is for a person who finds the archive in ten years and has neither
// the program nor anybody to ask.
func readmeText(a about, tables []*table, in Input) []byte {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("# %s\n", a.title)
	if a.subtitle != "" {
		p("%s\n", a.subtitle)
	}
	p("%s, %s\n", strings.Join(a.authors, "; "), a.date)
	if a.abstract != "" {
		p("%s\n", a.abstract)
	}
	p("This archive holds the record of a series of experimental copper smelts, set beside excavated")
	p("material: the report, the sheets it was made from, and the data as plain tables. You need no")
	p("special program for any of it. The tables are text, the report opens in a web browser.\n")
	p("## What is in it\n")
	p("    data/report.html         the report: read this first")
	for _, t := range tables {
		p("    %-24s %s", "data/"+t.path, strings.ToLower(t.title[:1])+t.title[1:]+fmt.Sprintf(", %d rows and a heading", len(t.rows)))
	}
	p("    data/datapackage.json    what every column of these tables holds, its type and its unit")
	p("    data/method.txt          recipe, assumptions, seed, versions, in words")
	p("    data/method.json         the same for programs")
	p("    data/datacite.json       who, what, when and on which terms, for catalogues")
	p("    data/LICENCE.txt         the terms: %s", a.licence.name)
	p("    data/campaign/           the inputs as they were: prose (notebook.md), laboratory and field sheets")
	if len(in.Placeless) > 0 {
		p("                             but for what the camera wrote beside these pictures, which told")
		p("                             where they were taken: %s", strings.Join(in.Placeless, ", "))
	}
	p("    manifest-sha256.txt      checksum of every file under data/")
	p("    tagmanifest-sha256.txt   checksums of the files beside it\n")
	p("## The tables\n")
	for _, t := range tables {
		p("**%s** (`data/%s`). %s\n", t.title, t.path, t.description)
	}
	p("Tables are comma-separated, in UTF-8, with one line of headings and a point in decimal numbers.")
	p("An empty field means that there is nothing. Uncertainties are standard uncertainties (k = 1). A")
	p("value below detection has no number but a class and, where it is known, a limit. A text that")
	p("begins with = + - or @ has an apostrophe before it, so that no spreadsheet program runs it as a")
	p("formula. `values.csv` is what was measured, cell by cell; `samples.csv` is what was made of it.\n")
	p("## How to check it\n")
	p("In the folder of this file, on a Unix system: `sha256sum -c manifest-sha256.txt tagmanifest-sha256.txt`.")
	p("Any tool for BagIt (RFC 8493) does the same. `%s deposit --verify FILE.zip` also checks the tables.", a.program.Name)
	p("Checksums show damage and careless change; they do not prove who made the archive.\n")
	p("## How to compute it again\n")
	p("With %s %s: `%s report data/campaign`. The random draws start from seed %d.", a.program.Name, a.program.Version, a.program.Name, in.Study.Conditions.Seed)
	warnings := 0
	for _, n := range in.Notices {
		if severe(n) {
			warnings++
		}
	}
	if warnings > 0 {
		p("\n%d warnings about the data stand at the end of the report and in `data/method.txt`.", warnings)
	}
	p("\n## A caution\n")
	for _, c := range caution.Always() {
		p("%s", c.Text)
	}
	p("%s%s", strings.ToUpper(caution.Behind[:1]), caution.Behind[1:])
	return []byte(b.String())
}
