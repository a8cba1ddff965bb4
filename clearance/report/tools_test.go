package report

import (
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// arc is a range of clock angles in degrees.
func arc(from, to s1.Angle) clearance.Arc {
	return clearance.Arc{From: from * s1.Degree, To: to * s1.Degree}
}

// tooled has every kind of room that has something to say.
func tooled() *clearance.Report {
	r := plain()
	usual := "30 degrees of swing"
	r.Rooms = []clearance.Room{
		{Part: "fill lift", Kind: solid.CapRoom, Origins: []string{"25 mm for fingers"}},
		{Part: "outlet driver", Kind: solid.Driver, Any: true, Clock: 91 * s1.Degree, Free: []clearance.Arc{arc(30.5, 152)}, Sure: []clearance.Arc{arc(34.1, 149.9), arc(340, 375)}},
		{Part: "outlet spanner", Kind: solid.Spanner, Any: true, Clock: 350 * s1.Degree, Sweep: 30 * s1.Degree, Sure: []clearance.Arc{arc(350, 400)}, Free: []clearance.Arc{arc(345, 405)}, Origins: []string{usual}},
		{Part: "drain spanner", Kind: solid.Spanner, Any: true, Sweep: 60 * s1.Degree, Sure: []clearance.Arc{arc(0, 310)}, Origins: []string{usual}},
		{Part: "drain hand", Kind: solid.BoxRoom, Any: true, Free: []clearance.Arc{arc(10, 20)}, Clock: 15 * s1.Degree},
		{Part: "vent hand", Kind: solid.BoxRoom, Clock: 45 * s1.Degree},
		{Part: "vent driver", Kind: solid.Driver, Clock: 270 * s1.Degree},
		{Part: "vent spanner", Kind: solid.Spanner, Clock: 0, Sweep: 45 * s1.Degree},
		{Part: "a driver", Kind: solid.Driver, Any: true, Clock: 200 * s1.Degree},
		{Part: "b driver", Kind: solid.Driver, Any: true, Clock: 200 * s1.Degree, Nowhere: true},
		{Part: "c driver", Kind: solid.Driver, Any: true, Sure: []clearance.Arc{arc(0, 360)}},
	}
	return r
}

// watered has levels that hold.
func watered() *clearance.Report {
	r := plain()
	r.Levels = clearance.Levels{
		Asked: true, Litres: 2.3456, Cold: 0.85, Pitch: 10 * s1.Degree, Roll: 15 * s1.Degree, PitchTo: solid.Front, RollTo: solid.Right,
		Fill: clearance.FillLevel{Fitting: "fill", Highest: true, Leaned: 0.0312, AirOn: solid.Left, AirAt: r3.Vector{X: 1}, Spare: in(0.7), U: in(0.03), Sure: 1, Verdict: clearance.Clears,
			ToPitch: clearance.Leaning{Side: solid.Front, Angle: 10 * s1.Degree}, ToRoll: clearance.Leaning{Side: solid.Right, Angle: 15 * s1.Degree}},
		Outlet: clearance.OutletLevel{Fitting: "outlet", Over: in(0.6), Left: 0.12, LeftLeaned: 0.31, Depth: in(2), Least: in(0.81), U: in(0.04), Checked: true, Sure: 1, Verdict: clearance.Clears,
			ToPitch: clearance.Leaning{Side: solid.Back, Angle: 0.01 * s1.Degree}, ToRoll: clearance.Leaning{Side: solid.Left, Angle: 15 * s1.Degree},
			Uncovers: []clearance.Leaning{{Side: solid.Left, Angle: 31.9 * s1.Degree}, {Side: solid.Right, Angle: -1}, {Side: solid.Back, Angle: 80 * s1.Degree}, {Side: solid.Front, Angle: -1}}},
		Head: clearance.HeadRoom{Known: true, Share: 0.15, Litres: 0.3518, Expansion: 0.0674, Cold: 20, Hot: 120, Source: "a table", Takes: 5.2196, TakesOwn: 2.6},
	}
	return r
}

// flooded has levels that do not.
func flooded() *clearance.Report {
	r := watered()
	r.Verdict = clearance.Tight
	l := &r.Levels
	l.Fill.Highest, l.Fill.Over, l.Fill.Air, l.Fill.Spare, l.Fill.Verdict, l.Fill.Vents = false, in(0.9), 0.21, -in(0.3), clearance.Tight, []string{"vent"}
	l.Outlet.Least, l.Outlet.Verdict = -in(0.2), clearance.Tight
	l.Head.System, l.Head.Asked, l.Head.Verdict, l.Head.Because = 5.3, true, clearance.Unproven, clearance.Near
	return r
}

// puzzled does not know what it is filled through, nor how high.
func puzzled() *clearance.Report {
	r := plain()
	r.Verdict, r.Because = clearance.Unproven, []clearance.Because{clearance.NotChecked}
	r.Levels = clearance.Levels{Asked: true, Fill: clearance.FillLevel{Because: clearance.NotChecked},
		Outlet: clearance.OutletLevel{Fitting: "drain", Lowest: true}}
	return r
}

func toolSituations() []situation {
	return []situation{
		{name: "tools", report: tooled(), o: Options{}},
		{name: "levels", report: watered(), o: Options{}},
		{name: "levels-short", report: flooded(), o: Options{Up: "+z"}},
		{name: "levels-unknown", report: puzzled(), o: Options{}},
	}
}

func TestToolsAndLevelsText(t *testing.T) {
	for _, s := range toolSituations() {
		t.Run(s.name, func(t *testing.T) {
			got := text(t, s)
			first, _, _ := strings.Cut(got, "\n\n")
			assert.LessOrEqual(t, len(strings.Split(first, "\n")), screenLines)
			for _, columns := range []int{60, 80} {
				s.o.Width = columns
				for _, line := range strings.Split(text(t, s), "\n") {
					assert.LessOrEqual(t, width(line), columns, line)
				}
			}
			golden(t, s.name+".txt", got)
		})
	}
}

func TestToolsAndLevelsJSON(t *testing.T) {
	assert.Equal(t, decoded{}, decode(t, plain())["levels"])
	assert.NotContains(t, decode(t, plain()), "rooms")
	r := flooded()
	r.Rooms = tooled().Rooms
	golden(t, "tools.json", jsonText(t, r))
	d := decode(t, r)
	require.Len(t, d["rooms"], len(r.Rooms))
	levels := d["levels"].(decoded)
	assert.Equal(t, -in(0.2), levels["outlet"].(decoded)["under_cold_level_leaned_at_least_mm"])
	assert.Equal(t, "near", levels["head_room"].(decoded)["because"])
	assert.Nil(t, decode(t, puzzled())["levels"].(decoded)["fill"].(decoded)["fitting"])
	assert.Nil(t, decode(t, puzzled())["levels"].(decoded)["head_room"])
}

// A range is said no wider than it is: what starts rounds up, what ends down.
func TestHand(t *testing.T) {
	for _, c := range []struct {
		at   s1.Angle
		how  int
		want string
	}{
		{0, 1, "12:00"}, {360, 1, "12:00"}, {90, 1, "3:00"}, {45, 1, "1:30"}, {-30, 1, "11:00"}, {719, 1, "12:00"},
		{34.1, 2, "1:10"}, {35, 2, "1:10"}, {35.1, 2, "1:15"}, {35.1, 0, "1:10"}, {37.4, 0, "1:10"}, {36.4, 1, "1:15"},
	} {
		assert.Equal(t, c.want, hand(c.at*s1.Degree, c.how), "%v", c.at)
	}
}
