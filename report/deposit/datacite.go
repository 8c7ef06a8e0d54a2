package deposit

import "strings"

// datacite is the description in the DataCite Metadata Schema 4, in its JSON
// form. What a repository gives later is announced as ":tba", the schema's own
// word for it (appendix on unknown values).
type datacite struct {
	SchemaVersion   string           `json:"schemaVersion"`
	Identifiers     []map[string]any `json:"identifiers"`
	Creators        []creator        `json:"creators"`
	Titles          []titled         `json:"titles"`
	Publisher       map[string]any   `json:"publisher"`
	PublicationYear string           `json:"publicationYear"`
	Types           map[string]any   `json:"types"`
	Subjects        []map[string]any `json:"subjects,omitempty"`
	Dates           []map[string]any `json:"dates"`
	Language        string           `json:"language,omitempty"`
	Formats         []string         `json:"formats"`
	Rights          []rights         `json:"rightsList"`
	Descriptions    []map[string]any `json:"descriptions"`
	Places          []map[string]any `json:"geoLocations,omitempty"`
}

type creator struct {
	Name   string `json:"name"`
	Type   string `json:"nameType,omitempty"`
	Given  string `json:"givenName,omitempty"`
	Family string `json:"familyName,omitempty"`
}

type titled struct {
	Title string `json:"title"`
	Type  string `json:"titleType,omitempty"`
}

type rights struct {
	Rights    string `json:"rights"`
	URI       string `json:"rightsUri,omitempty"`
	ID        string `json:"rightsIdentifier,omitempty"`
	Scheme    string `json:"rightsIdentifierScheme,omitempty"`
	SchemeURI string `json:"schemeUri,omitempty"`
}

// unassigned is the schema's word for what is still to be announced.
const unassigned = ":tba"

func dataciteOf(a about) datacite {
	publisher := a.publisher
	if publisher == "" {
		publisher = unassigned
	}
	d := datacite{
		SchemaVersion:   "http://datacite.org/schema/kernel-4",
		Identifiers:     []map[string]any{{"identifier": unassigned, "identifierType": "DOI"}},
		Titles:          []titled{{Title: a.title}},
		Publisher:       map[string]any{"name": publisher},
		PublicationYear: a.year,
		Types:           map[string]any{"resourceType": "Experimental smelting data and report", "resourceTypeGeneral": "Dataset"},
		Dates:           []map[string]any{{"date": a.date, "dateType": "Created"}},
		Formats:         []string{"text/html", "text/csv", "application/json", "text/markdown"},
		Rights:          []rights{{Rights: a.licence.name}},
	}
	if a.subtitle != "" {
		d.Titles = append(d.Titles, titled{Title: a.subtitle, Type: "Subtitle"})
	}
	for _, name := range a.authors {
		d.Creators = append(d.Creators, creatorOf(name))
	}
	for _, s := range a.subjects {
		d.Subjects = append(d.Subjects, map[string]any{"subject": s})
	}
	if l := a.licence; l.id != "" {
		d.Rights[0] = rights{l.name, l.url, strings.ToLower(l.id), "SPDX", "https://spdx.org/licenses/"}
	}
	if a.abstract != "" {
		d.Descriptions = append(d.Descriptions, map[string]any{"description": a.abstract, "descriptionType": "Abstract"})
	}
	d.Descriptions = append(d.Descriptions, map[string]any{
		"description":     "Computed with " + a.program.Name + " " + a.program.Version + "; method.json in the deposit names the recipe, the assumptions, the seed and the modules.",
		"descriptionType": "TechnicalInfo"})
	if a.site != "" {
		d.Places = []map[string]any{{"geoLocationPlace": a.site}}
	}
	return d
}

// creatorOf takes a name apart where a comma says how; which word of "A. Reeve"
// is the family's is not guessed.
func creatorOf(name string) creator {
	family, given, ok := strings.Cut(name, ",")
	if !ok {
		return creator{Name: name}
	}
	family, given = strings.TrimSpace(family), strings.TrimSpace(given)
	return creator{Name: family + ", " + given, Type: "Personal", Given: given, Family: family}
}
