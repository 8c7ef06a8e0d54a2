package audit

import (
	"slices"

	"smeltbook/assay/source"
)

// Lacking is what a method was not tested by.
type Lacking struct {
	Method string
	What   []string // "reference material", "duplicate of a sample", "blank"
}

// Lacking lists the methods that something is missing for.
func (a *Audit) Lacking() (out []Lacking) {
	for _, m := range a.methods() {
		l := Lacking{Method: m}
		if !slices.ContainsFunc(a.References, func(r Reference) bool { return r.Method == m }) {
			l.What = append(l.What, "reference material")
		}
		if !slices.ContainsFunc(a.Repeats, func(r Repeat) bool { return r.Method == m && r.Control == "" }) {
			l.What = append(l.What, "duplicate of a sample")
		}
		if !slices.ContainsFunc(a.Blanks, func(b Blank) bool { return b.Method == m }) {
			l.What = append(l.What, "blank")
		}
		if len(l.What) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// Words lists what is missing: "no blank and no duplicate of a sample".
func (l Lacking) Words() string {
	var out []string
	for _, w := range l.What {
		out = append(out, "no "+w)
	}
	return joined(out)
}

func (a *Audit) tellLacking(ns *source.Notices) {
	for _, l := range a.Lacking() {
		ns.Add(source.Note, "NO_CONTROLS", source.Cell{}, "by %s there is %s, so that side of its results is the laboratory's word; ask for its control results, or send a reference material and a blank in every ten to twenty samples and one sample in ten twice", l.Method, l.Words())
	}
}
