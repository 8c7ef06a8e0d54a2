package cite

import (
	"strings"
	"testing"
)

// A work that the notebook's bibliography has as well stands in the list once; a
// key that both use for different works stays the notebook's.
func TestLibrariesJoin(t *testing.T) {
	own, _ := Read("refs.json", []byte(`[
 {"id": "w", "title": "The generalization of 'Student's' problem when several different population variances are involved", "author": [{"family": "Welch", "given": "Bernard"}], "issued": {"date-parts": [[1947]]}},
 {"id": "holm1979", "title": "Bowls", "author": [{"family": "Marsh"}], "issued": {"date-parts": [[2020]]}}]`))
	methods, notices := Methods()
	if len(notices) > 0 {
		t.Fatal(notices)
	}
	joined, as := own.With(methods)
	if as["welch1947"] != "w" || as["holm1979"] != "/holm1979" || as["york2004"] != "york2004" {
		t.Errorf("keys %q %q %q", as["welch1947"], as["holm1979"], as["york2004"])
	}
	if len(joined.Keys()) != len(methods.Keys())+1 {
		t.Errorf("%d works of %d and 2", len(joined.Keys()), len(methods.Keys()))
	}
	r := joined.Cited([]string{"w", as["welch1947"], "holm1979", as["holm1979"]})
	if got, _, ok := r.Short(as["holm1979"]); !ok || got != "Holm 1979" {
		t.Errorf("the method's work is %q", got)
	}
	if got, _, _ := r.Short("holm1979"); got != "Marsh 2020" {
		t.Errorf("the notebook's work is %q", got)
	}
	if n := strings.Count(string(r.HTML()), "<li "); n != 3 {
		t.Errorf("%d works in the list", n)
	}
	if empty, as := (Library{}).With(methods); len(empty.Keys()) != len(methods.Keys()) || as["holm1979"] != "holm1979" {
		t.Error("without a bibliography of the notebook")
	}
}
