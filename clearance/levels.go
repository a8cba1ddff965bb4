package clearance

import (
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid"
	"elbowroom/solid/level"
)

// LevelRules is what the job says of the liquid. The zero LevelRules asks nothing.
type LevelRules struct {
	Asked bool
	// Up is where up is when the machine stands level, mounting frame [+y].
	Up r3.Vector
	// Forward is the direction along the machine, from stern to bow or the other way, an
	// axis of the mounting frame square to Up [z; where z is up, y].
	Forward r3.Vector
	// Pitch and Roll are how far the machine may lean either way: pitch along Forward,
	// roll across it.
	Pitch, Roll s1.Angle
	Fill        float64 // the cold level, share of what the box holds; 0: not given
	System      float64 // all the coolant there is, litres; 0: not given
	Coolant     level.Coolant
	Cold, Hot   float64 // degrees Celsius, between which it swells
	Swells      bool    // the box holds coolant, so that the three above mean something
}

// Levels is how the liquid stands in the box: by its geometry as drawn, with the
// tolerance of its making, at rest. Shares are of what the box holds to its brim.
type Levels struct {
	Asked  bool
	Litres float64 // what the box holds, its corners taken as sharp; 0: no sheet given
	Cold   float64 // the cold level, share; 0: not given
	Pitch  s1.Angle
	Roll   s1.Angle
	// PitchTo and RollTo are the sides toward which, and away from which, they lean it.
	PitchTo, RollTo solid.Side
	Fill            FillLevel
	Outlet          OutletLevel
	Head            HeadRoom
}

// FillLevel is how far the box can be filled through its neck. Air stays over the
// highest point of the neck's rim inside.
type FillLevel struct {
	Fitting string   // blank: none is known
	Vents   []string // that let air out too
	// Over is how far the inside rises over that rim with the machine level, mm,
	// and Highest says that this is no more than the box is made true to.
	Over    float64
	Highest bool
	Air     float64    // share that stays as air, level
	AirAt   r3.Vector  // its middle, mounting frame; see AirOn
	AirOn   solid.Side // the side that the air is nearest to, of those that are not up or down
	// Leaned is the most air that stays with the machine leaned as far as it may
	// in any way, a bound; ToPitch and ToRoll are where it was found.
	Leaned          float64
	ToPitch, ToRoll Leaning
	// Spare is how far the rim is over the cold level, mm, and U its standard uncertainty.
	Spare, U float64
	Sure     float64
	Verdict  Verdict
	Because  Because
	figure   figure
}

// Leaning is a lean toward a side.
type Leaning struct {
	Side  solid.Side
	Angle s1.Angle
}

// OutletLevel is how the outlet stands under the liquid.
type OutletLevel struct {
	Fitting string // blank: none is known
	Lowest  bool   // it lets off all but what the box is made true to
	Over    float64
	Left    float64 // share that stays when it drains, level
	// LeftLeaned is the most that stays with the machine leaned as far as it may, a bound.
	LeftLeaned float64
	// Depth is how far its highest point is under the cold level with the machine
	// level, mm, and Least the least of it over all leans that the machine may take, a bound.
	Depth, Least    float64
	ToPitch, ToRoll Leaning
	U               float64
	// Uncovers lists at which lean toward each side its rim comes out of the
	// cold liquid; an angle below 0 is never, up to a right angle.
	Uncovers []Leaning
	Checked  bool // a cold level is given
	Sure     float64
	Verdict  Verdict
	Because  Because
	figure   figure
}

// HeadRoom is the room for coolant that swells.
type HeadRoom struct {
	Known     bool // a cold level is given, and what swells
	Share     float64
	Litres    float64 // 0: no sheet given
	Expansion float64 // share of the cold volume
	Cold, Hot float64
	Source    string
	Takes     float64 // the most coolant in all whose swelling it takes, litres; 0: no sheet given
	TakesOwn  float64 // the same as a multiple of what the box itself holds cold
	System    float64 // 0: not given
	Asked     bool    // it has a verdict: the system is given, or the box's own coolant is too much
	Sure      float64
	Verdict   Verdict
	Because   Because
	figure    figure
}

const mm3InLitre = 1e6

// Each calls do with the verdicts that there are.
func (l *Levels) Each(do func(Verdict, Because)) {
	if !l.Asked {
		return
	}
	do(l.Fill.Verdict, l.Fill.Because)
	if l.Outlet.Checked {
		do(l.Outlet.Verdict, l.Outlet.Because)
	}
	if l.Head.Asked {
		do(l.Head.Verdict, l.Head.Because)
	}
}

// joined are the figures that count for the joint probability, each with the
// chance that it is over 0.
func (l *Levels) joined() (sures []float64, trials []trial) {
	add := func(ok bool, sure float64, f figure) {
		if ok {
			sures = append(sures, sure)
			trials = append(trials, trial{figures: []figure{f}})
		}
	}
	add(l.Asked && l.Fill.Fitting != "" && l.Cold > 0, l.Fill.Sure, l.Fill.figure)
	add(l.Asked && l.Outlet.Checked, l.Outlet.Sure, l.Outlet.figure)
	add(l.Asked && l.Head.Asked, l.Head.Sure, l.Head.figure)
	return sures, trials
}
