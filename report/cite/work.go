package cite

import (
	"encoding/json"
	"strconv"
	"strings"
)

// Work is one work of a bibliography, with the variables of CSL that a reference
// by author and year needs.
type Work struct {
	ID        text   `json:"id"`
	Type      string `json:"type"`
	Title     text   `json:"title"`
	Container text   `json:"container-title"`
	Authors   []Name `json:"author"`
	Editors   []Name `json:"editor"`
	Issued    date   `json:"issued"`
	Volume    text   `json:"volume"`
	Issue     text   `json:"issue"`
	Page      text   `json:"page"`
	Edition   text   `json:"edition"`
	Publisher text   `json:"publisher"`
	Place     text   `json:"publisher-place"`
	DOI       text   `json:"DOI"`
	URL       text   `json:"URL"`
}

// Name is a person, or a body by its literal name.
type Name struct {
	Family   string `json:"family"`
	Given    string `json:"given"`
	Particle string `json:"non-dropping-particle"`
	Suffix   string `json:"suffix"`
	Literal  string `json:"literal"`
}

func (n Name) short() string {
	if n.Family == "" {
		return strings.TrimSpace(n.Literal)
	}
	return strings.TrimSpace(n.Particle + " " + n.Family)
}

func (n Name) full() string {
	name := n.short()
	for _, more := range []string{n.Given, n.Suffix} {
		if more != "" && n.Family != "" {
			name += ", " + more
		}
	}
	return name
}

// text is a variable that is written as text or as a number.
type text string

// UnmarshalJSON takes a text, a number or nothing.
func (t *text) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] != '"' && data[0] != '{' && data[0] != '[' {
		if string(data) != "null" {
			*t = text(data)
		}
		return nil
	}
	return json.Unmarshal(data, (*string)(t))
}

// date is when a work appeared.
type date struct {
	Parts   [][]text `json:"date-parts"`
	Literal text     `json:"literal"`
	Raw     text     `json:"raw"`
}

// Year returns the year of a work, or what stands for it.
func (w Work) Year() string {
	if d := w.Issued.Parts; len(d) > 0 && len(d[0]) > 0 && d[0][0] != "" {
		return string(d[0][0])
	}
	for _, raw := range []text{w.Issued.Raw, w.Issued.Literal} {
		for _, word := range strings.FieldsFunc(string(raw), func(r rune) bool { return r < '0' || r > '9' }) {
			if n, err := strconv.Atoi(word); err == nil && n > 1000 && n < 3000 {
				return word
			}
		}
		if raw != "" {
			return string(raw)
		}
	}
	return "undated"
}

// makers are the authors, the editors where there are none, the title else.
func (w Work) makers() ([]Name, bool) {
	if len(w.Authors) > 0 {
		return w.Authors, false
	}
	return w.Editors, len(w.Editors) > 0
}

// who names the makers as a citation does.
func (w Work) who() string {
	names, _ := w.makers()
	switch len(names) {
	case 0:
		return string(w.Title)
	case 1:
		return names[0].short()
	case 2:
		return names[0].short() + " & " + names[1].short()
	}
	return names[0].short() + " et al."
}
