package report

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"smeltbook/assay/source"
)

// sampleNotices gathers the notices of many samples. Sentences that differ in
// their numbers only are told once, with the range of each number and the
// samples they are about.
type sampleNotices struct {
	order []string
	by    map[string]*gathered
}

type gathered struct {
	notice  source.Notice
	pieces  []string // the sentence between its numbers
	numbers [][2]string
	samples []string
}

// freeNumber matches numbers that stand by themselves, not those in formulas,
// with the digit groups and signs that notices use; those behind ± count too.
var freeNumber = regexp.MustCompile(`(^|[\s(±])(−?\d+(?:\.\d+)?)\b`)

func (g *sampleNotices) add(sample string, ns source.Notices) {
	if g.by == nil {
		g.by = map[string]*gathered{}
	}
	for _, n := range ns {
		pieces, numbers := takeApart(n.Message)
		key := n.Code + "\x00" + strings.Join(pieces, "\x00")
		x := g.by[key]
		if x == nil {
			x = &gathered{notice: n, pieces: pieces}
			for _, number := range numbers {
				x.numbers = append(x.numbers, [2]string{number, number})
			}
			g.by[key] = x
			g.order = append(g.order, key)
		}
		for i, number := range numbers {
			x.widen(i, number)
		}
		if len(x.samples) == 0 || x.samples[len(x.samples)-1] != sample {
			x.samples = append(x.samples, sample)
		}
	}
}

// takeApart cuts a sentence at its free numbers.
func takeApart(sentence string) (pieces, numbers []string) {
	last := 0
	for _, m := range freeNumber.FindAllStringSubmatchIndex(sentence, -1) {
		pieces = append(pieces, sentence[last:m[4]])
		numbers = append(numbers, sentence[m[4]:m[5]])
		last = m[5]
	}
	return append(pieces, sentence[last:]), numbers
}

func (x *gathered) widen(i int, number string) {
	value := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.Replace(s, "−", "-", 1), 64)
		if err != nil {
			return 0
		}
		return v
	}
	if value(number) < value(x.numbers[i][0]) {
		x.numbers[i][0] = number
	}
	if value(number) > value(x.numbers[i][1]) {
		x.numbers[i][1] = number
	}
}

func (x *gathered) sentence() string {
	var b strings.Builder
	for i, p := range x.pieces {
		b.WriteString(p)
		if i < len(x.numbers) {
			b.WriteString(x.numbers[i][0])
			switch {
			case x.numbers[i][1] == x.numbers[i][0]:
			case strings.HasPrefix(x.numbers[i][0], "−"):
				b.WriteString(" to " + x.numbers[i][1])
			default:
				b.WriteString("–" + x.numbers[i][1])
			}
		}
	}
	return b.String()
}

// list returns the notices with their samples named; total is the number of
// samples there were.
func (g *sampleNotices) list(total int) source.Notices {
	var out source.Notices
	for _, key := range g.order {
		x := g.by[key]
		who := strings.Join(x.samples, ", ")
		switch {
		case len(x.samples) == total && total > 1:
			who = fmt.Sprintf("all %d samples", total)
		case len(x.samples) > 8:
			who = fmt.Sprintf("%s and %d more", strings.Join(x.samples[:6], ", "), len(x.samples)-6)
		}
		n := x.notice
		n.Message = who + ": " + formulaText(x.sentence())
		out = append(out, n)
	}
	return out
}
