package job

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid"
	"elbowroom/solid/level"
)

// What a coolant swells between where the job does not say, degrees Celsius: from
// a mild day to what a system under a cap of 1 bar runs at when it is worked hard, just
// short of where its densities end. Common practice, no source.
const (
	usualCold     = 20
	usualHot      = 120
	usualHotWater = 100
)

// lean reads how far the machine may lean.
func (r *reader) lean(u section, key string, into *s1.Angle) {
	if u.angle(key, fromZero, into) && *into >= 90*s1.Degree {
		r.complain(u.value[key], u.value[key].text+" lays the machine on its side or farther", "write less than 90deg")
		*into = 0
	}
}

// forward reads which way lies along the machine.
func (r *reader) forward(u section) {
	l := &r.job.Rules.Levels
	if !u.axis("forward", &l.Forward) || l.Forward.Dot(upOf(r.job.Up)) == 0 {
		return
	}
	var others []string
	for _, axis := range []string{"+x", "+y", "+z"} {
		if axis[1] != strings.ToLower(r.job.Up)[1] {
			others = append(others, axis)
		}
	}
	r.complain(u.value["forward"], "it is along "+r.job.Up+", which is up", "write "+strings.Join(others, " or ")+", whichever lies along the machine from stern to bow")
	l.Forward = r3.Vector{}
}

// levels reads what the job says of the liquid, once the contents are known.
func (r *reader) levels(b section) {
	l := &r.job.Rules.Levels
	holds := r.job.Tank.Holds
	n, filled := b.percent("fill", &l.Fill)
	switch {
	case filled && l.Fill == 0:
		r.complain(n, "a fill of 0% is an empty box", "write the cold level, as in 85%, or take it out")
	case filled && (holds == solid.Battery || holds == solid.Electronics):
		r.complain(n, "a box for that has no level", "take fill out, or say what liquid it holds")
	}
	l.Swells = holds == solid.Coolant
	b.volume("system", &l.System)
	r.coolant(b, l.Swells)
	for _, key := range [2]string{"system", "coolant"} {
		if m, there := b.value[key]; there && !l.Swells {
			r.complain(m, "the box is not said to hold coolant", "add holds: coolant, or take "+key+" out")
		}
	}
	liquid := holds != solid.Battery && holds != solid.Electronics
	l.Asked = liquid && filled || l.Swells && r.upGiven
}

// coolant reads what is filled in, and between which temperatures it swells.
func (r *reader) coolant(b section, swells bool) {
	l := &r.job.Rules.Levels
	l.Cold, l.Hot = usualCold, usualHot
	n, ok := b.get("coolant")
	if !ok || !swells {
		return
	}
	u := r.section(n, "glycol", "cold", "hot")
	share := 0.5
	if m, ok := u.percent("glycol", &share); ok && share != 0 && share != 0.5 {
		r.complain(m, "the densities known here are those of water and of 50% ethylene glycol by volume", "write 0% or 50%; of the two, 50% swells more")
		return
	}
	if share == 0 {
		l.Coolant, l.Hot = level.Water, usualHotWater
	}
	u.celsius("cold", &l.Cold)
	u.celsius("hot", &l.Hot)
	from, to := l.Coolant.Known()
	for _, t := range []struct {
		key string
		at  float64
	}{{"cold", l.Cold}, {"hot", l.Hot}} {
		if _, known := l.Coolant.Density(t.at); !known {
			r.complain(u.value[t.key], "no density is known here at "+u.value[t.key].text, fmt.Sprintf("write a temperature from %g C to %g C, where the published densities start and end", math.Ceil(10*from)/10, math.Floor(10*to)/10))
		}
	}
	if l.Cold >= l.Hot {
		r.complain(n, fmt.Sprintf("it is no warmer hot than cold: %.4g C and %.4g C", l.Hot, l.Cold), "let cold be when it is filled, hot when it runs")
	}
}
