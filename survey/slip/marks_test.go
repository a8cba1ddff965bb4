package slip

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func names(marks []WrongMark) (out []string) {
	for _, m := range marks {
		out = append(out, m.Name)
	}
	return out
}

func TestWrongMarks(t *testing.T) {
	known := []string{"B1", "B2", "B3", "B4", "B12", "B21", "H1", "H7", "L1", "T1", "T2", "hinge-left", "hinge-right", "pump-inlet", "pump inlet", "lip-L2", "crank"}
	for name, want := range map[string][]string{
		"B2":         {"B1", "B3", "B12", "B21", "B4", "T2"},
		"B4":         {"B3", "B1", "B2", "B12", "B21"},
		"H1":         {"H7", "B1", "L1", "T1"},
		"T1":         {"T2", "L1", "B1", "H1"},
		"L1":         {"T1", "B1", "H1"},
		"B12":        {"B21", "B1", "B2", "B3", "B4"},
		"hinge-left": {"hinge-right"},
		"pump-inlet": {"pump inlet"},
		"pmup-inlet": {"pump-inlet", "pump inlet"},
		"crnk":       {"crank"},
		"nobody":     nil,
		"":           nil,
	} {
		assert.Equal(t, want, names(WrongMarks(name, known)), name)
	}
	assert.Empty(t, WrongMarks("B1", nil))
	assert.Equal(t, []string{"B10", "B8", "B6"}, names(WrongMarks("B9", []string{"B6", "B10", "B8", "B9"})), "9 and 10 are neighbours")
}

// Who is taken for whom does not depend on who is asked.
func TestAlikeIsMutual(t *testing.T) {
	names := []string{"B1", "B2", "B9", "B10", "H1", "H7", "T1", "L1", "hinge-left", "hinge-right", "inlet 1", "outlet 1", "b1", "crank", "crnk", "W", "7", "8", ""}
	for _, a := range names {
		for _, b := range names {
			one, okOne := alike(a, b)
			other, okOther := alike(b, a)
			assert.Equal(t, okOne, okOther, "%q %q", a, b)
			assert.Equal(t, one, other, "%q %q", a, b)
		}
	}
}
