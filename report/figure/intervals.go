package figure

import (
	"errors"
	"fmt"
	"math"
)

// Intervals shows numbers with their intervals about zero, such as effects: a
// row for each cause and a panel for each result, all on one axis.
type Intervals struct {
	Axis   Axis // zero lies on it
	Rows   []string
	Panels []Panel
	Bars   string // what bars are: "95 % interval"
	Firm   string // what filled marks are; hollow ones are those that are not
}

// Panel is one result, with a bar for each row.
type Panel struct {
	Label string
	Bars  []Bar
}

// Bar is a number with its interval, cut at the axis where it goes beyond; a
// Value of NaN leaves the row empty.
type Bar struct {
	Value, Lo, Hi float64
	Firm          bool
	Details       []Detail
}

// Empty reports whether there is nothing to draw.
func (b Bar) Empty() bool { return math.IsNaN(b.Value) }

func (*Intervals) body() {}

func (b *Intervals) validate() error {
	if err := b.Axis.validate(); err != nil {
		return err
	}
	if err := b.Axis.holds(0); err != nil || b.Axis.Log {
		return errors.New("the axis of intervals has to hold zero")
	}
	if len(b.Panels) == 0 {
		return errors.New("intervals need a panel")
	}
	for _, p := range b.Panels {
		if len(p.Bars) != len(b.Rows) {
			return fmt.Errorf("panel %q has %d bars for %d rows", p.Label, len(p.Bars), len(b.Rows))
		}
		for i, x := range p.Bars {
			if x.Empty() {
				continue
			}
			if err := b.Axis.holds(x.Value); err != nil {
				return fmt.Errorf("%s of %q: %w", b.Rows[i], p.Label, err)
			}
			if !finite(x.Lo) || !finite(x.Hi) || x.Lo > x.Value || x.Hi < x.Value {
				return fmt.Errorf("%s of %q: an interval from %v to %v does not hold the value %v", b.Rows[i], p.Label, x.Lo, x.Hi, x.Value)
			}
		}
	}
	return nil
}

// intervalLook is the look of the marks: no group's, for a row is no sample.
var intervalLook = Look{Shape: Diamond, Fill: "#333333", Edge: "#000000"}

// IntervalLook is how the marks of intervals are drawn.
func IntervalLook() Look { return intervalLook }
