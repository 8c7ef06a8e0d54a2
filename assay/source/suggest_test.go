package source

import "testing"

func TestNearest(t *testing.T) {
	kinds := []string{"spread", "composition", "ternary", "indices", "melting", "copper", "methods", "data", "flow", "firing"}
	for _, tt := range []struct{ word, want string }{
		{"spred", "spread"}, {"Spread", "spread"}, {"flwo", "flow"}, {"coper", "copper"}, {"ternay", "ternary"},
		{"java", ""}, {"bash", ""}, {"", ""}, {"liquidus", ""},
	} {
		if got := Nearest(tt.word, kinds); got != tt.want {
			t.Errorf("Nearest(%q) = %q, want %q", tt.word, got, tt.want)
		}
	}
}

func TestDidYouMean(t *testing.T) {
	if got := DidYouMean("dgu", []string{"fired", "dug"}); got != `; did you mean "dug"?` {
		t.Errorf("%q", got)
	}
	if got := DidYouMean("walls", []string{"fired", "dug"}); got != "; there are: fired, dug" {
		t.Errorf("%q", got)
	}
	if got := DidYouMean("walls", nil); got != "" {
		t.Errorf("%q", got)
	}
}

func TestAddressesInWords(t *testing.T) {
	for want, c := range map[string]Cell{
		`lab/xrf.xlsx, sheet "Slag", cell B6`: {"lab/xrf.xlsx", "Slag", "B6"},
		"lab/xrf.csv, cell B6":                {File: "lab/xrf.csv", Ref: "B6"},
		"notebook.md, line 3":                 Line("notebook.md", 3),
		"notebook.md":                         Line("notebook.md", 0),
		"":                                    {},
	} {
		if got := c.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
