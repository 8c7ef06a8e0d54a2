package deposit

import (
	"fmt"
	"strings"
)

// licence is the terms on which others may use the data.
type licence struct {
	id   string // of the SPDX licence list; empty for other terms
	name string
	url  string
}

// licences are those usual for data, with the names of the SPDX licence list.
var licences = []licence{
	{"CC0-1.0", "Creative Commons Zero v1.0 Universal", "https://creativecommons.org/publicdomain/zero/1.0/legalcode"},
	{"CC-BY-4.0", "Creative Commons Attribution 4.0 International", "https://creativecommons.org/licenses/by/4.0/legalcode"},
	{"CC-BY-SA-4.0", "Creative Commons Attribution Share Alike 4.0 International", "https://creativecommons.org/licenses/by-sa/4.0/legalcode"},
	{"CC-BY-NC-4.0", "Creative Commons Attribution Non Commercial 4.0 International", "https://creativecommons.org/licenses/by-nc/4.0/legalcode"},
	{"CC-BY-NC-SA-4.0", "Creative Commons Attribution Non Commercial Share Alike 4.0 International", "https://creativecommons.org/licenses/by-nc-sa/4.0/legalcode"},
	{"CC-BY-ND-4.0", "Creative Commons Attribution No Derivatives 4.0 International", "https://creativecommons.org/licenses/by-nd/4.0/legalcode"},
	{"ODC-By-1.0", "Open Data Commons Attribution License v1.0", "https://opendatacommons.org/licenses/by/1.0/"},
	{"ODbL-1.0", "Open Data Commons Open Database License v1.0", "https://opendatacommons.org/licenses/odbl/1-0/"},
	{"PDDL-1.0", "Open Data Commons Public Domain Dedication & License 1.0", "https://opendatacommons.org/licenses/pddl/1-0/"},
}

func licenceIDs() []string {
	ids := make([]string, len(licences))
	for i, l := range licences {
		ids[i] = l.id
	}
	return ids
}

// licenceOf finds a licence by its identifier, spaces and letter case aside.
// Other terms are taken as written; known is then false.
func licenceOf(text string) (l licence, known bool) {
	text = strings.Join(strings.Fields(text), " ")
	for _, l := range licences {
		if strings.EqualFold(l.id, strings.ReplaceAll(text, " ", "-")) {
			return l, true
		}
	}
	return licence{name: text}, false
}

func licenceText(a about) []byte {
	text := fmt.Sprintf("%s\n%s, %s\n\nThe prose, data and tables of this deposit may be used under the terms of\n\n    %s\n", a.title, strings.Join(a.authors, "; "), a.year, a.licence.name)
	if a.licence.id != "" {
		text += fmt.Sprintf("    %s (identifier in the SPDX licence list)\n    %s\n", a.licence.id, a.licence.url)
	}
	return []byte(text)
}
