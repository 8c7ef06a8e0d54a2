package notebook

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

var yamlLine = regexp.MustCompile(`line (\d+): `)

// parseYAML parses text whose first line is line `first` of the notebook. The
// node's lines count in the notebook. It returns nil for empty text and after
// a mistake.
func (d *decoder) parseYAML(text []byte, first int, where string) *yaml.Node {
	lines := strings.Count(strings.TrimSuffix(string(text), "\n"), "\n")
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		what, line := strings.TrimPrefix(err.Error(), "yaml: "), 1
		if m := yamlLine.FindStringSubmatchIndex(what); m != nil {
			line, _ = strconv.Atoi(what[m[2]:m[3]])
			what = what[:m[0]] + what[m[1]:]
		}
		at := min(max(line-1, 0), lines)
		if row := strings.Split(string(text), "\n")[at]; strings.HasPrefix(strings.TrimLeft(row, " "), "\t") {
			what = "found a tab"
		}
		line = first + at
		d.fail(line, "YAML_SYNTAX", "%s could not be read as YAML from about here: %s; check indentation, brackets and quotation marks", where, plainYAML(what))
		return nil
	}
	if len(doc.Content) == 0 {
		return nil
	}
	shift(&doc, first-1, first+lines)
	return doc.Content[0]
}

// plainYAML puts the library's most frequent complaints into plain words.
func plainYAML(what string) string {
	switch {
	case strings.Contains(what, "cannot start any token"):
		return "a value begins with a sign that needs quotation marks around the value"
	case strings.Contains(what, "mapping values are not allowed"):
		return "a colon stands where none can be; put text that has a colon in it in quotation marks"
	case strings.Contains(what, "found a tab"):
		return "a tab is used for indentation; use spaces"
	}
	return fmt.Sprintf("%q", what)
}

// shift moves the lines of a node and all below it, none past last.
func shift(n *yaml.Node, by, last int) {
	n.Line = min(n.Line+by, last)
	for _, c := range n.Content {
		shift(c, by, last)
	}
}
