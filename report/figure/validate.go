package figure

import (
	"errors"
	"fmt"
	"math"
	"regexp"
)

var idPattern = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9-]*$`)

// Validate reports the first thing that cannot be drawn: a number that is not
// finite, a place outside its axis or triangle, an index out of range. Both
// drawings call it first.
func (f Figure) Validate() error {
	if err := f.validate(); err != nil {
		return fmt.Errorf("figure %q: %w", f.ID, err)
	}
	return nil
}

func (f Figure) validate() error {
	if !idPattern.MatchString(f.ID) {
		return errors.New("the id must start with a letter and hold only letters, digits and hyphens")
	}
	switch body := f.Body.(type) {
	case *Ternary:
		if body == nil {
			return errors.New("the ternary body is nil")
		}
		return body.validate(len(f.Groups))
	case *Facing:
		if body == nil {
			return errors.New("the facing body is nil")
		}
		return body.validate(len(f.Groups))
	case *Profile:
		if body == nil {
			return errors.New("the profile body is nil")
		}
		return body.validate(len(f.Groups))
	case *Curves:
		if body == nil {
			return errors.New("the curves body is nil")
		}
		return body.validate(len(f.Groups))
	case *Diagram:
		if body == nil {
			return errors.New("the diagram body is nil")
		}
		return body.validate(len(f.Groups))
	case *Bands:
		if body == nil {
			return errors.New("the bands body is nil")
		}
		return body.validate()
	case *Intervals:
		if body == nil {
			return errors.New("the intervals body is nil")
		}
		return body.validate()
	case *Plan:
		if body == nil {
			return errors.New("the plan body is nil")
		}
		return body.validate()
	}
	return errors.New("there is no body to draw")
}

func (t *Ternary) validate(groups int) error {
	for _, p := range t.Points {
		if err := inRange("group", p.Group, groups); err != nil {
			return fmt.Errorf("sample %q: %w", p.Sample, err)
		}
		if err := p.At.validate(); err != nil {
			return fmt.Errorf("sample %q: %w", p.Sample, err)
		}
		if !(Triangle{}).Contains(p.At) {
			return fmt.Errorf("sample %q: shares %v are not all at least zero", p.Sample, p.At)
		}
	}
	for _, iso := range t.Isotherms {
		if !finite(iso.TC) {
			return fmt.Errorf("isotherm at %v °C: the temperature must be a finite number", iso.TC)
		}
		for _, s := range iso.Line {
			if err := s.validate(); err != nil {
				return fmt.Errorf("isotherm at %g °C: %w", iso.TC, err)
			}
		}
	}
	for i, line := range t.Boundaries {
		for _, s := range line {
			if err := s.validate(); err != nil {
				return fmt.Errorf("boundary %d: %w", i+1, err)
			}
		}
	}
	for _, label := range t.Fields {
		if err := label.At.validate(); err != nil {
			return fmt.Errorf("field %q: %w", label.Text, err)
		}
		if !(Triangle{}).Contains(label.At) || !finite(label.Area) {
			return fmt.Errorf("field %q: its name does not lie in the triangle", label.Text)
		}
	}
	return nil
}

func (s Share) validate() error {
	if !finite(s[0]) || !finite(s[1]) || !finite(s[2]) {
		return fmt.Errorf("shares %v must be finite numbers", s)
	}
	if sum := s[0] + s[1] + s[2]; math.Abs(sum-1) > sumSlack {
		return fmt.Errorf("shares %v add to %g and not to 1", s, sum)
	}
	return nil
}

func (a Axis) validate() error {
	switch {
	case !finite(a.Min) || !finite(a.Max):
		return fmt.Errorf("axis %q: its ends %v and %v must be finite numbers", a.Label, a.Min, a.Max)
	case a.Min >= a.Max:
		return fmt.Errorf("axis %q: its lower end %g is not below its upper end %g", a.Label, a.Min, a.Max)
	case a.Log && a.Min <= 0:
		return fmt.Errorf("axis %q: a logarithmic axis cannot start at %g", a.Label, a.Min)
	case math.Abs(a.Max-a.Min) < 1e-12*math.Max(math.Abs(a.Max), math.Abs(a.Min)):
		return fmt.Errorf("axis %q: its ends %v and %v are too close", a.Label, a.Min, a.Max)
	}
	return nil
}

func (a Axis) holds(v float64) error {
	slack := 1e-9 * (a.Max - a.Min)
	if !finite(v) {
		return fmt.Errorf("value %v is not a finite number", v)
	}
	if v < a.Min-slack || v > a.Max+slack || a.Log && v <= 0 {
		return fmt.Errorf("value %g lies outside the axis %q from %g to %g", v, a.Label, a.Min, a.Max)
	}
	return nil
}

func (b *Facing) validate(groups int) error {
	if err := b.Axis.validate(); err != nil {
		return err
	}
	for _, r := range b.References {
		if err := r.validate(b.Axis); err != nil {
			return err
		}
	}
	for _, page := range b.Pages {
		if err := inRange("group", page.Group, groups); err != nil {
			return err
		}
		for _, m := range page.Marks {
			if err := m.validate(b.Axis, b.Stack); err != nil {
				return fmt.Errorf("sample %q: %w", m.Sample, err)
			}
		}
	}
	return nil
}

func (r Reference) validate(a Axis) error {
	if !finite(r.From) || !finite(r.To) || r.From > r.To {
		return fmt.Errorf("reference %q: %v to %v is not a range", r.Label, r.From, r.To)
	}
	if r.To < a.Min || r.From > a.Max {
		return fmt.Errorf("reference %q: %g to %g lies outside the axis from %g to %g", r.Label, r.From, r.To, a.Min, a.Max)
	}
	return nil
}

func (m Mark) validate(axis Axis, stack []string) error {
	if err := axis.holds(m.Value); err != nil {
		return err
	}
	if math.IsInf(m.U, 0) || m.U < 0 {
		return fmt.Errorf("uncertainty %v must be a positive number or NaN for unknown", m.U)
	}
	if e := m.Ends; e != nil && !(finite(e.Lo) && finite(e.Hi) && e.Lo <= m.Value && m.Value <= e.Hi) {
		return fmt.Errorf("an error bar from %v to %v does not hold the value %v", e.Lo, e.Hi, m.Value)
	}
	if len(m.Stack) != len(stack) {
		return fmt.Errorf("%d parts where the figure has %d", len(m.Stack), len(stack))
	}
	sum := 0.0
	for i, part := range m.Stack {
		if !finite(part) || part < 0 {
			return fmt.Errorf("part %q: height %v must be a number of at least zero", stack[i], part)
		}
		sum += part
	}
	if len(stack) == 0 {
		return nil
	}
	if axis.Log || axis.Min != 0 {
		return fmt.Errorf("stacked bars need an axis %q that is even and starts at zero", axis.Label)
	}
	if math.Abs(sum-m.Value) > sumSlack*math.Max(1, math.Abs(m.Value)) {
		return fmt.Errorf("the parts add to %g and not to the value %g", sum, m.Value)
	}
	return nil
}

func (p *Profile) validate(groups int) error {
	if err := p.Axis.validate(); err != nil {
		return err
	}
	for side, g := range p.Pages {
		if err := inRange("group", g, groups); err != nil {
			return err
		}
		for _, row := range p.Rows {
			for _, m := range row.Marks[side] {
				if err := m.validate(p.Axis, nil); err != nil {
					return fmt.Errorf("%s of sample %q: %w", row.Label, m.Sample, err)
				}
			}
			if mid := row.Middle[side]; !math.IsNaN(mid) {
				if err := p.Axis.holds(mid); err != nil {
					return fmt.Errorf("median of %s: %w", row.Label, err)
				}
			}
		}
	}
	return nil
}

func inRange(what string, i, n int) error {
	if i < 0 || i >= n {
		return fmt.Errorf("%s %d is not one of the figure's %d", what, i, n)
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
