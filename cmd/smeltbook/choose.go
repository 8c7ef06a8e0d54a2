package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"smeltbook/report"
)

// chooseEntry picks what stands in the entry asked for, by its number, its kind
// or the id that the notebook gives it; everything where none is asked for. what names them in the message.
func chooseEntry[T interface{ At() report.Place }](all []T, entry, what string) ([]T, error) {
	if entry == "" {
		return all, nil
	}
	var chosen []T
	var entries []string
	for _, x := range all {
		at := x.At()
		if entry == at.Kind || entry == at.Name || entry == strconv.Itoa(at.Entry) {
			chosen = append(chosen, x)
		}
		name := fmt.Sprintf("%d (%s)", at.Entry, at.Kind)
		if at.Name != "" {
			name = fmt.Sprintf("%d (%s, %s)", at.Entry, at.Kind, at.Name)
		}
		if !slices.Contains(entries, name) {
			entries = append(entries, name)
		}
	}
	if len(chosen) > 0 {
		return chosen, nil
	}
	if len(entries) == 0 {
		return nil, callError{fmt.Errorf("--entry %s: the notebook has no %s", entry, what)}
	}
	return nil, callError{fmt.Errorf("--entry %s: no entry with %s has this number, kind or id; there are %s", entry, what, strings.Join(entries, ", "))}
}
