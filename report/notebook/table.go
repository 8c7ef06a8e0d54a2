package notebook

import (
	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
)

// registerTable takes over tables: their head cells name a column, and the
// table stands in a box of its own so that a wide one scrolls by itself.
func (w *proseRenderer) registerTable(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(east.KindTable, func(out util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			_, _ = out.WriteString("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"table\"><table class=\"prose\">\n")
			return ast.WalkContinue, nil
		}
		_, _ = out.WriteString("</table></div>\n")
		return ast.WalkContinue, nil
	})
	reg.Register(east.KindTableCell, func(out util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
		tag, attributes := "td", ""
		if node.Parent().Kind() == east.KindTableHeader {
			tag, attributes = "th", ` scope="col"`
		}
		if !entering {
			_, _ = out.WriteString("</" + tag + ">\n")
			return ast.WalkContinue, nil
		}
		if a := node.(*east.TableCell).Alignment; a != east.AlignNone {
			attributes += ` style="text-align:` + a.String() + `"`
		}
		_, _ = out.WriteString("<" + tag + attributes + ">")
		return ast.WalkContinue, nil
	})
}
