package main

import (
	"fmt"
	"io"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/report/caution"
	"smeltbook/report/fireplan"
)

// strongest is how many parameters are printed.
const strongest = 6

// printPlan writes a firing foreseen for people.
func printPlan(w io.Writer, p *fireplan.Plan) error {
	l := &linePrinter{w: w}
	if p.Runs() {
		foreseen := 0
		for _, r := range p.Risks {
			if r.Margin < 0 {
				foreseen++
			}
		}
		if foreseen > 0 {
			l.line("This firing should run, but %s to go wrong that would not stop it: see below.", foreseenText(foreseen))
		} else {
			l.line("This firing should run.")
		}
	} else {
		l.line("THIS FIRING WOULD NOT RUN as it is planned.")
	}
	if p.Load.Kg > 0 {
		l.line("  charged: %.2f kg of ore and flux that take %.1f MJ (%s)", p.Load.Kg, p.Load.HeatMJ, p.Load.From)
	} else {
		l.line("  nothing is charged: %s", p.Load.From)
	}
	l.line("")
	t := newColumns(l)
	for _, x := range p.Values() {
		t.row("  "+x.Name, x.Text)
	}
	t.flush()
	l.line("")
	l.line("What goes wrong first (margin in standard uncertainties; below 0 it is foreseen)")
	for _, r := range p.Risks {
		stops := ""
		if r.Stops && r.Margin < 0 {
			stops = " STOPS IT."
		}
		l.line("  %+.1f  %s.%s", r.Margin, r.Says, stops)
		if r.Margin < 2 {
			l.line("        helps: %s", r.Do)
		}
	}
	l.line("")
	s := p.State
	l.line("Where the heat goes, in the middle of charging, of %.1f kW", s.Released/1000)
	t = newColumns(l)
	for _, x := range []struct {
		name  string
		watts float64
	}{{"gas", s.GasOff}, {"wall and ground", s.Wall}, {"open top", s.Top}, {"charge", s.Charge}, {"water of the charcoal", s.Water}} {
		t.row("  "+x.name, fmt.Sprintf("%.1f kW", x.watts/1000), fmt.Sprintf("%.0f %%", 100*x.watts/s.Released))
	}
	t.flush()
	l.line("")
	l.line("The same with bowls of other sizes, for %.0f °C before the pipe", p.WorkingTC)
	t = newColumns(l)
	t.row("  across, cm", "air, L/min", "charcoal, kg/h", "wall and top take")
	for _, x := range p.Sizes {
		row := []string{fmt.Sprintf("  %.0f", 100*x.Diameter), "none is enough"}
		if !math.IsNaN(x.Air) {
			row = []string{row[0], fmt.Sprintf("%.0f", x.Air), fmt.Sprintf("%.2f", x.CharcoalKgH), fmt.Sprintf("%.0f %%", 100*x.LossShare)}
		}
		t.row(row...)
	}
	t.flush()
	l.line("")
	l.line("What the temperature before the pipe hangs on (share of its variance, alone and with the others)")
	t = newColumns(l)
	for _, x := range p.Effects()[:strongest] {
		t.row("  "+x.Label, quantity.WithU(x.Value, x.U, x.Unit, x.Source).WithUnit(), fmt.Sprintf("%.2f", max(x.First, 0)), fmt.Sprintf("%.2f", x.Total))
	}
	t.flush()
	printBuilding(l, p)
	printLogs(l, p.Logs)
	l.line("")
	l.line("Cautions: %s", caution.Behind)
	for _, c := range p.Cautions {
		l.line("  %s", c)
	}
	l.line("")
	for _, n := range p.Notices {
		l.line("%s: %s", n.Severity, n.Error())
	}
	for _, a := range p.Assumed {
		l.line("assumed: %s", a)
	}
	l.line("± is one standard uncertainty, from %d draws of what was measured and assumed, seed %d", p.Spread.Draws, p.Seed)
	return l.err
}

// printBuilding compares grounds, pipes and fuels.
func printBuilding(l *linePrinter, p *fireplan.Plan) {
	l.line("")
	l.line("What wall and ground take, kW, and how far behind the lining the ground is dry, mm")
	t := newColumns(l)
	head := []string{"  ground"}
	for _, h := range fireplan.Hours() {
		head = append(head, fmt.Sprintf("after %g h", h))
	}
	t.row(head...)
	for _, g := range p.Grounds {
		row := []string{"  " + g.Name}
		for i, w := range g.Watts {
			row = append(row, fmt.Sprintf("%.1f, %.0f", w/1000, 1000*g.Dried[i]))
		}
		t.row(row...)
	}
	t.flush()
	if len(p.Pipes) > 0 {
		l.line("")
		l.line("Do the bellows live? By how the air pipe is built")
		t = newColumns(l)
		t.row("  pipe", "gas of the fire in an intake", "bellows, °C", "CO in them, vol%", "")
		for _, x := range p.Pipes {
			name, lives := fmt.Sprintf("  %d pieces", x.Pieces), "ruined"
			if x.Pieces == 1 {
				name = "  one piece"
			}
			if x.Valve {
				name += " and a valve"
			}
			if x.Survives {
				lives = "live"
			}
			t.row(name, fmt.Sprintf("%.0f %%", 100*x.Share), fmt.Sprintf("%.0f", x.BellowsTC), fmt.Sprintf("%.1f", 100*x.Monoxide), lives)
		}
		t.flush()
	}
	l.line("")
	l.line("Why a closed bed of charcoal: fires of wood beside it, theirs before any wall has taken heat")
	t = newColumns(l)
	t.row("  fire", "°C", "CO/CO2", "free oxygen, vol%")
	t.row("  this bed", fmt.Sprintf("%.0f", p.State.HotTC()), fmt.Sprintf("%.2g", p.State.Ratio()), fmt.Sprintf("%.1f", 100*p.State.TopGasOxygen))
	for _, x := range p.Fires {
		t.row("  "+x.Name, fmt.Sprintf("%.0f", x.TC), fmt.Sprintf("%.2g", x.Ratio), fmt.Sprintf("%.1f", 100*x.Free))
	}
	t.flush()
}

func printLogs(l *linePrinter, logs []fireplan.Log) {
	if len(logs) == 0 {
		return
	}
	l.line("")
	l.line("Past firings: does the air that was noted burn the charcoal that was burnt?")
	t := newColumns(l)
	t.row("  firing", "air noted, L/min", "charcoal asks for", "left as CO", "")
	for _, x := range logs {
		holds := "holds together"
		if !x.Budget.Holds {
			holds = "DOES NOT HOLD"
		}
		t.row("  "+x.Run, x.Air.Text(), fmt.Sprintf("%.0f to %.0f", x.Budget.Least.Value, x.Budget.Most.Value), x.Budget.Monoxide.Text(), holds)
	}
	t.flush()
}

// foreseenText counts what is foreseen.
func foreseenText(n int) string {
	if n == 1 {
		return "one thing is foreseen"
	}
	return fmt.Sprintf("%d things are foreseen", n)
}
