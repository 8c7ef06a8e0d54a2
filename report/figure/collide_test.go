package figure_test

import (
	"fmt"
	"strings"
	"testing"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

// No text of a drawing may overlap another or leave the figure, at any of the
// usual widths, with many samples, few samples, none, and with long names.
func TestLetteringNeverCollides(t *testing.T) {
	var figures []figure.Figure
	for _, n := range [][2]int{{14, 12}, {1, 1}, {0, 3}, {0, 0}, {60, 45}} {
		figures = append(figures, figuretest.Ternary(n[0], n[1]), figuretest.Facing(n[0], n[1]),
			figuretest.Stacked(n[0], n[1]), figuretest.Profile(n[0], n[1]),
			figuretest.Melted(n[0], n[1]), figuretest.Viscosity(n[0], n[1]), figuretest.Diagram(n[0], n[1]), figuretest.Biplot(n[0], n[1]), figuretest.Effects(n[0], 1+n[1]%5))
	}
	figures = append(figures, figuretest.Hostile(strings.Repeat("a long name in several words ", 4))...)
	figures = append(figures, figuretest.Hostile(strings.Repeat("Onelongword", 9))...)
	for i, f := range figures {
		for _, mm := range []float64{figure.MinWidthMM, 90, 140, 180, 190, figure.MaxWidthMM} {
			t.Run(fmt.Sprintf("%s-%d/%v", f.ID, i, mm), func(t *testing.T) {
				figure.CheckLettering(t, f, mm)
			})
		}
	}
}
