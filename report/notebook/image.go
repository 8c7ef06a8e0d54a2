package notebook

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"smeltbook/assay/photo"
	"smeltbook/assay/source"
)

// largestImage is the most bytes of a picture that are put into the page.
const largestImage = 8 << 20

// imageTypes are the pictures that browsers show, by extension.
func imageTypes() map[string]string {
	return map[string]string{
		".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg",
		".gif": "image/gif", ".webp": "image/webp", ".svg": "image/svg+xml",
	}
}

// image puts a picture into the page, or its description where the picture
// cannot be had.
func (w *proseRenderer) image(out util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.Image)
	alt := template.HTMLEscapeString(w.plain(n))
	data, ok := w.picture(n)
	if !ok {
		_, _ = out.WriteString(`<span class="no-picture">` + alt + `</span>`)
		return ast.WalkSkipChildren, nil
	}
	_, _ = out.WriteString(`<img src="` + data + `" alt="` + alt + `">`)
	return ast.WalkSkipChildren, nil
}

// pictureName returns the file of a picture, relative to the notebook.
func pictureName(n *ast.Image) (string, bool) {
	name, local := localPath(n.Destination)
	if unescaped, err := url.PathUnescape(name); err == nil {
		name = unescaped
	}
	return name, local
}

// Pictures returns the files of the pictures in the prose, relative to the
// notebook, each once.
func (n *Notebook) Pictures() []string {
	var out []string
	for _, b := range n.Blocks {
		p, ok := b.(*Prose)
		if !ok {
			continue
		}
		for _, n := range p.nodes {
			_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
				if i, ok := n.(*ast.Image); ok && entering {
					if name, local := pictureName(i); local && !slices.Contains(out, name) {
						out = append(out, name)
					}
				}
				return ast.WalkContinue, nil
			})
		}
	}
	return out
}

// picture returns an image as a data address.
func (w *proseRenderer) picture(n *ast.Image) (string, bool) {
	name, local := pictureName(n)
	if !local || w.sources.Files == nil {
		return "", false // told when the notebook was parsed
	}
	mime := imageTypes()[strings.ToLower(path.Ext(name))]
	if mime == "" {
		w.tell(n, "the picture %q is left out; use a PNG, JPEG, GIF, WebP or SVG file", name)
		return "", false
	}
	data, err := readFile(w.sources.Files, name)
	if err != nil {
		w.tell(n, "the picture %q is left out: %v", name, err)
		return "", false
	}
	if known, _ := photo.Known(name); known {
		// What a camera wrote beside a picture, places among it, is no part of the report.
		if stripped, err := photo.Strip(data); err == nil {
			data = stripped
		} else {
			w.tell(n, "the picture %q is left out: %v", name, err)
			return "", false
		}
	}
	return "data:" + mime + ";base64," + base64.StdEncoding.EncodeToString(data), true
}

func (w *proseRenderer) tell(n ast.Node, format string, args ...any) {
	w.notices = append(w.notices, notice(w.body.file, w.body.lineAt(n), source.Warning, "IMAGE", format, args...))
}

// readFile reads a picture of bearable size.
func readFile(files fs.FS, name string) ([]byte, error) {
	if !fs.ValidPath(name) {
		return nil, fmt.Errorf("it is not beside the notebook")
	}
	f, err := files.Open(name)
	if err != nil {
		return nil, fmt.Errorf("it cannot be opened; check the name, upper and lower case too")
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestImage+1))
	if err != nil {
		return nil, fmt.Errorf("it cannot be read")
	}
	if len(data) > largestImage {
		return nil, fmt.Errorf("it is larger than %d MB; make it smaller", largestImage>>20)
	}
	return data, nil
}
