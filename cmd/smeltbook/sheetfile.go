package main

import (
	"fmt"
	"slices"
	"strings"
)

// sheetFile checks how a plan is to be written beside the terminal, as one of
// the kinds or as JSON, and fills in the file where none is named.
func sheetFile(as string, asJSON bool, out *string, usual string, kinds ...string) error {
	switch {
	case as != "" && !slices.Contains(kinds, as):
		return callError{fmt.Errorf("--as %s: use %s", as, strings.Join(kinds, " or "))}
	case as != "" && asJSON:
		return callError{fmt.Errorf("give --json or --as, not both")}
	case as == "" && *out != "":
		return callError{fmt.Errorf("--out needs --as %s", strings.Join(kinds, " or --as "))}
	case as != "" && *out == "":
		*out = usual + "." + as
	}
	return nil
}
