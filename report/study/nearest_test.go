package study_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"smeltbook/assay"
	"smeltbook/report/study"
)

// The flat table names the replica that each excavated sample is nearest to, of
// its own kind: A and B stand two steps apart, C is one step from B.
func TestNearestReplicaInTheTable(t *testing.T) {
	dir := t.TempDir()
	sheet := "Sample,Kind,Origin,SiO2 (wt%),± (wt%),FeOT (wt%),± (wt%),CaO (wt%),± (wt%)\n" +
		"A,slag,experimental,40,0.1,50,0.1,5,0.05\nB,slag,experimental,30,0.1,60,0.1,5,0.05\nC,slag,excavated,31,0.1,59,0.1,5,0.05\nW,lining,excavated,60,0.1,9,0.1,5,0.05\n"
	if err := os.WriteFile(filepath.Join(dir, "a.csv"), []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	c, err := assay.Load(context.Background(), dir, assay.Config{Recipe: assay.Recipe{AcceptTotals: []string{"W"}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(1, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	for parts, want := range map[string]any{"": "B", "SiO2 CaO": "B", "CaO Cl": "B"} {
		if parts == "SiO2 CaO" {
			s.Compared.Parts = []string{"SiO2", "CaO"}
		}
		if parts == "CaO Cl" { // chlorine is in none of them: the shared parts stand in
			s.Compared.Parts = []string{"CaO", "Cl"}
		}
		table := s.Table()
		for j, col := range table.Columns {
			for i, x := range c.Samples {
				got := table.Rows[i][j]
				switch {
				case col.Key == "nearest_replica" && x.ID == "C" && got != want,
					col.Key == "nearest_replica" && x.ID != "C" && got != nil,
					col.Key == "nearest_replica_p" && x.ID == "C" && !(got.(float64) > 0.85),
					col.Key == "nearest_replica_by" && x.ID == "C" && parts == "SiO2 CaO" && got != parts:
					t.Errorf("parts %q: %s of %s is %v", parts, col.Key, x.ID, got)
				}
			}
		}
	}
}
