package balance

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// printedTable gathers the entries of a printed table by their names.
type printedTable struct {
	entries []Entry
	at      map[string]int
}

func (p *printedTable) add(name string, value, half float64) int {
	p.at[name] = len(p.entries)
	p.entries = append(p.entries, Entry{name, value, half})
	return len(p.entries) - 1
}

// blastFurnace lays out Table X of Levy 1912: what was charged, each weight
// times grade a content, and the totals of every column.
func blastFurnace(t testing.TB) (p printedTable, rs []Relation) {
	rows := checkdata.Rows(t, "balance/blast_furnace_1912.csv")
	head := rows[0]
	p = printedTable{at: map[string]int{}}
	sums := map[string]*Relation{}
	for _, r := range rows[1:20] {
		total := strings.HasPrefix(r[0], "TOTAL")
		column := func(h string, i int) {
			if sums[h] == nil {
				sums[h] = &Relation{Name: h}
			}
			sign := 1.0
			if total {
				sign = -1
			}
			sums[h].Terms = append(sums[h].Terms, Product{sign, []int{i}})
		}
		tons := p.add(r[0]+" tons", checkdata.Number(t, r[1]), 0.5)
		column("tons", tons)
		for k := 2; k < len(head); k += 2 {
			if r[k+1] == "" {
				continue
			}
			content := p.add(r[0]+" "+head[k+1], checkdata.Number(t, r[k+1]), 0.5)
			column(head[k+1], content)
			if r[k] == "" {
				continue
			}
			half, factor := 0.005, 0.01
			if head[k] == "Cu_pct" {
				half, factor = 0.0005, 20
			}
			grade := p.add(r[0]+" "+head[k], checkdata.Number(t, r[k]), half)
			rs = append(rs, Relation{r[0] + " " + head[k], []Product{{factor, []int{tons, grade}}, {-1, []int{content}}}})
		}
	}
	for _, h := range append([]string{"tons"}, head...) {
		if sums[h] != nil && (h != "tons" || len(rs) > 0) {
			rs = append(rs, *sums[h])
			delete(sums, h)
		}
	}
	return p, rs
}

// The 1912 balance has two plain misprints: 7891 tons of converter cleanings,
// which three of its contents and the total of the column say should be 7981,
// and 65.0 % FeO of slimes for 6.50. The check finds them and, beside, five
// products that are off by about one in the last place; there it cannot tell the
// grade from the content.
func TestMisprintsOf1912(t *testing.T) {
	p, rs := blastFurnace(t)
	found, unexplained, err := CheckSums(p.entries, rs)
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]Misfit{}
	for _, m := range found {
		by[p.entries[m.Entry].Name] = m
	}
	tons := by["Converter cleanings tons"]
	if tons.Slip != "two digits transposed" || tons.Should[0] > 7981 || tons.Should[1] < 7981 || tons.Should[1]-tons.Should[0] > 1.5 || len(tons.Mends) != 4 || len(tons.Or) != 0 {
		t.Errorf("converter cleanings: %+v", tons)
	}
	slimes := by["Slimes from old works FeO_pct"]
	if slimes.Slip != "decimal point" || len(slimes.Or) != 0 {
		t.Errorf("slimes: %+v", slimes)
	}
	plain := 0
	for _, m := range found {
		if len(m.Or) == 0 {
			plain++
		}
	}
	if plain != 2 || len(unexplained) != 0 || len(found) != 7 {
		t.Errorf("%d misfits, unexplained %v", len(found), unexplained)
	}
}

// chargingLog lays out Table XI of Levy 1912: charges by hour and type, with
// the printed totals of hours and of the day.
func chargingLog(t testing.TB) ([]Entry, []Relation) {
	rows := checkdata.Rows(t, "balance/charging_log_1912.csv")
	p := printedTable{at: map[string]int{}}
	day := []float64{28, 12, 14, 8}
	columns := make([]Relation, 4)
	var rs []Relation
	for _, r := range rows[1:] {
		row := Relation{Name: r[0]}
		for k := range 4 {
			i := p.add(r[0]+" "+rows[0][k+1], checkdata.Number(t, r[k+1]), 0)
			row.Terms = append(row.Terms, Product{1, []int{i}})
			columns[k].Terms = append(columns[k].Terms, Product{1, []int{i}})
		}
		row.Terms = append(row.Terms, Product{-1, []int{p.add(r[0]+" total", checkdata.Number(t, r[5]), 0)}})
		rs = append(rs, row)
	}
	for k := range columns {
		columns[k].Name = rows[0][k+1]
		columns[k].Terms = append(columns[k].Terms, Product{-1, []int{p.add("day "+rows[0][k+1], day[k], 0)}})
	}
	return p.entries, append(rs, columns...)
}

// The printed log has no misprint; any one entry changed is found, with what it
// should be.
func TestOneSlipInALog(t *testing.T) {
	entries, rs := chargingLog(t)
	found, unexplained, err := CheckSums(entries, rs)
	if err != nil || len(found)+len(unexplained) != 0 {
		t.Fatalf("as printed: %v, %v, %v", found, unexplained, err)
	}
	r := rand.New(rand.NewPCG(1, 9))
	for i := range entries {
		if strings.Contains(entries[i].Name, "total") || strings.HasPrefix(entries[i].Name, "day") {
			continue // stands in one sum only, so that nothing can tell it from the others there
		}
		wrong := slices.Clone(entries)
		wrong[i].Value += 1 + float64(r.IntN(9))
		found, unexplained, err := CheckSums(wrong, rs)
		if err != nil || len(found) != 1 || found[0].Entry != i || len(found[0].Or) != 0 || len(unexplained) != 0 {
			t.Errorf("%s as %v: %+v, %v, %v", entries[i].Name, wrong[i].Value, found, unexplained, err)
			continue
		}
		checkdata.Near(t, entries[i].Name, found[0].Should[0], entries[i].Value, 1e-9)
		checkdata.Near(t, entries[i].Name, found[0].Should[1], entries[i].Value, 1e-9)
	}
}

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		printed, should float64
		want            string
	}{{7891, 7981, "two digits transposed"}, {65, 6.5, "decimal point"}, {1.23, 123, "decimal point"}, {435, 485, "one digit"}, {5, -5, "sign"}, {1234, 4321, ""}} {
		if got := slip(c.printed, [2]float64{c.should - 1e-6, c.should + 1e-6}); got != c.want {
			t.Errorf("%g for %g: %q, want %q", c.printed, c.should, got, c.want)
		}
	}
	if _, _, err := CheckSums([]Entry{{"a", 1, 0}}, []Relation{{"r", []Product{{1, []int{3}}}}}); err == nil {
		t.Error("an entry that is not there")
	}
}
