package quality

// Verdict says what may be done with a value.
type Verdict string

const (
	Use    Verdict = "use"
	Care   Verdict = "use with care"
	Reject Verdict = "do not use"
)

// Finding is one reason for a verdict.
type Finding struct {
	Verdict Verdict
	Reason  string
}

// Worst is the strictest verdict of the findings; Use where there are none.
func Worst(fs []Finding) Verdict {
	v := Use
	for _, f := range fs {
		if f.Verdict == Reject || f.Verdict == Care && v == Use {
			v = f.Verdict
		}
	}
	return v
}
