package quality

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"smeltbook/assay/source"
)

// Kind says what the ± of a certificate is.
type Kind string

const (
	NoKind       Kind = ""                   // no ± is stated
	OneSD        Kind = "1s"                 // one standard uncertainty
	CI95         Kind = "ci95"               // half the 95 % confidence interval of the mean
	Expanded     Kind = "expanded"           // k times a standard uncertainty
	Laboratories Kind = "sd of laboratories" // standard deviation between laboratories
)

// kindWords are what people call the kinds; common practice.
var kindWords = []struct {
	kind  Kind
	words []string
}{
	{Laboratories, []string{"sd of laboratories", "sd between laboratories", "1 sd between laboratories", "between laboratories", "sd of labs", "laboratories", "interlaboratory sd"}},
	{CI95, []string{"ci95", "95 % ci", "ci 95", "ci", "95 % confidence interval", "95 % confidence limit", "95 % confidence limits", "confidence interval", "95 %", "95"}},
	{Expanded, []string{"expanded", "expanded uncertainty", "u expanded", "k=2", "k = 2", "k2", "2s", "2 s", "2 sd", "2sd", "2σ"}},
	{OneSD, []string{"1s", "1 s", "1 sd", "1sd", "1σ", "s", "sd", "u", "k=1", "k = 1", "standard uncertainty", "standard deviation", "one standard deviation"}},
}

// ParseKind reads what a sheet calls the kind of a ±.
func ParseKind(text string) (Kind, error) {
	folded := strings.ReplaceAll(strings.ToLower(strings.Join(strings.Fields(text), " ")), "95%", "95 %")
	for _, k := range kindWords {
		if slices.Contains(k.words, folded) {
			return k.kind, nil
		}
	}
	return NoKind, fmt.Errorf("%q is no kind of ± known here; write 1s (one standard uncertainty), ci95 (95 %% confidence interval), expanded (k = 2) or sd of laboratories", text)
}

// Certified is one value of a certificate, in wt%.
type Certified struct {
	Analyte      string
	Value        float64
	PlusMinus    float64 // as printed; NaN when not stated
	Kind         Kind
	Laboratories int    // behind the mean; 0 when unknown
	Basis        string // "dry", "as received"; empty when not stated
	Method       string // "4-acid"; empty for any
	Status       string // "certified", "recommended", "provisional", "indicative"
	Citation     string
	At           source.Cell // for values of the user's own
}

// U returns the standard uncertainty of the certified value and how it was
// found from the ± as printed; NaN when none is stated.
func (c Certified) U() (u float64, note string) {
	switch c.Kind {
	case OneSD:
		return c.PlusMinus, "± taken as one standard deviation"
	case CI95:
		return c.PlusMinus / K, "95 % interval halved"
	case Expanded:
		return c.PlusMinus / K, "expanded uncertainty over k = 2"
	case Laboratories:
		if c.Laboratories > 1 {
			return c.PlusMinus / math.Sqrt(float64(c.Laboratories)), fmt.Sprintf("standard deviation of %d laboratories over √%d", c.Laboratories, c.Laboratories)
		}
		return c.PlusMinus, "standard deviation of laboratories taken whole, as their number is not stated: too large"
	}
	return math.NaN(), "the certificate states no ±"
}

// Certificate is a reference material with its values.
type Certificate struct {
	Material string
	Matrix   string
	Producer string
	Values   []Certified
	Own      bool // from a sheet of the campaign
}

//go:embed certificates.csv
var certificatesCSV string

// Certificates returns the certificates that smeltbook knows. Every value was
// read on the certificate named in its citation.
var Certificates = sync.OnceValue(func() []Certificate {
	rows, err := csv.NewReader(strings.NewReader(certificatesCSV)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("quality: embedded table: %v", err))
	}
	var out []Certificate
	for _, r := range rows[1:] {
		v := Certified{Analyte: r[3], PlusMinus: math.NaN(), Kind: Kind(r[7]), Basis: r[8], Method: r[9], Status: r[10], Citation: r[11]}
		factor := map[string]float64{"wt%": 1, "ppm": 1e-4}[r[6]]
		v.Value = mustFloat(r[4]) * factor
		if r[5] != "" {
			v.PlusMinus = mustFloat(r[5]) * factor
		}
		if n := len(out) - 1; n < 0 || out[n].Material != r[0] {
			out = append(out, Certificate{Material: r[0], Matrix: r[1], Producer: r[2]})
		}
		n := len(out) - 1
		out[n].Values = append(out[n].Values, v)
	}
	return out
})

func mustFloat(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(fmt.Sprintf("quality: embedded table: %v", err))
	}
	return x
}
