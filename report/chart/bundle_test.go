package chart

import (
	"regexp"
	"strings"
	"testing"
)

// script returns the charting library, or skips the test in a build without.
func script(t *testing.T) string {
	t.Helper()
	text, ok := Script()
	if !ok {
		t.Skip("built without the charting library; go generate makes it")
	}
	return text
}

func TestScriptFitsIntoAPage(t *testing.T) {
	text := script(t)
	if bad := regexp.MustCompile(`(?i)</script|<!--`).FindString(text); bad != "" {
		t.Errorf("the library holds %q", bad)
	}
	for i := range len(text) {
		if text[i] > 0x7E || text[i] < ' ' && text[i] != '\n' && text[i] != '\t' {
			t.Fatalf("byte %#x at %d is not printable ASCII", text[i], i)
		}
	}
	if !strings.HasPrefix(text, "/*! Apache ECharts 5.6.0") {
		t.Errorf("the library begins with %.60q and not with its licence", text)
	}
	// The size that a tailored build of these parts is known to stay below.
	if len(text) > 700_000 {
		t.Errorf("the library is %d bytes", len(text))
	}
}

func TestLicences(t *testing.T) {
	script(t)
	text := Licences()
	for _, want := range []string{"Apache License", "Version 2.0", "zrender-LICENSE", "tslib-LICENSE", "Mike Bostock"} {
		if !strings.Contains(text, want) {
			t.Errorf("the licence texts do not hold %q", want)
		}
	}
}

func TestPageScriptNeverEvaluates(t *testing.T) {
	text := PageScript()
	if len(text) < 1000 {
		t.Fatalf("the page script is %d bytes", len(text))
	}
	if bad := regexp.MustCompile(`\beval\b|new Function|innerHTML|outerHTML|insertAdjacentHTML|document\.write|</script|<!--|https?://`).FindString(text); bad != "" {
		t.Errorf("the page script holds %q", bad)
	}
}
