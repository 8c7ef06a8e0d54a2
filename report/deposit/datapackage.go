package deposit

import (
	"strings"
)

// dataPackage describes the tables as a Frictionless Data Package.
type dataPackage struct {
	Profile      string              `json:"profile"`
	Name         string              `json:"name"`
	Title        string              `json:"title"`
	Description  string              `json:"description,omitempty"`
	Version      string              `json:"version,omitempty"`
	Licences     []map[string]string `json:"licenses"`
	Contributors []map[string]string `json:"contributors"`
	Keywords     []string            `json:"keywords,omitempty"`
	Resources    []resource          `json:"resources"`
}

type resource struct {
	Profile     string `json:"profile"`
	Name        string `json:"name"`
	Path        string `json:"path"`
	Title       string `json:"title"`
	Description string `json:"description"`
	Format      string `json:"format"`
	MediaType   string `json:"mediatype"`
	Encoding    string `json:"encoding"`
	Bytes       int    `json:"bytes"`
	Hash        string `json:"hash"`
	Schema      schema `json:"schema"`
}

type schema struct {
	Fields        []field      `json:"fields"`
	MissingValues []string     `json:"missingValues"`
	PrimaryKey    []string     `json:"primaryKey,omitempty"`
	ForeignKeys   []foreignKey `json:"foreignKeys,omitempty"`
}

// hashPrefix stands before the checksums of a data package.
const hashPrefix = "sha256:"

func packageOf(a about, tables []*table, files map[string][]byte) dataPackage {
	terms := map[string]string{"title": a.licence.name}
	if a.licence.id != "" {
		terms["name"], terms["path"] = a.licence.id, a.licence.url
	} else {
		terms["path"] = "LICENCE.txt"
	}
	p := dataPackage{Profile: "tabular-data-package", Name: asciiName(a.title), Title: a.title, Description: a.abstract,
		Licences: []map[string]string{terms}, Keywords: a.subjects}
	for _, name := range a.authors {
		p.Contributors = append(p.Contributors, map[string]string{"title": name, "role": "author"})
	}
	for _, t := range tables {
		data := files[t.path]
		p.Resources = append(p.Resources, resource{
			Profile: "tabular-data-resource", Name: t.name, Path: t.path, Title: t.title, Description: t.description,
			Format: "csv", MediaType: "text/csv", Encoding: "utf-8", Bytes: len(data), Hash: hashPrefix + sum(data),
			Schema: schema{Fields: t.fields, MissingValues: []string{""}, PrimaryKey: t.primaryKey, ForeignKeys: t.foreignKeys},
		})
	}
	return p
}

// asciiName makes a name of the form that data packages and file systems take.
func asciiName(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	name := strings.Join(words, "-")
	if name == "" {
		return "campaign"
	}
	return strings.TrimRight(name[:min(len(name), 60)], "-")
}
