package main

import (
	"io"
	"math"

	"github.com/xuri/excelize/v2"

	"smeltbook/report/plan"
	"smeltbook/report/study"
	"smeltbook/report/tables"
)

// writeChargeBook writes a plan as a workbook of values with their units, no
// formulas: what to charge, the slag, and what if.
func writeChargeBook(w io.Writer, p *plan.Plan) (err error) {
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	if err := tables.MarkBook(f); err != nil {
		return err
	}
	sheets := []struct {
		name string
		rows [][]any
	}{{"charge", chargeRows(p)}, {"slag", slagRows(p)}, {"what if", whatIfRows(p)}, {"notes", noteRows(p)}}
	for i, s := range sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.name)
		} else {
			_, err = f.NewSheet(s.name)
		}
		if err != nil {
			return err
		}
		for r, row := range s.rows {
			for c, v := range row {
				ref, err := excelize.CoordinatesToCellName(c+1, r+1)
				if err != nil {
					return err
				}
				if err := f.SetCellValue(s.name, ref, inertValue(v)); err != nil {
					return err
				}
			}
		}
		if err := f.SetColWidth(s.name, "A", "A", 28); err != nil {
			return err
		}
	}
	_, err = f.WriteTo(w)
	return err
}

// inertValue leaves numbers, blanks what is no number and neutralises text.
func inertValue(v any) any {
	switch v := v.(type) {
	case string:
		return study.InertText(v)
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
	}
	return v
}

func chargeRows(p *plan.Plan) [][]any {
	rows := [][]any{{"stock", "kind", "batch", "± scale", "all batches", "± scale", "for a kg of ore", "in store"},
		{"", "", "kg", "kg", "kg", "kg", "kg/kg", "kg"}}
	for _, x := range append(p.Weights[:len(p.Weights):len(p.Weights)], p.Fuel) {
		var store any
		if x.Store != nil {
			store = *x.Store
		}
		rows = append(rows, []any{x.Name, x.Kind, x.Batch.Value, x.Batch.U, x.Total.Value, x.Total.U, x.Share, store})
	}
	return append(rows, []any{"charcoal that the charge alone takes", "", nil, nil, p.Heat.Floor.Value, p.Heat.Floor.U}, []any{"batches", "", p.Batches})
}

func slagRows(p *plan.Plan) [][]any {
	rows := [][]any{{"of the slag", "value", "± stocks", "model", "unit", "asked", "chance", "chance with the model's error", "met"}}
	for _, o := range p.Outcomes {
		row := []any{o.Term.Name(), o.Value, o.SD, modelOf(o), o.Term.Unit()}
		if o.Asked {
			row = append(row, o.Term.String(), o.Chance, o.WithModel, o.Met())
		}
		rows = append(rows, row)
	}
	rows = append(rows, []any{"slag of a batch", p.Slag.Slag.Value, p.Slag.Slag.U, "–", "kg"}, []any{"metal of a batch", p.Slag.Metal.Value, p.Slag.Metal.U, "–", "kg"},
		[]any{"copper in the metal", p.Slag.Won.Value, p.Slag.Won.U, "–", "%"})
	for _, x := range p.Slag.Parts {
		rows = append(rows, []any{x.ID, x.Wt.Value, x.Wt.U, "–", "wt%"})
	}
	return rows
}

func whatIfRows(p *plan.Plan) [][]any {
	head, units := []any{"what if"}, []any{""}
	for _, o := range p.Outcomes {
		head, units = append(head, o.Term.Name()), append(units, o.Term.Unit())
	}
	rows := [][]any{append(head, "slag of a batch", "copper of a batch", "target", "then on target with"), append(units, "kg", "kg", "met", "")}
	for _, v := range p.WhatIf {
		row := []any{v.What}
		for _, x := range v.Values {
			row = append(row, x)
		}
		rows = append(rows, append(row, v.SlagKg, v.Won, v.Met, p.BackOnTarget(v)))
	}
	return rows
}

func noteRows(p *plan.Plan) (rows [][]any) {
	if !p.Met {
		rows = append(rows, []any{"target", "out of reach; the mixture is the nearest"})
	}
	for _, x := range p.Ways {
		rows = append(rows, []any{"what it would take", x.Text})
	}
	for _, x := range p.Cautions {
		rows = append(rows, []any{"caution", x.Text})
	}
	for _, x := range p.Notices {
		rows = append(rows, []any{x.Severity.String(), x.Error()})
	}
	for _, x := range p.Assumed {
		rows = append(rows, []any{"assumed", x})
	}
	return append(rows, []any{"draws", p.Behaviour.Draws}, []any{"seed", p.Behaviour.Seed})
}
