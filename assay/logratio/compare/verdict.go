package compare

import (
	"fmt"
	"math"
	"strings"
)

// Sentence is the result in one plain sentence, no more than the samples carry.
func (r Result) Sentence() string {
	e := r.Equivalence
	who := fmt.Sprintf("%s (%s) and %s (%s)", r.Names[0], samples(r.N[0]), r.Names[1], samples(r.N[1]))
	if math.IsNaN(e.Scatter) || e.Scatter == 0 {
		return fmt.Sprintf("Nothing can be said of %s: one sample of %s has no scatter to measure by.", who, r.Names[1])
	}
	apart := fmt.Sprintf("the centres of %s lie %s of the piece-to-piece scatter of %s apart", who, figures(e.Ratio()), r.Names[1])
	most := "; with so few samples there is no upper bound to that"
	if !math.IsInf(e.Up, 1) {
		most = fmt.Sprintf(" and at most %s (95 %%)", figures(e.Up/e.Scatter))
	}
	margin := fmt.Sprintf("the margin of %s", figures(e.Margin))
	differ := r.Location.P <= Alpha
	p := PText(r.Location.P)
	switch {
	case e.Verdict == Alike && !differ:
		return fmt.Sprintf("%s is alike to %s within %s: %s%s, and no difference shows (%s).", upper(r.Names[0]), r.Names[1], margin, apart, most, p)
	case e.Verdict == Alike:
		return fmt.Sprintf("%s differs from %s (%s), but by less than %s: %s%s.", upper(r.Names[0]), r.Names[1], p, margin, apart, most)
	case e.Verdict == AlikeHere && differ:
		return fmt.Sprintf("%s differs from %s (%s), but by less than %s as the scatter of these pieces goes: %s%s; the scatter of the whole site may be as small as %s of theirs, and then that is not shown.", upper(r.Names[0]), r.Names[1], p, margin, apart, most, figures(e.ScatterLow/e.Scatter))
	case e.Verdict == AlikeHere:
		return fmt.Sprintf("%s is alike to %s within %s as the scatter of these pieces goes: %s%s; the scatter of the whole site may be as small as %s of theirs, and then it is not shown.", upper(r.Names[0]), r.Names[1], margin, apart, most, figures(e.ScatterLow/e.Scatter))
	case e.Verdict == Different:
		return fmt.Sprintf("%s differs from %s by more than %s: %s, at least %s (95 %%; %s).", upper(r.Names[0]), r.Names[1], margin, apart, figures(e.Low/e.Scatter), p)
	case differ:
		return fmt.Sprintf("%s differs from %s (%s), but whether by more or less than %s is not shown: %s%s.", upper(r.Names[0]), r.Names[1], p, margin, apart, most)
	}
	return fmt.Sprintf("Neither a difference (%s) nor likeness within %s is shown: %s%s.", p, margin, apart, most)
}

// Limits are what the reader has to know to read the sentence, a sentence each.
func (r Result) Limits() []string {
	var out []string
	l := r.Location
	if l.Smallest > Alpha {
		out = append(out, fmt.Sprintf("Samples so few can never give p below %s: a difference cannot be shown with them, however large it is.", figures(l.Smallest)))
	} else if l.Exact {
		out = append(out, fmt.Sprintf("The p is exact over all %d ways to deal the samples out; %s is the least that could come out.", l.Count, figures(l.Smallest)))
	} else {
		out = append(out, fmt.Sprintf("The p is from %d ways at random to deal the samples out.", l.Count))
	}
	if text := r.pieces(); text != "" {
		out = append(out, text)
	}
	if e := r.Equivalence; !math.IsNaN(e.ScatterLow) {
		out = append(out, fmt.Sprintf("Two such groups from one source would lie about %s of that scatter apart by chance; the scatter itself is known within the factors %s and %s.", figures(e.Chance/e.Scatter), figures(e.ScatterLow/e.Scatter), figures(e.ScatterUp/e.Scatter)))
	}
	switch d := r.Dispersion; {
	case d.Why != "":
		out = append(out, "Whether the groups spread alike is not tested: "+d.Why+".")
	case d.P <= Alpha:
		out = append(out, fmt.Sprintf("The groups do not spread alike (%s), so that a small p of location may come from spread as much as from place.", PText(d.P)))
	}
	if u := r.Uncertainty; u != nil {
		out = append(out, "With the analyses drawn anew within their uncertainty, and values below detection anywhere below, "+u.text())
	}
	if text := r.swing(); text != "" {
		out = append(out, text)
	}
	if text := r.pull(); text != "" {
		out = append(out, text)
	}
	return out
}

// text says how p moves; p at the least that the relabellings of a draw can show
// may be less.
func (u *Uncertainty) text() string {
	of := fmt.Sprintf("(95 %% of %d draws)", u.Draws)
	switch atLeast := 1.001 * u.Least; {
	case u.P.High <= atLeast:
		return fmt.Sprintf("p stays at %s or below %s.", figures(u.Least), of)
	case u.P.Low <= atLeast:
		return fmt.Sprintf("p runs from %s or less to %s %s.", figures(u.Least), figures(u.P.High), of)
	}
	return fmt.Sprintf("p runs from %s to %s %s.", figures(u.P.Low), figures(u.P.High), of)
}

// pieces says what becomes of the answer when each firing counts once.
func (r Result) pieces() string {
	for _, v := range r.Sensitivity {
		if v.Changed != "units" || v.Why != "" {
			continue
		}
		var who []string
		for g := range 2 {
			if r.Units[g] < r.N[g] {
				who = append(who, fmt.Sprintf("the %d samples of %s are pieces of %d", r.N[g], r.Names[g], r.Units[g]))
			}
		}
		return fmt.Sprintf("%s firings, and pieces of one firing are no independent witnesses: with one mean for each, %s.", upper(strings.Join(who, " and ")), PText(v.P))
	}
	return ""
}

// swing says whether the choice of parts or replacement turns the answer.
func (r Result) swing() string {
	least, most := Swing(r.Sensitivity)
	if (least.P <= Alpha) == (most.P <= Alpha) {
		return ""
	}
	return fmt.Sprintf("The answer hangs on what is counted: %s gives %s, %s gives %s.", least.named(), PText(least.P), most.named(), PText(most.P))
}

func (v Variant) named() string {
	switch v.Changed {
	case "":
		return "the question as asked"
	case "replacement":
		return "replacing by " + v.Label
	}
	return v.Label
}

// pull says whether one sample turns the answer.
func (r Result) pull() string {
	var turned []string
	for _, x := range r.Influence {
		if (x.P <= Alpha) != (r.Location.P <= Alpha) {
			turned = append(turned, fmt.Sprintf("%s (%s)", x.Sample, PText(x.P)))
		}
	}
	switch {
	case len(turned) == 0:
		return ""
	case len(turned) > 4:
		return fmt.Sprintf("Leaving out any one of %d samples turns the answer about a difference.", len(turned))
	}
	return "Leaving out one sample turns the answer about a difference: " + strings.Join(turned, ", ") + "."
}

func samples(n int) string {
	if n == 1 {
		return "1 sample"
	}
	return fmt.Sprintf("%d samples", n)
}

// PText writes p.
func PText(p float64) string {
	switch {
	case math.IsNaN(p):
		return "no p"
	case p > 0 && p < 0.0001:
		return "p < 0.0001"
	}
	return "p = " + figures(p)
}

// figures writes a number to two figures.
func figures(x float64) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Sprint(x)
	}
	places := max(1-int(math.Floor(math.Log10(math.Abs(x)))), 0)
	return fmt.Sprintf("%.*f", places, x)
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
