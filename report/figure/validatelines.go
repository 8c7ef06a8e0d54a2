package figure

import (
	"errors"
	"fmt"
	"math"
)

func (c *Curves) validate(groups int) error {
	if err := c.X.validate(); err != nil {
		return err
	}
	if err := c.Y.validate(); err != nil {
		return err
	}
	for _, r := range c.References {
		if err := r.validate(c.X); err != nil {
			return err
		}
	}
	for _, r := range c.Levels {
		if err := r.validate(c.Y); err != nil {
			return err
		}
	}
	for _, page := range c.Pages {
		if err := inRange("group", page.Group, groups); err != nil {
			return err
		}
		for _, line := range page.Lines {
			if err := c.Frame().validate(line.X, line.Y, 2); err != nil {
				return fmt.Errorf("sample %q: %w", line.Sample, err)
			}
			if c.Frame().Clip(line.X, line.Y) == nil {
				return fmt.Errorf("sample %q: no part of the line lies within the axes %q and %q", line.Sample, c.X.Label, c.Y.Label)
			}
		}
	}
	return nil
}

func (d *Diagram) validate(groups int) error {
	if err := d.X.validate(); err != nil {
		return err
	}
	if err := d.Y.validate(); err != nil {
		return err
	}
	for _, line := range d.Lines {
		if err := d.Frame().validate(line.X, line.Y, 2); err != nil {
			return fmt.Errorf("line %q: %w", line.Label, err)
		}
		if line.Style < 0 {
			return fmt.Errorf("line %q: style %d is negative", line.Label, line.Style)
		}
		if d.Frame().Clip(line.X, line.Y) == nil {
			return fmt.Errorf("line %q: no part of it lies within the axes %q and %q", line.Label, d.X.Label, d.Y.Label)
		}
	}
	for _, region := range d.Regions {
		if region.Label == "" {
			return fmt.Errorf("a region has no name")
		}
		if err := d.Frame().validate(region.X, region.Y, 3); err != nil {
			return fmt.Errorf("region %q: %w", region.Label, err)
		}
		if d.Frame().Area(region.X, region.Y) == nil {
			return fmt.Errorf("region %q: no part of it lies within the axes %q and %q", region.Label, d.X.Label, d.Y.Label)
		}
	}
	for _, s := range d.Boxes {
		if err := s.validate(d, groups); err != nil {
			return fmt.Errorf("window of %q: %w", s.Sample, err)
		}
	}
	for _, s := range d.Points {
		if err := s.validate(d, groups); err != nil {
			return fmt.Errorf("sample %q: %w", s.Sample+s.Name, err)
		}
	}
	return nil
}

func (s Span) validate(d *Diagram, groups int) error {
	if err := inRange("group", s.Group, groups); err != nil {
		return err
	}
	switch {
	case !finite(s.X0) || !finite(s.X1) || s.X0 > s.X1:
		return fmt.Errorf("%v to %v is not a range on the axis %q", s.X0, s.X1, d.X.Label)
	case math.IsNaN(s.From) || math.IsNaN(s.To) || s.From > s.To:
		return fmt.Errorf("%v to %v is not a range on the axis %q", s.From, s.To, d.Y.Label)
	case s.X1 < d.X.Min || s.X0 > d.X.Max:
		return fmt.Errorf("%g to %g lies outside the axis %q from %g to %g", s.X0, s.X1, d.X.Label, d.X.Min, d.X.Max)
	case s.To < d.Y.Min || s.From > d.Y.Max:
		return fmt.Errorf("%g to %g lies outside the axis %q from %g to %g", s.From, s.To, d.Y.Label, d.Y.Min, d.Y.Max)
	}
	return nil
}

// validate checks the points of a line or polygon; they may lie off the axes.
func (f Frame) validate(xs, ys []float64, least int) error {
	if len(xs) != len(ys) {
		return fmt.Errorf("%d values on the axis %q and %d on %q", len(xs), f.X.Label, len(ys), f.Y.Label)
	}
	if len(xs) < least {
		return fmt.Errorf("%d points where at least %d are needed", len(xs), least)
	}
	for i := range xs {
		if err := errors.Join(f.X.places(xs[i]), f.Y.places(ys[i])); err != nil {
			return fmt.Errorf("point %d: %w", i+1, err)
		}
	}
	return nil
}

// places tells whether a value has a place on the axis or its continuation.
func (a Axis) places(v float64) error {
	switch {
	case !finite(v):
		return fmt.Errorf("value %v on the axis %q is not a finite number", v, a.Label)
	case a.Log && v <= 0:
		return fmt.Errorf("value %g has no place on the logarithmic axis %q", v, a.Label)
	case !(math.Abs(a.Fraction(v)) < farthest):
		return fmt.Errorf("value %g lies too far off the axis %q from %g to %g", v, a.Label, a.Min, a.Max)
	}
	return nil
}

// farthest is how many lengths of its axis a point may lie away, so that
// cutting at the frame keeps its digits.
const farthest = 1e6
