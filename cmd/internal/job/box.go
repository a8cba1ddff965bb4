package job

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"elbowroom/solid"
	"elbowroom/survey/table"
)

// box reads the box.
func (r *reader) box(s section) {
	t := &r.job.Tank
	t.Within = defaultWithin
	t.Place.Within = defaultWithin
	n, ok := s.get("box")
	if !ok {
		return
	}
	b := r.section(n, "width", "height", "depth", "at", "stand_off", "turn", "within", "placed_within", "sheet", "inside_radius",
		"alloy", "coat", "construction", "bend", "brake", "stock", "cap_pressure", "holds", "fill", "system", "coolant")
	b.need(
		[2]string{"width", "8 1/2, its outside size along x, after bending"},
		[2]string{"height", "5, its outside size along y, after bending"},
		[2]string{"depth", "3 3/4, its outside size along z, after bending"},
		[2]string{"at", "[2, 1 1/4], its lower left corner on the face, right and up from the datum"},
	)
	b.length("width", overZero, &t.Size.Width)
	b.length("height", overZero, &t.Size.Height)
	b.length("depth", overZero, &t.Size.Depth)
	if at, ok := b.get("at"); ok {
		if v, ok := r.lengths(at, unlimited, "right", "up"); ok {
			t.Place.At = r2.Point{X: v[0], Y: v[1]}
		}
	}
	b.length("stand_off", fromZero, &t.Place.StandOff)
	b.angle("turn", unlimited, &t.Place.Turn)
	b.length("within", fromZero, &t.Within)
	t.Place.Within = t.Within
	b.length("placed_within", fromZero, &t.Place.Within)
	r.metal(b)
	r.contents(b)
}

// metal reads what the box is made of and how.
func (r *reader) metal(b section) {
	t, later := &r.job.Tank, &r.job.Later
	sheet := b.length("sheet", overZero, &t.Sheet)
	radius := b.length("inside_radius", fromZero, &t.InsideRadius)
	if _, there := b.value["inside_radius"]; sheet && !radius && !there {
		r.complain(b.value["sheet"], "a sheet is given, but not the inside radius of its bends", "add inside_radius: 1/8, or 0 if it is folded sharp")
	}
	b.text("alloy", &t.Alloy)
	b.length("coat", fromZero, &t.Coat)
	if _, i, ok := b.choice("construction", "two-channels", "wrap-and-ends", "pan-and-lid"); ok {
		t.Construction = [...]solid.Construction{solid.TwoChannels, solid.WrapAndEnds, solid.PanAndLid}[i]
	}
	r.bend(b)
	if n, ok := b.get("brake"); ok {
		k := r.section(n, "length", "least_leg", "throat")
		k.length("length", overZero, &later.Brake.Length)
		k.length("least_leg", overZero, &later.Brake.LeastLeg)
		k.length("throat", overZero, &later.Brake.Throat)
	}
	for _, n := range b.names("stock") {
		if size, ok := r.sheetSize(n); ok {
			later.Stock = append(later.Stock, size)
		}
	}
	r.job.Rules.Triggers.Sheet = t.Sheet > 0
}

// sheetSize reads a size such as 12x9 1/2.
func (r *reader) sheetSize(n node) (size [2]float64, ok bool) {
	sides := strings.FieldsFunc(n.text, func(c rune) bool { return strings.ContainsRune("xX×", c) })
	if len(sides) != 2 {
		r.complain(n, table.Quote(n.text)+" is not the size of a sheet", "write it as 12x24")
		return size, false
	}
	ok = true
	for i, text := range sides {
		one := node{kind: scalar, text: strings.TrimSpace(text), pos: n.pos, path: n.path}
		v, fine := r.length(one, overZero)
		size[i], ok = v, ok && fine
	}
	return size, ok
}

// bend reads the rule by which bends are reckoned.
func (r *reader) bend(b section) {
	n, ok := b.get("bend")
	if !ok {
		return
	}
	bend := &r.job.Later.Bend
	s := r.section(n, "rule", "k", "test")
	if len(s.value) > 1 {
		r.complain(n, "more than one way to reckon the bends", "give one of rule, k and test")
	}
	rules := []string{"soft", "half-hard", "hard", "din-6935", "aviation"}
	if _, i, ok := s.choice("rule", rules...); ok {
		bend.Rule = rules[i]
	}
	if k, ok := s.get("k"); ok {
		r.kFactor(k, &bend.K)
	}
	if test, ok := s.get("test"); ok {
		u := r.section(test, "flat", "legs")
		u.need([2]string{"flat", "the test piece's length before bending"}, [2]string{"legs", "[2 1/16, 2 1/16], its outside legs after"})
		u.length("flat", overZero, &bend.Flat)
		if legs, ok := u.get("legs"); ok {
			if v, ok := r.lengths(legs, overZero, "one leg", "the other"); ok {
				bend.Legs = [2]float64{v[0], v[1]}
			}
		}
	}
}

// kFactor reads the neutral axis' depth as a share of the sheet. It lies between
// the inner skin and the middle of the sheet.
func (r *reader) kFactor(n node, into *float64) {
	v, err := strconv.ParseFloat(n.text, 64)
	if err != nil || math.IsNaN(v) || v <= 0 || v > 0.5 {
		r.complain(n, table.Quote(n.text)+" is not a k factor", "write a number greater than 0 and up to 0.5, as in 0.44")
		return
	}
	*into = v
}

// isFuel says whether a text names a fuel.
func isFuel(text string) bool {
	text = strings.ToLower(text)
	for _, fuel := range []string{"fuel", "petrol", "gasoline", "diesel", "kerosene", "paraffin", "avgas"} {
		if strings.Contains(text, fuel) {
			return true
		}
	}
	return false
}

// contents reads what the box holds.
func (r *reader) contents(b section) {
	t, rules := &r.job.Tank, &r.job.Rules
	b.pressure("cap_pressure", &rules.Triggers.CapPressure)
	if n := b.value["holds"]; n.kind == scalar && isFuel(n.text) {
		r.complain(n, "a fuel tank is refused: it is licensed work under rules of its own, and a box that fits may still leak, vent badly or burn", "have it made by a licensed shop")
	} else if _, i, ok := b.choice("holds", "coolant", "oil vapour", "battery", "electronics"); ok {
		t.Holds = [...]solid.Contents{solid.Coolant, solid.OilVapour, solid.Battery, solid.Electronics}[i]
	}
	rules.Triggers.Holds = t.Holds
	r.levels(b)
}

// brackets reads the boxes that are fixed to the body.
func (r *reader) brackets(s section) {
	s.each("brackets", func(n node) {
		b := solid.Bracket{}
		u := r.section(n, "name", "x", "y", "z")
		u.need([2]string{"name", "left tab"}, [2]string{"x", "[-3/4, 0]"}, [2]string{"y", "[1, 2]"}, [2]string{"z", "[0, 1/8]"})
		u.text("name", &b.Name)
		for _, axis := range []struct {
			key    string
			lo, hi *float64
		}{{"x", &b.Min.X, &b.Max.X}, {"y", &b.Min.Y, &b.Max.Y}, {"z", &b.Min.Z, &b.Max.Z}} {
			if m, ok := u.get(axis.key); ok {
				*axis.lo, *axis.hi, _ = r.span(m)
			}
		}
		r.job.Tank.Brackets = append(r.job.Tank.Brackets, b)
	})
}
