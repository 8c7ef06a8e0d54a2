package cite

import (
	_ "embed"
	"strings"
	"unicode"

	"smeltbook/assay/source"
)

//go:embed works.json
var works []byte

// Methods returns the works that the methods of a report may cite, under keys
// such as "welch1947". Most of them are recalled from memory but for author, year,
// journal and page, which stand with the models themselves.
func Methods() (Library, source.Notices) { return Read("works.json", works) }

// With adds the works of another library under its keys. A work that both have is
// kept once, as this library has it; where a key of the other stands for something
// else here, the other's goes by its key with a stroke before it. as tells the key
// that each of the other's works is to be cited by.
func (l Library) With(other Library) (joined Library, as map[string]string) {
	joined = Library{works: map[string]Work{}, keys: append([]string(nil), l.keys...)}
	same := map[string]string{}
	for _, k := range l.keys {
		joined.works[k] = l.works[k]
		for _, s := range l.works[k].signs() {
			same[s] = k
		}
	}
	as = map[string]string{}
	for _, k := range other.keys {
		w := other.works[k]
		for _, s := range w.signs() {
			if known, ok := same[s]; ok {
				as[k] = known
			}
		}
		if as[k] != "" {
			continue
		}
		key := k
		for _, taken := joined.works[key]; taken; _, taken = joined.works[key] {
			key = "/" + key
		}
		w.ID = text(key)
		joined.works[key], as[k] = w, key
		joined.keys = append(joined.keys, key)
	}
	return joined, as
}

// signs are what two entries of one work have in common: its DOI, or first maker,
// year and title without marks.
func (w Work) signs() (out []string) {
	if link := w.link(); strings.HasPrefix(link, "https://doi.org/") {
		out = append(out, strings.ToLower(link))
	}
	names, _ := w.makers()
	title := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, string(w.Title))
	if len(names) > 0 && title != "" {
		out = append(out, strings.ToLower(names[0].short())+" "+w.Year()+" "+title)
	}
	return out
}
