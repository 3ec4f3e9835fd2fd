package constraints

import "testing"

func TestProfile(t *testing.T) {
	own := `[[profile]]
id = "own-5"
pitch_mm = 5
pitch_line_mm = 0.5715
`
	testCheck(t, "profile", []checkCase{
		yesNoCase("the same", "htd-5m and htd-5m", onBelts, "pass"),
		yesNoCase("another of the same pitch", "GT and HTD of one pitch do not mix", onBelts, "fail", `large.profile = "gt-5"`),
		yesNoCase("one's own, alike in all numbers", "profiles are told apart by id", onBelts, "fail", `large.profile = "own-5"`, own),
		yesNoCase("one's own on both", "the same id", onBelts, "pass", `small.profile = "own-5"`, `large.profile = "own-5"`, own),
		yesNoCase("gear", "has no pulleys", onGears, "absent"),
	})
}
