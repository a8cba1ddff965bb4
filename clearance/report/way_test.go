package report

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"

	"elbowroom/clearance"
	"elbowroom/clearance/way"
	"elbowroom/solid"
)

// What is not proved of a way in has its words in the first sentence and a line of its own.
func TestWhyTheWayInIsOpen(t *testing.T) {
	for _, c := range []struct {
		way         clearance.WayIn
		first, item string
	}{
		{clearance.WayIn{Because: clearance.NotChecked, Outside: true},
			"As measured there is room for it; no way in was found.", "1  the way in: none was found: try it with a mock-up"},
		{clearance.WayIn{Because: clearance.NotChecked, Outside: true, Stuck: way.Stuck{Part: "body", Thing: "lip"}},
			"As measured there is room for it; no way in was found.", "1  the way in: none was found, body comes up against lip: try it"},
		{clearance.WayIn{Found: true, Because: clearance.Unmeasured, Outside: true, Unseen: []solid.Side{solid.Front}, Steps: []clearance.Step{{}}},
			"As measured it goes in; the way in goes where nobody looked.", "1  the way in: it goes past front, where nobody looked"},
		{clearance.WayIn{Found: true, Because: clearance.Unmeasured, Steps: []clearance.Step{{}}},
			"As measured it goes in; the way in starts within the room.", "1  the way in: the path given starts within the room"},
	} {
		r := plain()
		r.Verdict, r.Because, r.WayIn = clearance.Unproven, []clearance.Because{c.way.Because}, &c.way
		got := text(t, situation{report: r})
		assert.Contains(t, got, "\n"+c.first+"\n")
		assert.Contains(t, got, c.item)
	}
}

// A turn that prints as no degrees is not worth a word.
func TestOffsetOfASlightTurn(t *testing.T) {
	p := newPage(plain(), Options{})
	assert.Equal(t, "in its place", p.offset(clearance.Step{Turn: r3.Vector{Z: 0.008}}))
	assert.Equal(t, "in its place, turned with its right side up by 1\u00a0degree", p.offset(clearance.Step{Turn: r3.Vector{Z: 0.01}}))
}

// What is nothing but rounding prints as none, without an exponent.
func TestStepInJSON(t *testing.T) {
	assert.Equal(t, []number{0, 12.5, 0}, stepJSON(r3.Vector{X: 3e-17, Y: 12.5, Z: -1e-9}, r3.Vector{Y: 1e-18}))
	assert.Equal(t, []number{0, 0, 0, 0, 0, 90}, stepJSON(r3.Vector{}, r3.Vector{X: 1e-17, Z: math.Pi / 2}))
}
