package deposit

import (
	"regexp"
	"strings"
	"time"

	"smeltbook/assay"
	"smeltbook/assay/source"
)

// about is who made the deposit, what it is and on which terms it may be used.
type about struct {
	title, subtitle string
	authors         []string
	date, year      string // ISO 8601, to the day, the month or the year
	site            string
	abstract        string
	publisher       string
	subjects        []string
	licence         licence
	program         Program
}

// describe takes the description out of the front matter. What has to be there
// and is not is an error; what was left out is noted.
func describe(in Input) (about, source.Notices) {
	n := in.Notebook
	a := about{title: n.Title, subtitle: n.Subtitle, authors: n.Authors, site: n.Site, abstract: n.Abstract,
		publisher: n.Publisher, subjects: n.Subjects, program: in.Program}
	var notices source.Notices
	at := source.Cell{File: assay.NotebookName}
	lacks := func(code, what, line string) {
		notices.Add(source.Error, code, at, "a deposit needs %s; add to the front matter a line such as %s", what, line)
	}
	if a.title == "" {
		lacks("NO_TITLE", "a title", "title: Orrin Vale, second season")
	}
	if len(a.authors) == 0 {
		lacks("NO_AUTHORS", "the names of its authors", `authors: ["Reeve, Ada", "Marsh, Tom"]`)
	}
	var ok bool
	if a.date, ok = isoDate(n.Date); !ok {
		lacks("NO_DATE", "a date of the form 2026-11-02, for no clock is read", "date: 2026-11-02")
	} else {
		a.year = a.date[:4]
	}
	switch l, known := licenceOf(n.Licence); {
	case n.Licence == "":
		lacks("NO_LICENCE", "a licence, for without one nobody may use the data; only you can choose it", "licence: CC-BY-4.0 (named) or licence: CC0-1.0 (given away)")
	case !known:
		a.licence = l
		if near := source.Nearest(n.Licence, licenceIDs()); near != "" {
			notices.Add(source.Error, "UNKNOWN_LICENCE", at, "the licence %q is not known; did you mean %s?", n.Licence, near)
		} else {
			notices.Add(source.Warning, "UNKNOWN_LICENCE", at, "the licence %q is none of %s; it goes into the deposit as written, without an address", n.Licence, strings.Join(licenceIDs(), ", "))
		}
	default:
		a.licence = l
	}
	var left []string
	for _, x := range []struct{ what, value string }{{"publisher", a.publisher}, {"abstract", a.abstract}, {"subjects", strings.Join(a.subjects, "")}, {"site", a.site}} {
		if x.value == "" {
			left = append(left, x.what+":")
		}
	}
	if len(left) > 0 && !notices.Failed() {
		notices.Add(source.Note, "LEFT_OUT", at, "the description of the deposit is without %s, which the front matter does not give; the identifier (DOI) is given by the repository", strings.Join(left, ", "))
	}
	return a, notices
}

var dateForm = regexp.MustCompile(`^\d{4}(-\d{2}(-\d{2})?)?$`)

// isoDate returns a date to the day, the month or the year.
func isoDate(s string) (string, bool) {
	s = strings.TrimSpace(s)
	if !dateForm.MatchString(s) {
		return "", false
	}
	_, err := time.Parse("2006-01-02"[:len(s)], s)
	return s, err == nil
}
