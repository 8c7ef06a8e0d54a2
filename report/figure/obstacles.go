package figure

// obstacles are the places of marks and error bars that lettering avoids.
func (f *facingSheet) obstacles() []box {
	var out []box
	for page := range 2 {
		for i, m := range f.body.Pages[page].Marks {
			at := f.at(page, i, m.Value)
			out = append(out, around(at, markRadius+1.2))
			if lo, hi, ok := f.geometry.Bar(m); ok {
				out = append(out, uprightBox(at.X-2, f.y(lo)-1, at.X+2, f.y(hi)+1))
			}
			if len(f.body.Stack) > 0 {
				w := f.barWidth(page) / 2
				out = append(out, uprightBox(at.X-w, f.foot, at.X+w, at.Y))
			}
			if m.Limit {
				out = append(out, uprightBox(at.X-2, at.Y-11, at.X+2, at.Y))
			}
		}
	}
	return out
}
