package refit

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

const root = "../../../.."

// TestReportIsCurrent fails when points, priors or parameters have changed
// since the page about the fit was written: its digest and every figure are
// made anew from the files, only the cross-validation being read.
func TestReportIsCurrent(t *testing.T) {
	want, err := Rewrite(root)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(root + "/" + reportFile)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("%s is not what the files give; run the command refit (-want +got):\n%s", reportFile, diff)
	}
}

// TestPointsAreApart: no point is both fitted and kept aside, and every point
// has its source and uncertainties.
func TestPointsAreApart(t *testing.T) {
	in, err := read(root)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, p := range append(in.calibration, in.validation...) {
		if seen[p.ID] {
			t.Errorf("%s is there twice", p.ID)
		}
		seen[p.ID] = true
		if p.Source == "" || p.Standing == "" || p.SigmaT <= 0 || p.SigmaWt <= 0 || len(p.Phases) == 0 || p.W == (slag.Wt{}) {
			t.Errorf("%s is incomplete: %+v", p.ID, p)
		}
	}
	for _, v := range in.validation {
		for _, c := range in.calibration {
			var d float64
			for o := range v.W {
				d = max(d, v.W[o]-c.W[o], c.W[o]-v.W[o])
			}
			if d < 0.3 {
				t.Errorf("%s is kept aside and lies on %s, which is fitted", v.ID, c.ID)
			}
		}
	}
}

// TestFitRecovers: from points that the model itself gives, with parameters
// moved a little, the fit of the core comes back to the published temperatures
// of those points.
func TestFitRecovers(t *testing.T) {
	in, err := read(root)
	if err != nil {
		t.Fatal(err)
	}
	m, err := melt.FromParameters(in.table.String())
	if err != nil {
		t.Fatal(err)
	}
	var points []Point
	for _, p := range in.calibration {
		if Stage(p.W) != 0 {
			continue
		}
		l, err := m.Liquidus(p.W)
		if err != nil {
			t.Fatal(err)
		}
		p.TC, p.Phases, p.SigmaT, p.SigmaWt = l.TC, []melt.Phase{l.First}, 3, 0.05
		points = append(points, p)
	}
	moved := in.table.clone()
	priors, err := moved.free(0)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range priors {
		moved.set(p.row, moved.value(p.row)+0.2*p.sigma*float64(1-2*(i%2)))
	}
	before, err := melt.FromParameters(moved.String())
	if err != nil {
		t.Fatal(err)
	}
	worse := Sum(Judge(before, points), Sets[0].In)
	if err := fitStage(moved, points, 0, []float64{0.01}); err != nil {
		t.Fatal(err)
	}
	after, err := melt.FromParameters(moved.String())
	if err != nil {
		t.Fatal(err)
	}
	better := Sum(Judge(after, points), Sets[0].In)
	if worse.Median < 5 || better.Median > 3 || better.Pass < 90 {
		t.Errorf("before the fit %+v, after it %+v", worse, better)
	}
}

func TestReadPointsRefuses(t *testing.T) {
	const heading = "id,system,type,phases,T_C,sigma_T_C,wt_SiO2,wt_FeO,source,standing,sigma_wt\n"
	for _, row := range []string{
		"A,x,y,QQQ,1200,5,30,70,s,memory,1",
		"A,x,y,OLV,hot,5,30,70,s,memory,1",
		"A,x,y,OLV,1200,5,much,70,s,memory,1",
		"A,x,y,OLV",
	} {
		if _, err := ReadPoints(strings.NewReader(heading + row + "\n")); err == nil {
			t.Errorf("%s: no error", row)
		}
	}
	if _, err := ReadPoints(strings.NewReader("wt_Unobtainium\n1\n")); err == nil {
		t.Error("an unknown oxide gave no error")
	}
	list, err := ReadPoints(strings.NewReader(heading + "A,x,y,OLV+TRI,1178,5,38,62,s,memory,1\n"))
	if err != nil || len(list) != 1 || len(list[0].Phases) != 2 || list[0].W[slag.FeO] != 62 {
		t.Errorf("%+v, %v", list, err)
	}
}

func FuzzReadPoints(f *testing.F) {
	f.Add("id,phases,T_C,wt_SiO2\nA,OLV,1200,30\n")
	f.Add("id\n")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ReadPoints(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, p := range list {
			for _, x := range p.W {
				if x > 100.0001 {
					t.Errorf("%q gave %g wt%%", text, x)
				}
			}
		}
	})
}
