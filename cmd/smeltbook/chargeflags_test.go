package main

import (
	"math"
	"strings"
	"testing"
)

// FuzzSpanFlag holds for any text that limits come back in order and not
// negative, or as one plain sentence.
func FuzzSpanFlag(f *testing.F) {
	for _, s := range []string{"A=0.5:1", "A", "A=", "=1", "FeO/SiO2=1:2", "A=1e999", "A=NaN:1", "A=-1:2", "A=2:1", "A=1:2:3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		name, span, err := spanFlag("ore", text)
		switch {
		case err != nil && !strings.HasPrefix(err.Error(), "--ore "):
			t.Errorf("%q: %v", text, err)
		case err == nil && name == "":
			t.Errorf("%q names nothing", text)
		case err == nil && span != nil && !(span.Lo >= 0 && span.Lo <= span.Hi && !math.IsInf(span.Hi, 0)):
			t.Errorf("%q: %+v", text, span)
		}
	})
}
