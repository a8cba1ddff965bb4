package survey

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
)

// What only says how good something is, or how to read better, is a remark; what
// may be wrong is suspect.
func TestSeverityOfDoubts(t *testing.T) {
	mm := func(v float64) length.Limit { return length.Limit{Plus: v, Minus: v} }
	severity := func(doubts []Doubt, says string) Severity {
		t.Helper()
		for _, d := range doubts {
			if strings.Contains(d.Says, says) {
				return d.Severity
			}
		}
		require.Fail(t, "no such doubt", "%s among %v", says, doubts)
		return -1
	}
	sagging := Readings{Tapes: []Tape{{From: "A", To: "C", Length: Coordinate{Value: 3000, Given: true}, Limit: mm(0.5)}}}
	assert.Equal(t, Remark, severity(sagging.TapeDoubts(), "if it hung free"))

	weak := newBay(3, 1e-3).corners()
	weak.blank("things", "T", 250, 150, 8)
	for _, from := range []string{"A", "B", "C", "D"} {
		weak.tape(from, "T")
	}
	for i := range weak.readings.Tapes {
		weak.readings.Tapes[i].Limit = mm(math.Sqrt(3))
	}
	assert.Equal(t, Remark, severity(weak.adjust(t).Doubts, "is only good to"))

	_, doubts := Touches(FeatureSpec{Name: "post", Shape: Edge}, []Ball{{Mark: "A", Tip: 3}, {Mark: "B", Centre: r3.Vector{X: 90}, Tip: 3}}, length.Style{})
	assert.Equal(t, Remark, severity(doubts, "which way it was touched cannot be told"))

	read, err := Read(File{Name: "points.csv", Data: []byte("feature,mark,x,y,z,photo\nwall,B1,1,2,3,p1\nwall,b1,4,5,6,p2\n"), Unit: length.MM})
	require.NoError(t, err)
	assert.Equal(t, Remark, severity(read.Doubts, "is not used"))
	assert.Equal(t, Suspect, severity(read.Doubts, "differ only in case"))

	twice := newBay(4, 1)
	twice.known("", "A", 0, 0, 0)
	twice.known("", "A", 40, 0, 0)
	twice.readings.Features = nil
	assert.Equal(t, Suspect, severity(twice.adjust(t).Doubts, "further apart than both"))

	slipped := whole(7)
	slipped.readings.Tapes[2].Length = Coordinate{Value: slipped.readings.Tapes[2].Length.Value + 25.4, Given: true, Text: "x"}
	assert.Equal(t, Suspect, severity(slipped.adjust(t).Doubts, "than the other readings make it"))
}
