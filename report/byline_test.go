package report

import (
	"slices"
	"testing"
)

func TestByline(t *testing.T) {
	got := byline([]string{"Reeve, Ada", "T. Marsh", "Valley College", "Marsh, Tom, and students"})
	want := []string{"Ada Reeve", "T. Marsh", "Valley College", "Marsh, Tom, and students"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
