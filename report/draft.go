package report

import (
	"context"
	"fmt"
	"io"

	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// Draft is a report that is written again and again while its prose changes.
// Entries are made anew only when the study, the notebook's first lines or the
// entries themselves have changed. The zero value has nothing yet.
type Draft struct {
	study *study.Study
	frame string
	made  assembled
}

// Write is the function Write, with whatever of the last report still holds. The
// same study has to be the same pointer.
func (d *Draft) Write(ctx context.Context, w io.Writer, s *study.Study, n *notebook.Notebook, o Options) (source.Notices, error) {
	if frame := n.Frame(); d.study != s || d.frame != frame {
		*d = Draft{}
		made, err := assemble(ctx, s, n)
		if err != nil {
			return made.builder.notices, err
		}
		if made.builder.notices.Failed() { // they name lines, which prose moves
			b, _ := made.document(n, o)
			return b.notices, nil
		}
		*d = Draft{s, frame, made}
	}
	b, doc := d.made.document(n, o)
	if b.notices.Failed() {
		return b.notices, nil
	}
	if err := page.Render(w, doc, o.Assets); err != nil {
		return b.notices, fmt.Errorf("writing the page: %w", err)
	}
	return b.notices, nil
}
