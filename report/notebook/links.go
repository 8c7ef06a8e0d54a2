package notebook

import (
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"smeltbook/assay/source"
)

// checkLinks takes links that a page must not have out of the document, with
// their text kept, and points fragments at the headings they name.
func (b *body) checkLinks(doc ast.Node) {
	var drop []ast.Node
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Link:
			dest, ok := address(n.Destination)
			if !ok {
				b.tell(b.lineAt(n), source.Warning, "LINK_NOT_ALLOWED",
					"the link to %q is left out; links may lead to http, https or mailto addresses, to headings (#…) and to files beside the report", short(string(n.Destination)))
				drop = append(drop, n)
			} else if slug, isFragment := strings.CutPrefix(dest, "#"); isFragment && b.headings[slug] {
				n.Destination = []byte("#" + headingPrefix + slug)
			}
		case *ast.AutoLink:
			if _, ok := address(n.URL(b.src)); !ok && n.AutoLinkType != ast.AutoLinkEmail {
				b.tell(b.lineAt(n), source.Warning, "LINK_NOT_ALLOWED",
					"the link to %q is left out; links may lead to http, https or mailto addresses", short(string(n.URL(b.src))))
				drop = append(drop, n)
			}
		case *ast.Image:
			if _, ok := localPath(n.Destination); !ok {
				b.tell(b.lineAt(n), source.Warning, "IMAGE_NOT_LOCAL",
					"the image %q is left out; put the picture beside the notebook and name it from there, as in pictures/furnace.jpg", short(string(n.Destination)))
			}
		}
		return ast.WalkContinue, nil
	})
	for _, n := range drop {
		parent := n.Parent()
		if auto, ok := n.(*ast.AutoLink); ok {
			parent.InsertBefore(parent, n, ast.NewString(auto.Label(b.src)))
		}
		for c := n.FirstChild(); c != nil; {
			next := c.NextSibling()
			parent.InsertBefore(parent, n, c)
			c = next
		}
		parent.RemoveChild(parent, n)
	}
}

// address returns the escaped address of a link and whether a page may have
// it.
func address(dest []byte) (string, bool) {
	escaped := string(util.URLEscape(dest, true))
	u, err := url.Parse(escaped)
	if err != nil {
		return "", false
	}
	switch strings.ToLower(u.Scheme) {
	case "http", "https":
		return escaped, u.Host != ""
	case "mailto":
		return escaped, u.Opaque != ""
	case "":
		return escaped, u.Host == "" && !strings.HasPrefix(escaped, "//") && !strings.HasPrefix(escaped, "/")
	}
	return "", false
}

// localPath returns the path of an image beside the notebook.
func localPath(dest []byte) (string, bool) {
	escaped, ok := address(dest)
	if !ok {
		return "", false
	}
	u, err := url.Parse(escaped)
	if err != nil || u.Scheme != "" || u.Path == "" || u.RawQuery != "" {
		return "", false
	}
	clean := path.Clean(u.Path)
	if clean == "." || clean == ".." || strings.HasPrefix(clean, "../") || strings.ContainsAny(clean, `\:`) {
		return "", false
	}
	return clean, true
}

// short cuts a text for a message.
func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}
