package firing_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/firing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

var judge = firing.Judge{Couple: "K", Class: 2, Gap: 5}

// read reads files by name and content as a campaign would.
func read(t testing.TB, runs []string, files ...[2]string) ([]firing.Firing, source.Notices) {
	t.Helper()
	var records []sheet.Records
	var ns source.Notices
	dir := t.TempDir()
	for _, f := range files {
		path := filepath.Join(dir, f[0])
		if err := os.WriteFile(path, []byte(f[1]), 0o644); err != nil {
			t.Fatal(err)
		}
		book, err := sheet.Read(context.Background(), path, "field/"+f[0], sheet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		records = append(records, book.Records...)
		ns = append(ns, book.Notices...)
	}
	logs, more := firing.Read(records, runs)
	return logs, append(ns, more...)
}

// Tolerances of IEC 60584-1, class 2 (from memory): type K ± 2.5 °C up to
// 333 °C, 0.75 % from there to 1200 °C.
func TestTolerance(t *testing.T) {
	for _, x := range []struct {
		couple firing.Couple
		class  int
		t, tol float64
		stated bool
	}{
		{"K", 2, 100, 2.5, true}, {"K", 2, 333, 2.5, true}, {"K", 2, 1000, 7.5, true}, {"K", 2, 1200, 9, true}, {"K", 2, 1260, 9.45, false},
		{"K", 1, 1000, 4, true}, {"S", 2, 1200, 3, true}, {"S", 2, 300, 1.5, true}, {"S", 1, 1200, 1.3, true}, {"N", 2, 1100, 8.25, true},
	} {
		tol, stated := x.couple.Tolerance(x.class, x.t)
		checkdata.Near(t, string(x.couple), tol, x.tol, 0.01)
		if stated != x.stated {
			t.Errorf("%s class %d at %g °C: stated %v", x.couple, x.class, x.t, stated)
		}
	}
}

// A triangle from 1000 up to 1200 and down again at 10 °C/min is above 1100
// for 20 minutes, and every degree of the limit costs 0.2 minutes.
func TestAboveByGeometry(t *testing.T) {
	c := firing.Channel{}
	for m := 0; m <= 40; m++ {
		c.Readings = append(c.Readings, firing.Reading{Min: float64(m), C: 1200 - 10*math.Abs(float64(m-20))})
	}
	a := c.Above(1100, judge)
	checkdata.Near(t, "minutes", a.Minutes.Value, 20, 1e-9)
	checkdata.Near(t, "at least", a.Minutes.Low, 20-0.2*8.25, 1e-9)
	checkdata.Near(t, "at most", a.Minutes.High, 20+0.2*8.25, 1e-9)
	r, ok := c.Heating(1020, 1180, judge)
	if !ok {
		t.Fatal("no rate of heating")
	}
	checkdata.Near(t, "rate", r.PerMin.Value, 10, 1e-9)
	s, ok := c.Steepest(10, judge)
	if !ok {
		t.Fatal("no steepest rise")
	}
	checkdata.Near(t, "steepest", s.PerMin.Value, 10, 1e-9)
	// Ten minutes without readings at the top: known is what lies outside.
	c.Readings = append(c.Readings[:16:16], c.Readings[26:]...)
	a = c.Above(1100, judge)
	checkdata.Near(t, "minutes with a gap", a.Minutes.Value, 9, 1e-9)
	checkdata.Near(t, "at most with a gap", a.Minutes.High, 20+0.2*8.25, 1e-9)
	if a.Gaps != 11 || len(c.Gaps(judge)) != 1 {
		t.Errorf("gaps of %g minutes, want 11", a.Gaps)
	}
}

const loggerFile = `Logger;file;KR-F2
Start;2026-07-11 23:58:00;;
Time;Pipe (°C);Wall (°F);Cold junction (°C)
23:58:00;1012,5;1832,0;21,0
23:59:00;1022,5;OL;21,0
00:00:00;9999;1850,0;21,0
00:01:00;1042,5;1850,0;21,0
00:01:00;1044,5;1850,0;21,0
00:02:00;21,0;-200;21,5
00:03:00;1062,5;;21,5
00:02:30;1063,0;1850,0;21,5
00:04:00;1072,5;1850,0;21,5
`

func TestLoggerOddities(t *testing.T) {
	logs, ns := read(t, []string{"KR-F2"}, [2]string{"logger.csv", loggerFile})
	if ns.Failed() || len(logs) != 1 || logs[0].Run != "KR-F2" || len(logs[0].Channels) != 2 {
		t.Fatalf("%+v\n%v", logs, ns)
	}
	pipe, wall := logs[0].Channels[0], logs[0].Channels[1]
	var got []float64
	for _, x := range pipe.Readings {
		got = append(got, x.Min, x.C)
	}
	want := []float64{1438, 1012.5, 1439, 1022.5, 1441, 1043.5, 1443, 1062.5, 1444, 1072.5}
	for i := range want {
		if len(got) != len(want) || math.Abs(got[i]-want[i]) > 1e-9 {
			t.Fatalf("readings %v, want %v", got, want)
		}
	}
	if len(pipe.Faults) != 2 || len(wall.Faults) != 2 {
		t.Errorf("faults %v and %v, want 9999 and a lost contact, OL and -200", pipe.Faults, wall.Faults)
	}
	checkdata.Near(t, "1832 °F", wall.Readings[0].C, 1000, 1e-9) // 1832 °F = 1000 °C by definition of the scales
	if at := pipe.Readings[0].At.String(); at != "field/logger.csv, cell B4" {
		t.Errorf("the first reading is said to stand at %s", at)
	}
	for _, code := range []string{"LOG_CONVERTED", "LOG_REPEATED", "LOG_FAULTS", "LOG_BACKWARDS", "LOG_NOT_FURNACE"} {
		if !strings.Contains(strings.Join(ns.Codes(), " "), code) {
			t.Errorf("no notice %s in %v", code, ns.Codes())
		}
	}
}

func TestClocks(t *testing.T) {
	const events = "Run,Time,Event,Ore (kg),Flux (kg),Charcoal (kg),Note\nF1,09:00,logger on,,,,\nF1,09:10,air on,,,,\nF1,09:20,charge 1,0.5,0.2,1.2,\nF1,09:40,charge 2,0.5,0.2,1.2,\nF1,10:00,charge 3,0.5,0.2,1.2,\nF1,10:10,air off,,,,\n"
	for name, log := range map[string]string{
		"time of day":       "Time,T1 (°C)\n09:05,400\n09:06,410\n",
		"with seconds":      "Time,T1 (°C)\n09:05:00,400\n09:06:00,410\n",
		"half days":         "Time,T1 (°C)\n9:05 am,400\n9:06 am,410\n",
		"date and time":     "Timestamp,T1 (°C)\n2026-07-11 09:05:00,400\n2026-07-11 09:06:00,410\n",
		"date beside it":    "Date,Time,T1 (°C)\n11/07/2026,09:05,400\n11/07/2026,09:06,410\n",
		"seconds":           "Time (s),T1 (°C)\n300,400\n360,410\n",
		"minutes":           "Elapsed (min),T1 (°C)\n5,400\n6,410\n",
		"elapsed clock":     "Elapsed,T1 (°C)\n0:05:00,400\n0:06:00,410\n",
		"start above":       "Started 09:05,first line\nlogger,two\nTime (min),T1 (°C),T2 (°C),T3 (°C)\n0,400,1,2\n1,410,1,2\n",
		"unit in a row":     "Time,T1\n,°C\n09:05,400\n09:06,410\n",
		"unit in the title": "Temperatures in °C,F1\nTime,T1,T2,T3\n09:05,400,1,2\n09:06,410,1,2\n",
	} {
		logs, ns := read(t, []string{"F1"}, [2]string{"F1.csv", log}, [2]string{"events.csv", events})
		if ns.Failed() || len(logs) != 1 || len(logs[0].Channels) == 0 || len(logs[0].Channels[0].Readings) != 2 {
			t.Errorf("%s: %+v\n%v", name, logs, ns)
			continue
		}
		f := logs[0]
		checkdata.Near(t, name, f.Channels[0].Readings[1].Min, 546, 1e-6)
		checkdata.Near(t, name+": hours blown", f.BlownHours().Value, 1, 1e-9)
		if f.Clock(546) != "09:06" || f.Elapsed {
			t.Errorf("%s: the clock shows %s", name, f.Clock(546))
		}
		// 2 charges of 1.2 kg restore the level over 40 minutes.
		if q, ok := f.LevelRate(); !ok || math.Abs(q.Value-3.6) > 1e-9 {
			t.Errorf("%s: %v kg/h", name, q.Value)
		}
		if ore, flux, coal, n := f.Charged(); n != 3 || math.Abs(ore.Value+flux.Value+coal.Value-5.7) > 1e-9 {
			t.Errorf("%s: charged %g, %g, %g in %d", name, ore.Value, flux.Value, coal.Value, n)
		}
	}
}

func TestBadLogs(t *testing.T) {
	for _, x := range []struct{ log, code, at, says string }{
		{"Time,T1 (°C)\n09:05,400\nsoon,410\n", "LOG_TIME", "A3", "14:05"},
		{"Time,T1\n09:05,400\n09:06,410\n", "LOG_UNIT", "B1", "T1 (°C)"},
		{"Time,T1 (°C)\n09:05,400\n09:06,warm\n", "LOG_NUMBER", "B3", "write a number"},
		{"Time,T1 (°C)\n5,400\n6,410\n", "LOG_TIME_UNIT", "A2", "Time (s)"},
		{"Time,Event,Ore\n09:05,charge,4\n", "EVENT_UNIT", "C1", "Ore (kg)"},
		{"Time,Event,Ore (kg)\n09:05,charge,some\n", "EVENT_NUMBER", "C2", "write a number"},
		{"Time,Event,Ore (kg)\n09:05,charge,-4\n", "EVENT_NUMBER", "C2", "impossible"},
		{"Time (s),T1 (°C)\n5,400\n6,410\n", "LOG_NO_START", "", "logger on"},
	} {
		_, ns := read(t, []string{"F1"}, [2]string{"F1.csv", x.log})
		found := false
		for _, n := range ns {
			found = found || n.Code == x.code && n.At.File == "field/F1.csv" && n.At.Ref == x.at && strings.Contains(n.Message, x.says)
		}
		if !found {
			t.Errorf("%q: no %s at %s saying %q in %v", x.log, x.code, x.at, x.says, ns)
		}
	}
}

// Readings beyond what the couple bears are kept and flagged; a couple that
// reads nothing any more was lost.
func TestPeak(t *testing.T) {
	logs, _ := read(t, []string{"F1"}, [2]string{"F1.csv", "Time,T1 (°C)\n09:00,1240\n09:01,1262\n09:02,OL\n09:03,OL\n09:04,OL\n"})
	p, ok := logs[0].Channels[0].Peak(judge)
	if !ok || !p.Beyond || !p.Lost || p.Stated {
		t.Errorf("%+v", p)
	}
	checkdata.Near(t, "upper limit", p.C.High, 1262*1.0075, 1e-9)
	if a := logs[0].Channels[0].Above(1200, judge); !a.AtLeast {
		t.Error("the channel ended above 1200 °C, and its time is not said to be a least")
	}
}

// FuzzLog feeds tables of any text through the parser; how a file becomes a
// table is fuzzed where files are read.
func FuzzLog(f *testing.F) {
	f.Add("Time;Pipe (°C);Wall (°F)\n23:58:00;1012.5;1832\n00:00:00;9999;OL\n00:00:00;20;-200\n00:01:00;1000;\n")
	f.Add("Time (s);T1 (°F);Event;Ore (kg)\n1;99;air on;1\n2;OL;air off;\n")
	f.Add("Date;Time;T1 (°C)\n11/07/26;11:59 pm;-200\n07/12/26;12:01 am;1e9\n")
	f.Fuzz(func(t *testing.T, text string) {
		logs, _ := firing.Read([]sheet.Records{tableOf(text)}, []string{"KR-F2"})
		for _, l := range logs {
			for _, c := range l.Channels {
				for i, x := range c.Readings {
					if !(x.C >= -50 && x.C <= 1820) || i > 0 && !(x.Min > c.Readings[i-1].Min) {
						t.Fatalf("reading %+v behind %v", x, c.Readings[:i])
					}
				}
				if a := c.Above(1000, judge); !(a.Minutes.Low <= a.Minutes.Value*(1+1e-9)+1e-6 && a.Minutes.Value <= a.Minutes.High*(1+1e-9)+1e-6) {
					t.Fatalf("above 1000 °C %+v", a)
				}
				c.Heating(200, 1000, judge)
				c.Steepest(10, judge)
			}
			l.HotZone(1000, judge)
			l.LevelRate()
			l.Charged()
			if h := l.BlownHours(); h.Known() && !(h.Value >= 0) {
				t.Fatalf("blown for %g h", h.Value)
			}
		}
	})
}

// tableOf makes a table of lines with semicolons, the first of them headings.
func tableOf(text string) sheet.Records {
	t := sheet.Records{File: "x.csv", HeaderRow: 1}
	for row, line := range strings.Split(text, "\n") {
		var rec sheet.Record
		rec.Row = row + 1
		for col, s := range strings.Split(line, ";") {
			at := source.Cell{File: "x.csv", Ref: string(rune('A'+col%26)) + strconv.Itoa(row+1)}
			if row == 0 {
				name, unit, _ := strings.Cut(strings.TrimSuffix(s, ")"), " (")
				t.Fields = append(t.Fields, sheet.Field{Name: name, Unit: unit, Ref: at.Ref})
				continue
			}
			c := sheet.RecordCell{Text: s, Value: math.NaN(), Limit: math.NaN(), Class: quantity.Unusable, At: at}
			if x, err := strconv.ParseFloat(s, 64); err == nil && !math.IsInf(x, 0) && !math.IsNaN(x) {
				c.Value, c.Class = x, quantity.Measured
			} else if s == "" {
				c.Class = quantity.Missing
			}
			rec.Cells = append(rec.Cells, c)
		}
		for row > 0 && len(rec.Cells) < len(t.Fields) {
			rec.Cells = append(rec.Cells, sheet.RecordCell{Value: math.NaN(), Limit: math.NaN(), Class: quantity.Missing})
		}
		if row > 0 {
			rec.Cells = rec.Cells[:len(t.Fields)]
			t.Rows = append(t.Rows, rec)
		}
	}
	return t
}
